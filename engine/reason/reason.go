// Package reason holds the derivation behind every number a person acts on:
// what was worked out, from which inputs, by which rule, and where each input
// was stated or who measured it. A Reason is a node; From are the nodes it was
// worked out from. Reasons are shared (all courses of a bay may point at one),
// never changed after they are made, and form no cycle.
//
// A reason is in no language: package words on paper says it, one step a line.
package reason

import (
	"fmt"

	"stallwright/engine/phrase"
)

// Reason is one step of a derivation. A phrase that says nothing, and a nil value,
// are left out.
type Reason struct {
	What   phrase.Phrase // what the number is: "board length"
	Value  phrase.Value  // the number
	Rule   phrase.Phrase // how it follows: "clear width − end play, down to 1/16 in"
	Source phrase.Phrase // where the rule or the input stands: "kit fernhollow, board.end_play (line 12)"
	From   []*Reason     // what it was worked out from
}

// Given is an input somebody stated: no rule, only a source.
func Given(what phrase.Phrase, value phrase.Value, source phrase.Phrase) *Reason {
	return &Reason{What: what, Value: value, Source: source}
}

// Of is a number worked out by a rule from others.
func Of(what phrase.Phrase, value phrase.Value, rule, source phrase.Phrase, from ...*Reason) *Reason {
	return &Reason{What: what, Value: value, Rule: rule, Source: source, From: from}
}

// Line is a step of a derivation, how deep it stands below what it led to, and
// whether it stood there before with all it came from.
type Line struct {
	Step  *Reason
	Depth int
	Again bool
}

// Chain is the whole derivation, one step a line, inputs below what they led to. A
// step met a second time is named but not unfolded again.
func (r *Reason) Chain() []Line {
	var lines []Line
	seen := map[*Reason]bool{}
	var walk func(r *Reason, depth int)
	walk = func(r *Reason, depth int) {
		again := seen[r] && len(r.From) > 0
		lines = append(lines, Line{r, depth, again})
		if again {
			return
		}
		seen[r] = true
		for _, f := range r.From {
			if f != nil {
				walk(f, depth+1)
			}
		}
	}
	if r != nil {
		walk(r, 0)
	}
	return lines
}

// String is the step in no language, for logs and tests.
func (r *Reason) String() string {
	return fmt.Sprintf("%v = %v <- %v [%v]", r.What, phrase.Plain(r.Value), r.Rule, r.Source)
}

// Trace is the whole derivation in no language, one step a line.
func (r *Reason) Trace() string {
	out := ""
	for _, l := range r.Chain() {
		out += fmt.Sprintf("%*s%v\n", 3*l.Depth, "", l.Step)
	}
	return out
}
