// Package shop knows the kinds of files that an office keeps for its jobs: kits,
// price books, lumber yards' lists. They are the files that the command line reads,
// byte for byte; a text goes on the shelf only as the command line would take it.
package shop

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"stallwright/app/cutfile"
	"stallwright/engine/document"
	"stallwright/engine/kit"
	"stallwright/engine/price"
	"stallwright/engine/yard"
)

// Kind is a kind of file.
type Kind string

// The kinds, by the name in the API's addresses.
const (
	Kits   Kind = "kits"
	Prices Kind = "prices" // they hold what things cost the shop: for the office only
	Yards  Kind = "yards"
)

// Kinds lists the kinds.
func Kinds() []Kind { return []Kind{Kits, Prices, Yards} }

// Endings are those that a file of the kind may have.
func (k Kind) Endings() []string {
	if k == Yards {
		return []string{".yaml", ".csv"}
	}
	return []string{".yaml"}
}

// Media is the type of a file by its name.
func Media(name string) string {
	if path.Ext(name) == ".csv" {
		return "text/csv; charset=utf-8"
	}
	return "application/yaml"
}

// NameError says that a file of a kind cannot be called so.
type NameError struct{ Kind Kind }

func (e *NameError) Error() string {
	return fmt.Sprintf("a file of the %s ends in %s", e.Kind, strings.Join(e.Kind.Endings(), " or "))
}

// Check reads a text as the command line does, and gives what it calls itself. The
// error is document.Problems, or a NameError.
func Check(k Kind, name, text string) (title string, err error) {
	if !slices.Contains(k.Endings(), path.Ext(name)) {
		return "", &NameError{k}
	}
	switch k {
	case Kits:
		v, err := kit.Read(name, []byte(text))
		if err != nil {
			return "", err
		}
		return v.Title, nil
	case Prices:
		v, err := price.Read(name, []byte(text))
		if err != nil {
			return "", err
		}
		return v.Prices, nil
	}
	if path.Ext(name) == ".csv" { // what stallwright cut --stock reads
		return strings.TrimSuffix(name, ".csv"), stock(name, text)
	}
	v, err := yard.Read(name, []byte(text))
	if err != nil {
		return "", err
	}
	return v.Yard, nil
}

// stock checks a stock list.
func stock(name, text string) error {
	var ps document.Problems
	for _, f := range cutfile.CheckStock(name, strings.NewReader(text)) {
		ps = append(ps, document.Problem{Pos: document.Pos{File: f.File, Line: f.Line, Column: f.Column}, Message: f.Text})
	}
	if len(ps) > 0 {
		return ps
	}
	return nil
}

// Name is the shelf's name of a file that a job names by a path.
func Name(inJob string) string { return path.Base(strings.ReplaceAll(inJob, `\`, "/")) }
