package making

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"slices"
	"strings"

	"stallwright/app/record"
	"stallwright/app/shop"
	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
)

// JobFile is what positions in a job's text are called after, and its name in a
// bundle.
const JobFile = "job.yaml"

// Source is everything that a plan depends on.
type Source struct {
	Job      string // the text
	KitFile  string // what positions in the kit are called after
	Kit      string // the text
	Own      bool   // the kit is the shop's, not a shipped one
	Yard     *File  // the shop's yard that sells the boards; nil where the job states them
	Notebook []job.Entry
	Cuts     []record.Record // what was cut so far

	job *job.Job
}

// Read reads a job's text and finds its kit and its yard. The error is
// document.Problems where the text is at fault, or the shop has no such file.
func Read(text string, records []record.Record, shelf Shelf) (*Source, error) {
	j, err := job.Read(JobFile, []byte(text))
	if err != nil {
		return nil, err
	}
	s := &Source{Job: text, job: j, Notebook: record.Entries(records)}
	s.Notebook, _ = ordered(s.Notebook)
	for _, r := range record.InOrder(records) {
		if r.Kind == record.Cut {
			s.Cuts = append(s.Cuts, r)
		}
	}
	if err := s.supply(shelf); err != nil {
		return nil, err
	}
	if file, src, ok := kit.Shipped(j.Kit); ok {
		s.KitFile, s.Kit = file, string(src)
		return s, nil
	}
	name := shop.Name(j.Kit)
	src, ok, err := shelf(shop.Kits, name)
	if err != nil {
		return nil, err
	}
	if !ok {
		r := j.Reporter()
		r.Add(j.Of("kit"), "kit", j.Kit, fmt.Sprintf("neither a shipped kit nor one of the shop is called %q", name), hintFor(j.Kit))
		return nil, r.Err()
	}
	s.KitFile, s.Kit, s.Own = name, src, true
	return s, nil
}

// ordered keeps both of two entries that share an id, so that the plan tells of
// them.
func ordered(entries []job.Entry) ([]job.Entry, error) {
	type keyed struct {
		e    job.Entry
		line string
	}
	var all []keyed
	for _, e := range entries {
		line, err := e.Line()
		if err != nil {
			return nil, err
		}
		all = append(all, keyed{e, string(line)})
	}
	slices.SortFunc(all, func(a, b keyed) int { return strings.Compare(a.line, b.line) })
	out := make([]job.Entry, 0, len(all))
	for _, k := range all {
		out = append(out, k.e)
	}
	return out, nil
}

func hintFor(name string) string {
	shipped := kit.ShippedNames()
	hint := "shipped: " + strings.Join(shipped, ", ") + "; or keep the kit's file in the shop first"
	if near, ok := document.Nearest(name, shipped); ok {
		hint = "did you mean " + near + "? " + hint
	}
	return hint
}

// Key names the content: sources that are alike have the same.
func (s *Source) Key() string {
	h := sha256.New()
	part(h, s.Job)
	part(h, s.KitFile)
	part(h, s.Kit)
	if s.Yard != nil {
		part(h, s.Yard.Text)
	} else {
		part(h, "")
	}
	for i := range s.Notebook {
		line, err := s.Notebook[i].Line()
		if err != nil {
			continue // cannot be: it was read from a line
		}
		part(h, string(line))
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// part writes a text with its length before it, so that no two lists of texts are
// alike.
func part(h hash.Hash, s string) {
	fmt.Fprintf(h, "%d:", len(s))
	_, _ = io.WriteString(h, s) // never fails: package hash
}

// Title is what a job's text says of itself.
func (s *Source) Title() (title, farm string) { return s.job.Job, s.job.Farm.Name }

// Check reads a job's text as far as it can be read without its kit.
func Check(text string) (title, farm string, err error) {
	j, err := job.Read(JobFile, []byte(text))
	if err != nil {
		return "", "", err
	}
	return j.Job, j.Farm.Name, nil
}

// ProblemsOf is what an error tells a person to mend; false where it is a fault of
// ours.
func ProblemsOf(err error) (document.Problems, bool) {
	var ps document.Problems
	ok := errors.As(err, &ps)
	return ps, ok
}
