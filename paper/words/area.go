package words

import (
	"maps"
	"slices"
	"strings"
)

// Message is a message as its file has it, for who renders it elsewhere: the
// app's pages say theirs in the browser.
type Message struct {
	Key string
	// Texts by plural category of CLDR ("one", "other"); "other" alone where there is
	// one text for all.
	Texts map[string]string
	// Values are the names in braces, sorted; Plural says that a count named n
	// chooses among the texts.
	Values []string
	Plural bool
}

// Area is all messages of one area in a language of the catalogue, in the order
// they are written. The error names the file that is wrong.
func (c *Catalogue) Area(tag, area string) ([]Message, error) {
	all, err := c.entries(tag)
	if err != nil {
		return nil, err
	}
	var out []Message
	for _, key := range all.keys {
		if !strings.HasPrefix(key, area+".") {
			continue
		}
		e := all.of[key]
		m := Message{Key: key, Texts: map[string]string{}, Values: e.names(), Plural: e.plural}
		for _, name := range slices.Sorted(maps.Keys(formNames)) {
			if text := e.forms[formNames[name]]; text != nil {
				m.Texts[name] = written(text)
			}
		}
		out = append(out, m)
	}
	return out, nil
}

// written is a text with its values in braces, as a file has it.
func written(text []segment) string {
	var b strings.Builder
	braces := strings.NewReplacer("{", "{{", "}", "}}")
	for _, s := range text {
		switch {
		case s.name == "":
			b.WriteString(braces.Replace(s.literal))
		case s.capital:
			b.WriteString("{^" + s.name + "}")
		default:
			b.WriteString("{" + s.name + "}")
		}
	}
	return b.String()
}
