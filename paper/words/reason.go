package words

import (
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// Reason is one step of a derivation on one line, without what it came from.
func (w *Words) Reason(r *reason.Reason) string {
	line := w.named(r)
	if rule := w.Say(r.Rule); rule != "" {
		line += "  ← " + rule
	}
	if source := w.Say(r.Source); source != "" {
		line += "  [" + source + "]"
	}
	return line
}

// named is what a number is, and the number.
func (w *Words) named(r *reason.Reason) string {
	line := w.Say(r.What)
	if value := w.Amount(r.Value); value != "" {
		line += " = " + value
	}
	return line
}

// Amount is the number of a reason; empty for none.
func (w *Words) Amount(v phrase.Value) string {
	if v == nil {
		return ""
	}
	return w.Value(v)
}

// Chain is a whole derivation, one step a line, inputs indented below what they led
// to.
func (w *Words) Chain(r *reason.Reason) []string {
	var out []string
	for _, l := range r.Chain() {
		indent := strings.Repeat("   ", l.Depth)
		if l.Again {
			out = append(out, indent+w.named(l.Step)+"  ("+w.Text("source.as-above")+")")
			continue
		}
		out = append(out, indent+w.Reason(l.Step))
	}
	return out
}

// Choices are the ways out of a finding.
func (w *Words) Choices(f *finding.Finding) []string {
	var out []string
	for _, c := range f.Choices {
		out = append(out, w.Say(c))
	}
	return out
}
