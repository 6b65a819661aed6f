// Package reason holds the derivation behind every number a person acts on:
// what was worked out, from which inputs, by which rule, and where each input
// was stated or who measured it. A Reason is a node; From are the nodes it was
// worked out from. Reasons are shared (all courses of a bay may point at one),
// never changed after they are made, and form no cycle.
package reason

import (
	"strings"
)

// Reason is one step of a derivation.
type Reason struct {
	What   string    // what the number is: "board length"
	Value  string    // the number as a person reads it: `11' 7 3/8"`
	Rule   string    // how it follows: "clear width − end play, down to 1/16 in"
	Source string    // where the rule or the input stands: "kit fernhollow, board.end_play (line 12)"
	From   []*Reason // what it was worked out from
}

// Given is an input somebody stated: no rule, only a source.
func Given(what, value, source string) *Reason {
	return &Reason{What: what, Value: value, Source: source}
}

// Of is a number worked out by a rule from others.
func Of(what, value, rule, source string, from ...*Reason) *Reason {
	return &Reason{What: what, Value: value, Rule: rule, Source: source, From: from}
}

// String is the step on one line, without what it came from.
func (r *Reason) String() string {
	var b strings.Builder
	b.WriteString(r.What)
	if r.Value != "" {
		b.WriteString(" = ")
		b.WriteString(r.Value)
	}
	if r.Rule != "" {
		b.WriteString("  ← ")
		b.WriteString(r.Rule)
	}
	if r.Source != "" {
		b.WriteString("  [")
		b.WriteString(r.Source)
		b.WriteString("]")
	}
	return b.String()
}

// Chain is the whole derivation, one step a line, inputs indented below what
// they led to. A step met a second time is named but not unfolded again.
func (r *Reason) Chain() []string {
	var lines []string
	seen := map[*Reason]bool{}
	var walk func(r *Reason, depth int)
	walk = func(r *Reason, depth int) {
		indent := strings.Repeat("   ", depth)
		if seen[r] && len(r.From) > 0 {
			lines = append(lines, indent+r.What+" = "+r.Value+"  (as above)")
			return
		}
		seen[r] = true
		lines = append(lines, indent+r.String())
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
