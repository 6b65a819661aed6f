package making

import (
	"fmt"

	"stallwright/app/shop"
	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/yard"
)

// Shelf finds the text of a file of the shop by its name; ok is false where there is
// none.
type Shelf func(kind shop.Kind, name string) (text string, ok bool, err error)

// File is a file of the shop that a job uses.
type File struct {
	Kind shop.Kind
	Name string
	Text string
}

// take finds a file that a job names. The error is document.Problems, at its place
// in the job, where there is none.
func (f Shelf) take(j *job.Job, kind shop.Kind, named string, at document.Pos, key, hint string) (*File, error) {
	name := shop.Name(named)
	text, ok, err := f(kind, name)
	if err != nil {
		return nil, err
	}
	if !ok {
		r := j.Reporter()
		r.Add(at, key, named, fmt.Sprintf("the shop's %s hold no %q", kind, name), hint)
		return nil, r.Err()
	}
	return &File{kind, name, text}, nil
}

// supply gives the job the boards of its yard, where it names one.
func (s *Source) supply(shelf Shelf) error {
	j := s.job
	if j.Lumber.Yard == "" {
		return nil
	}
	f, err := shelf.take(j, shop.Yards, j.Lumber.Yard, j.Lumber.Of("yard"), "lumber.yard", "keep the yard's list in the shop first, or state lumber.lengths")
	if err != nil {
		return err
	}
	y, err := yard.Read(f.Name, []byte(f.Text))
	if err != nil {
		return err
	}
	s.Yard = f
	s.job, err = yard.Supply(j, y)
	return err
}

// PriceBook finds the price book of a job: the one named, or the job's own where the
// name is blank; nil for none.
func (s *Source) PriceBook(name string, shelf Shelf) (*File, error) {
	j := s.job
	named, at := name, j.Of("prices")
	if named == "" {
		named = j.Prices
	}
	if named == "" {
		return nil, nil
	}
	return shelf.take(j, shop.Prices, named, at, "prices", "keep the price book in the shop first")
}

// Names are the files of the shop that a job names; blank where it names none.
type Names struct{ Kit, Yard, Prices string }

// Named reads which files of the shop a job names. The error is document.Problems.
func Named(text string) (Names, error) {
	j, err := job.Read(JobFile, []byte(text))
	if err != nil {
		return Names{}, err
	}
	var n Names
	if _, _, shipped := kit.Shipped(j.Kit); !shipped {
		n.Kit = shop.Name(j.Kit)
	}
	if j.Lumber.Yard != "" {
		n.Yard = shop.Name(j.Lumber.Yard)
	}
	if j.Prices != "" {
		n.Prices = shop.Name(j.Prices)
	}
	return n, nil
}
