package words

import (
	"slices"
	"strings"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Words says phrases in one language, for tapes of one system.
type Words struct {
	lang    Language
	tag     language.Tag
	own     *entries
	english *entries
	units   measure.System
	decimal string // the decimal sign
}

func newWords(l Language, own, english *entries, numbers language.Tag, units measure.System) *Words {
	w := &Words{lang: l, tag: language.Make(l.Tag), own: own, english: english, units: units}
	w.decimal = decimalSign(numbers)
	return w
}

// Language is the one spoken.
func (w *Words) Language() Language { return w.lang }

// Units is how lengths and masses are written.
func (w *Words) Units() measure.System { return w.units }

// Say renders a phrase. The zero Phrase is an empty text. A value that the phrase
// lacks stays visible as its name with a question mark.
func (w *Words) Say(p phrase.Phrase) string {
	if p.Empty() {
		return ""
	}
	if m := w.own.of[p.Key]; m != nil {
		return w.fill(w.tag, m, p.Args)
	}
	if m := w.english.of[p.Key]; m != nil {
		return "[" + English + "] " + w.fill(language.English, m, p.Args)
	}
	if strings.HasPrefix(p.Key, itemArea) { // a kit's own word for its own thing
		if i := slices.IndexFunc(p.Args, func(a phrase.Arg) bool { return a.Name == "name" }); i >= 0 {
			return w.Value(p.Args[i].Value)
		}
	}
	return w.bare(p)
}

// Text is Say of a phrase made on the spot.
func (w *Words) Text(key string, args ...phrase.Arg) string { return w.Say(phrase.Of(key, args...)) }

// Told is what is said of a finding: in English the engine's own sentence, else
// its phrase with the numbers, or the headline of its code.
func (w *Words) Told(f *finding.Finding) string {
	if w.lang.Tag == English {
		return f.Message
	}
	return w.Say(Finding(f))
}

// Knows reports whether the language itself has the entry, without English's help.
func (w *Words) Knows(key string) bool { return w.own.of[key] != nil }

// bare shows a phrase that no catalogue has.
func (w *Words) bare(p phrase.Phrase) string {
	parts := []string{p.Key}
	for _, a := range p.Args {
		parts = append(parts, a.Name+"="+w.Value(a.Value))
	}
	return "[" + strings.Join(parts, " ") + "]"
}

// fill puts values into a message.
func (w *Words) fill(tag language.Tag, m *entry, args []phrase.Arg) string {
	text := m.forms[plural.Other]
	if i := slices.IndexFunc(args, func(a phrase.Arg) bool { return a.Name == "n" }); i >= 0 && m.plural {
		if n, ok := args[i].Value.(phrase.Count); ok {
			if t := m.forms[formOf(tag, int64(n))]; t != nil {
				text = t
			}
		}
	}
	var b strings.Builder
	for _, s := range text {
		if s.name == "" {
			b.WriteString(s.literal)
			continue
		}
		v := "{" + s.name + "?}"
		if i := slices.IndexFunc(args, func(a phrase.Arg) bool { return a.Name == s.name }); i >= 0 {
			v = w.Value(args[i].Value)
		}
		if s.capital {
			v = capitalised(v)
		}
		b.WriteString(v)
	}
	return b.String()
}

// formOf is the plural form that a language's rules give a whole number.
func formOf(tag language.Tag, n int64) plural.Form {
	if n < 0 {
		n = -n
	}
	// The rules look at no more than a number's last six digits and at whether
	// there are more (UTS 35, Language Plural Rules).
	if n > 10_000_000 {
		n = n%10_000_000 + 10_000_000
	}
	return plural.Cardinal.MatchPlural(tag, int(n), 0, 0, 0, 0)
}
