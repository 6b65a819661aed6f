// Package finding holds what the engine has to tell a person about a job: a
// thing that cannot fit, a thing that should be looked at, a thing to know.
// A finding has a permanent code, the place it speaks of, and the choices a
// person has; nothing is ever clamped in silence instead.
package finding

import (
	"sort"

	"stallwright/engine/phrase"
)

// Severity says how far a finding stands in the way.
type Severity uint8

// The severities, mildest first.
const (
	Note    Severity = iota // to know
	Warning                 // look at it before cutting or ordering
	Error                   // cannot be built as described
)

// String is the severity's word.
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	}
	return "note"
}

// Finding is one thing found.
type Finding struct {
	Code     Code     // permanent code
	Severity Severity // how far it stands in the way
	Place    string   // bay, post, room or structure by name
	Message  string   // what is so, with its numbers
	// Say is what is so for a crew in any language, with its numbers; empty where
	// its code says it all.
	Say     phrase.Phrase
	Choices []phrase.Phrase // what would be right, each a way out
	Source  string          // the rule's source, where it has one
}

// Sort orders findings for people: errors first, then by place as found.
func Sort(fs []Finding) {
	sort.SliceStable(fs, func(i, j int) bool { return fs[i].Severity > fs[j].Severity })
}

// Worst is the highest severity among fs; Note for none.
func Worst(fs []Finding) Severity {
	w := Note
	for _, f := range fs {
		if f.Severity > w {
			w = f.Severity
		}
	}
	return w
}
