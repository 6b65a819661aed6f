package words

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"golang.org/x/text/feature/plural"
)

// segment is a piece of a text: literal, or the name of a value.
type segment struct {
	literal string
	name    string
	capital bool // begins with a capital
}

// entry is a message: its texts by plural form. One text alone stands under
// plural.Other.
type entry struct {
	forms  map[plural.Form][]segment
	plural bool // written by plural forms
}

// formNames are CLDR's plural categories.
var formNames = map[string]plural.Form{
	"zero": plural.Zero, "one": plural.One, "two": plural.Two,
	"few": plural.Few, "many": plural.Many, "other": plural.Other,
}

// readMessages reads an area's file: entries in the order written.
func readMessages(text []byte) (keys []string, entries map[string]*entry, err error) {
	var doc yaml.MapSlice
	if err := yaml.Unmarshal(text, &doc); err != nil {
		return nil, nil, err
	}
	entries = map[string]*entry{}
	for _, item := range doc {
		key, ok := item.Key.(string)
		if !ok {
			return nil, nil, fmt.Errorf("the entry %v: a key is a text, such as bolt-corner", item.Key)
		}
		m, err := newEntry(item.Value)
		if err != nil {
			return nil, nil, fmt.Errorf("the entry %s: %w", key, err)
		}
		keys, entries[key] = append(keys, key), m
	}
	return keys, entries, nil
}

// newEntry makes an entry of what its file holds.
func newEntry(v any) (*entry, error) {
	m := &entry{forms: map[plural.Form][]segment{}}
	switch v := v.(type) {
	case string:
		s, err := split(v)
		m.forms[plural.Other] = s
		return m, err
	case map[string]any:
		m.plural = true
		for name, text := range v {
			form, ok := formNames[name]
			if !ok {
				return nil, fmt.Errorf("%q is no plural form: zero, one, two, few, many and other are", name)
			}
			t, ok := text.(string)
			if !ok {
				return nil, fmt.Errorf("the form %s is no text; put it in quotes", name)
			}
			s, err := split(t)
			if err != nil {
				return nil, err
			}
			m.forms[form] = s
		}
		if m.forms[plural.Other] == nil {
			return nil, fmt.Errorf("the form other is missing")
		}
		return m, nil
	}
	return nil, fmt.Errorf("%v is neither a text nor plural forms; put a text in quotes", v)
}

// split takes a text apart at its values.
func split(text string) ([]segment, error) {
	if strings.TrimSpace(text) == "" {
		return nil, fmt.Errorf("the text is empty")
	}
	var out []segment
	lit := ""
	for rest := text; rest != ""; {
		at := strings.IndexAny(rest, "{}")
		if at < 0 {
			lit += rest
			break
		}
		lit += rest[:at]
		brace := rest[at : at+1]
		rest = rest[at+1:]
		if strings.HasPrefix(rest, brace) {
			lit, rest = lit+brace, rest[1:]
			continue
		}
		end := strings.IndexByte(rest, '}')
		if brace == "}" || end < 0 {
			return nil, fmt.Errorf("a brace stands alone in %q; write {name} for a value and {{ or }} for a brace", text)
		}
		name, capital := strings.CutPrefix(rest[:end], "^")
		if !isName(name) {
			return nil, fmt.Errorf("{%s} in %q names no value; a name is small letters and hyphens", name, text)
		}
		if lit != "" {
			out = append(out, segment{literal: lit})
		}
		out, lit, rest = append(out, segment{name: name, capital: capital}), "", rest[end+1:]
	}
	if lit != "" {
		out = append(out, segment{literal: lit})
	}
	return out, nil
}

func isName(s string) bool {
	return s != "" && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

// names are the values that the message names, sorted, in any of its forms.
func (m *entry) names() []string {
	var out []string
	for _, text := range m.forms {
		for _, s := range text {
			if s.name != "" && !slices.Contains(out, s.name) {
				out = append(out, s.name)
			}
		}
	}
	slices.Sort(out)
	return out
}

// capitalised begins s with a capital letter.
func capitalised(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if first == utf8.RuneError {
		return s
	}
	return string(unicode.ToTitle(first)) + s[size:]
}
