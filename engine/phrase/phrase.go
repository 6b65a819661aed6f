// Package phrase is text that is in no language yet: the key of an entry in the
// message catalogues, and the values that stand in it. The engine says what is to
// be told; package words on paper says it in a crew's language, with lengths as
// their tape shows them.
package phrase

import (
	"fmt"
	"strings"

	"stallwright/engine/measure"
)

// Phrase is one message. The zero Phrase says nothing.
type Phrase struct {
	Key  string // of the catalogues, such as "build.bolt-corner"
	Args []Arg
}

// Arg is a value under the name that catalogues know it by. A count named "n"
// chooses between singular and plural.
type Arg struct {
	Name  string
	Value Value
}

// Value is what can stand in a message: a Name, Formula, Count, Length, Mass, Angle,
// Time, Phrase or List.
type Value interface{ value() }

type (
	// Name is a label, an item or whatever else is never translated.
	Name string
	// Formula is a kit's rule as its file writes it; a language may have words for
	// the names in it.
	Formula string
	// Count is a number of things.
	Count int64
	// Length is shown as the job's tape shows it, to the mark.
	Length measure.Length
	// Mass is shown in the job's units.
	Mass measure.Mass
	// Angle is shown in degrees and tenths.
	Angle measure.Angle
	// Time is a span in minutes.
	Time int64
	// List is phrases one after the other, as a language lists things.
	List []Phrase
)

func (Name) value()    {}
func (Formula) value() {}
func (Count) value()   {}
func (Length) value()  {}
func (Mass) value()    {}
func (Angle) value()   {}
func (Time) value()    {}
func (Phrase) value()  {}
func (List) value()    {}

// Of makes a phrase.
func Of(key string, args ...Arg) Phrase { return Phrase{key, args} }

// With makes an argument.
func With(name string, v Value) Arg { return Arg{name, v} }

// Empty reports whether the phrase says nothing.
func (p Phrase) Empty() bool { return p.Key == "" }

// String is the phrase in no language, for logs and tests: its key and its values,
// as "why.rod post=A.a1 set-up=1".
func (p Phrase) String() string {
	out := p.Key
	for _, a := range p.Args {
		out += " " + a.Name + "=" + Plain(a.Value)
	}
	return out
}

// Plain is a value in no language, for logs and tests.
func Plain(v Value) string {
	switch v := v.(type) {
	case nil:
		return ""
	case Length:
		return measure.Length(v).String()
	case Mass:
		return measure.Mass(v).String()
	case Phrase:
		return "(" + v.String() + ")"
	case List:
		var items []string
		for _, p := range v {
			items = append(items, p.String())
		}
		return "(" + strings.Join(items, ", ") + ")"
	}
	return fmt.Sprint(v)
}
