package words

import (
	"strings"

	"stallwright/engine/phrase"
	"stallwright/engine/plan"
)

// nameWords are the English words that names of places and labels of pieces are
// made of, each by the message that says what it means.
var nameWords = []string{
	"label.front", "label.back", "label.second", "label.left", "label.right", "label.door", "label.gate",
	"label.aisle", "label.post", "label.tube", "label.top", "label.middle", "label.bottom", "label.channel",
	"label.grille", "label.window", "label.feeder", "label.track", "label.packing", "label.skirt", "label.ring",
}

// InNames explains the English words in a plan's names, which stay as they are in
// every language; nothing to those who read English.
func (w *Words) InNames(p *plan.Plan) string {
	if w.lang.Tag == English {
		return ""
	}
	met := map[string]bool{}
	read := func(name string) {
		for _, word := range strings.FieldsFunc(name, func(r rune) bool { return r < 'a' || r > 'z' }) {
			met[word] = true
		}
	}
	for i := range p.Layout.Walls {
		read(p.Layout.Walls[i].Name)
	}
	for i := range p.Layout.Aisles {
		read(p.Layout.Aisles[i].Name)
	}
	for i := range p.Layout.Bays {
		read(p.Layout.Bays[i].Name)
	}
	for i := range p.Fit.Pieces {
		read(p.Fit.Pieces[i].Label)
	}
	var out []string
	for _, key := range nameWords {
		word := strings.TrimPrefix(key, "label.")
		if met[word] {
			out = append(out, word+" = "+w.Text(key))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return w.Text("packet.in-names", phrase.With("words", phrase.Name(strings.Join(out, ", "))))
}
