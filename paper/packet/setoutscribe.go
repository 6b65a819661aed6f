package packet

import (
	"strings"

	"stallwright/engine/plan"
	"stallwright/paper/words"
)

// Scribe takes the setting out part by part, for pages that set it in type.
type Scribe interface {
	Title(text string)                            // of a structure
	Head(text string)                             // of what follows within it
	Para(text string)                             // a paragraph
	Step(no int, name string, sentences []string) // a numbered step
	Table(rows [][]string)                        // whose first row may be heads
}

// SetoutTo hands a scribe what Setout writes as text, structure by structure.
func SetoutTo(p *plan.Plan, w *words.Words, to Scribe) {
	f := &groundSheet{fieldText{w: w, tape: fieldTape(p.Job.Units), to: to}, p}
	for i := range p.Setout.Structures {
		f.structure(&p.Setout.Structures[i])
	}
}

// toHead hands a line on; an empty one only parts.
func (f *fieldText) toHead(text string) {
	if text = strings.TrimSpace(text); text != "" {
		f.to.Head(text)
	}
}
