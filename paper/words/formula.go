package words

import (
	"regexp"
	"strings"
)

// facts are the names that a kit's rules may use, each by the message that says it
// in words; see kit.Facts.
var facts = map[string]string{
	"structure": "fact.structure", "wall": "fact.wall", "fill": "fact.fill", "door": "fact.door", "clamped": "fact.clamped",
	"courses": "fact.courses", "bays": "fact.bays", "panels": "fact.panels", "quantity": "fact.quantity",
	"clear": "fact.clear", "centres": "fact.centres", "height": "fact.height", "datum": "fact.datum", "zone": "fact.zone",
	"end_play": "fact.end-play", "opening": "fact.opening", "leaf": "fact.leaf", "post": "fact.post", "tube": "fact.tube",
	"plate": "fact.plate", "web": "fact.web", "board": "fact.board",
	"up": "fact.up", "down": "fact.down", "least": "fact.least", "most": "fact.most",
}

// inRule finds what can be put into words in a rule: a length in quotes, a text, or
// a name.
var inRule = regexp.MustCompile(`L\("([^"]*)"\)|"[^"]*"|[a-z_]+`)

// Formula writes a kit's rule: in English as its file has it, where the kit's people
// find it again; else with the language's own words for the names in it.
func (w *Words) Formula(rule string) string {
	if w.lang.Tag == English {
		return rule
	}
	return inRule.ReplaceAllStringFunc(rule, func(s string) string {
		if l := inRule.FindStringSubmatch(s); l[1] != "" {
			return l[1]
		}
		if key, ok := facts[s]; ok && w.Knows(key) && !strings.HasPrefix(s, `"`) {
			return w.Text(key)
		}
		return s
	})
}
