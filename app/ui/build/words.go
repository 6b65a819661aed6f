package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"

	"stallwright/paper/words"
)

// area is the part of the message catalogue that the pages say.
const area = "app"

// writeWords writes the pages' messages in every language of the catalogue, and
// each one's values as a type: a page that names no message, or leaves a value
// out, does not build.
func writeWords() error {
	c, err := words.Shipped()
	if err != nil {
		return err
	}
	var b strings.Builder
	b.WriteString("// Made from the message catalogue by the build; do not change.\n")
	type named struct {
		Tag  string `json:"tag"`
		Name string `json:"name"`
	}
	var languages []named
	all := map[string]map[string]any{}
	for _, l := range c.Languages() {
		list, err := c.Area(l.Tag, area)
		if err != nil {
			return err
		}
		languages, all[l.Tag] = append(languages, named{l.Tag, l.Name}), map[string]any{}
		for _, m := range list {
			all[l.Tag][m.Key] = m.Texts
			if !m.Plural {
				all[l.Tag][m.Key] = m.Texts["other"]
			}
		}
		if l.Tag == words.English {
			writeValues(&b, list)
		}
	}
	for _, v := range []struct {
		what  string
		value any
	}{
		{"languages: readonly { tag: string; name: string }[]", languages},
		{"messages: Record<string, Record<string, string | Record<string, string>>>", all},
	} {
		text, err := json.MarshalIndent(v.value, "", "  ")
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "\nexport const %s = %s;\n", v.what, text)
	}
	return os.WriteFile(home+"/src/made/words.ts", []byte(b.String()), 0o644)
}

func writeValues(b *strings.Builder, list []words.Message) {
	b.WriteString("\n// What each message is given.\nexport interface Values {\n")
	for _, m := range list {
		var fields []string
		for _, name := range m.Values {
			if name != "n" || !m.Plural {
				fields = append(fields, quote(name)+": string | number")
			}
		}
		if m.Plural {
			fields = append(fields, "n: number")
		}
		given := "undefined"
		if fields != nil {
			given = "{ " + strings.Join(fields, "; ") + " }"
		}
		fmt.Fprintf(b, "  %s: %s;\n", quote(m.Key), given)
	}
	b.WriteString("}\n")
}
