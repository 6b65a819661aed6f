package words

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/goccy/go-yaml"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"stallwright/engine/build"
	"stallwright/engine/kit"
)

// opened are all languages of the shipped catalogue.
func opened(t *testing.T) map[string]*entries {
	t.Helper()
	c, err := Shipped()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*entries{}
	for _, l := range c.Languages() {
		e, err := c.entries(l.Tag)
		if err != nil {
			t.Fatal(err)
		}
		out[l.Tag] = e
	}
	if out[English] == nil || out["es"] == nil {
		t.Fatalf("the catalogue speaks %v", c.Languages())
	}
	return out
}

// others are the languages that are held to English.
func others(all map[string]*entries) []string {
	var out []string
	for tag := range all {
		if tag != English {
			out = append(out, tag)
		}
	}
	slices.Sort(out)
	return out
}

// isItem says whether a key names a kit's item, which English leaves to the kit.
func isItem(key string) bool { return strings.HasPrefix(key, itemArea) }

// made are the keys that the program puts together, and from what.
func made(t *testing.T) map[string]string {
	out := map[string]string{}
	for _, c := range constants(t, "engine/finding", "Code") {
		out["finding."+c] = "a finding's code"
	}
	for _, r := range build.Rules() {
		out["order."+string(r.ID)] = "a rule of the order of work"
	}
	for _, ratio := range []string{"1", "2", "4"} {
		out["steps.scale-"+ratio] = "how much larger a detail is drawn"
	}
	return out
}

// Every message that the program names is in the catalogue, and every message of
// the catalogue is named.
func TestCatalogueHoldsWhatIsSaid(t *testing.T) {
	all := opened(t)
	areas := map[string]bool{}
	for _, e := range all {
		for key := range e.of {
			area, _, _ := strings.Cut(key, ".")
			areas[area] = true
		}
	}
	used := made(t)
	for _, u := range append(uses(t, areas), pageUses(t)...) {
		used[u.key] = u.at
		m := all[English].of[u.key]
		if m == nil {
			continue // told below, once
		}
		names := m.names()
		for _, v := range u.values {
			if !slices.Contains(names, v) && !(v == "n" && m.plural) {
				t.Errorf("%s gives %s the value %q, which its text does not name", u.at, u.key, v)
			}
		}
		if !u.all {
			continue
		}
		for _, n := range names {
			if !slices.Contains(u.values, n) {
				t.Errorf("%s does not give %s the value %q, which its text names", u.at, u.key, n)
			}
		}
	}
	for key, why := range used {
		if all[English].of[key] == nil {
			t.Errorf("the English catalogue lacks %s (%s)", key, why)
		}
	}
	for _, key := range all[English].keys {
		if _, ok := used[key]; !ok {
			t.Errorf("nothing says %s", key)
		}
	}
	if len(used) < 200 {
		t.Errorf("only %d messages are said; the search has lost its way", len(used))
	}
}

// Each language has the messages of English, no others, with the same values.
func TestLanguagesAgree(t *testing.T) {
	all := opened(t)
	english := all[English]
	for _, tag := range others(all) {
		e := all[tag]
		for _, key := range english.keys {
			m, en := e.of[key], english.of[key]
			if m == nil {
				t.Errorf("%s lacks %s", tag, key)
				continue
			}
			if got, want := m.names(), en.names(); !slices.Equal(got, want) {
				t.Errorf("%s: %s names %v, English names %v", tag, key, got, want)
			}
		}
		for _, key := range e.keys {
			if english.of[key] == nil && !isItem(key) {
				t.Errorf("%s has %s, which English lacks", tag, key)
			}
		}
	}
}

// formsOf are the plural forms that CLDR's rules of a language give whole numbers.
func formsOf(tag language.Tag) map[plural.Form]bool {
	out := map[plural.Form]bool{}
	for n := range 1200 {
		out[formOf(tag, int64(n))] = true
	}
	out[formOf(tag, 1_000_000)] = true
	return out
}

// A message with the count n has each plural form of its language and no other,
// and each of its forms names the same values, but that one may leave n out.
func TestPluralFormsAreComplete(t *testing.T) {
	for tag, e := range opened(t) {
		forms := formsOf(language.Make(tag))
		for _, key := range e.keys {
			m := e.of[key]
			if !m.plural {
				if slices.Contains(m.names(), "n") && len(forms) > 1 {
					t.Errorf("%s: %s counts {n} but has one form for all", tag, key)
				}
				continue
			}
			for form := range forms {
				if m.forms[form] == nil {
					t.Errorf("%s: %s lacks the form %v", tag, key, formName(form))
				}
			}
			for form, text := range m.forms {
				if !forms[form] {
					t.Errorf("%s: %s has the form %v, which the language has not", tag, key, formName(form))
				}
				one := (&entry{forms: map[plural.Form][]segment{form: text}}).names()
				for _, n := range m.names() {
					if n != "n" && !slices.Contains(one, n) {
						t.Errorf("%s: %s, form %s, does not name %s", tag, key, formName(form), n)
					}
				}
			}
		}
	}
}

func formName(f plural.Form) string {
	for name, form := range formNames {
		if form == f {
			return name
		}
	}
	return fmt.Sprint(int(f))
}

// The plural forms of Unicode CLDR 32, Language Plural Rules, from memory.
func TestFormsOf(t *testing.T) {
	for tag, want := range map[string][]string{
		"en": {"one", "other"}, "es": {"one", "other"}, "ja": {"other"},
		"pl": {"few", "many", "one"}, "ar": {"few", "many", "one", "other", "two", "zero"},
	} {
		var got []string
		for form := range formsOf(language.Make(tag)) {
			got = append(got, formName(form))
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", tag, got, want)
		}
	}
}

// texts are the message's texts, its values left as their names in braces.
func (m *entry) texts() map[plural.Form]string {
	out := map[plural.Form]string{}
	for form, text := range m.forms {
		var b strings.Builder
		for _, s := range text {
			if s.name != "" {
				b.WriteString("{" + s.name + "}")
			}
			b.WriteString(s.literal)
		}
		out[form] = b.String()
	}
	return out
}

// lettered says whether a text has letters beside its values and units.
func (m *entry) lettered() bool {
	for _, text := range m.forms {
		for _, s := range text {
			if strings.IndexFunc(s.literal, unicode.IsLetter) >= 0 {
				return true
			}
		}
	}
	return false
}

// reviewed reads a list of keys with the reason each is there.
func reviewed(t *testing.T, file string) map[string]string {
	t.Helper()
	text, err := os.ReadFile("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	var out map[string]string
	if err := yaml.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	for key, why := range out {
		if strings.TrimSpace(why) == "" {
			t.Errorf("%s: %s is listed without a reason", file, key)
		}
	}
	return out
}

// What is the same in two languages is so on purpose: the list says why.
func TestSpanishIsSpanish(t *testing.T) {
	all := opened(t)
	same := reviewed(t, "same.yaml")
	for _, key := range all[English].keys {
		en, es := all[English].of[key], all["es"].of[key]
		if es == nil || !en.lettered() {
			continue
		}
		alike := false
		for form, text := range es.texts() {
			alike = alike || text == en.texts()[form]
		}
		_, listed := same[key]
		switch {
		case alike && !listed:
			t.Errorf("%s is the same in Spanish as in English: %q", key, en.texts()[plural.Other])
		case !alike && listed:
			t.Errorf("same.yaml lists %s, which is not the same", key)
		}
		delete(same, key)
	}
	for key := range same {
		t.Errorf("same.yaml lists %s, which has no letters or is not in the catalogue", key)
	}
}

// englishWords are words that no Spanish text holds.
var englishWords = regexp.MustCompile(`(?i)\b(the|and|of|with|from|each|not|for|is|are|at|into|its|this|then|board|post|wall|bay|feet|inches)\b`)

func TestSpanishHoldsNoEnglishWords(t *testing.T) {
	for key, m := range opened(t)["es"].of {
		for _, text := range m.texts() {
			plain := regexp.MustCompile(`\{[^}]*\}`).ReplaceAllString(text, " ")
			if w := englishWords.FindString(plain); w != "" {
				t.Errorf("%s: %q holds %q", key, text, w)
			}
		}
	}
}

// One thing has one name: where English names a thing, Spanish has the glossary's
// term for it (docs/languages.md), but where the list says why not.
func TestSpanishKeepsToTheGlossary(t *testing.T) {
	terms := glossary(t)
	all := opened(t)
	free := reviewed(t, "glossary-free.yaml")
	for _, key := range all[English].keys {
		es := all["es"].of[key]
		if es == nil {
			continue
		}
		english, spanish := " "+joined(all[English].of[key])+" ", strings.ToLower(joined(es))
		var missing []string
		for _, term := range terms {
			if term.english.MatchString(english) && !term.spanish.MatchString(spanish) {
				missing = append(missing, term.name)
			}
		}
		_, listed := free[key]
		switch {
		case missing != nil && !listed:
			t.Errorf("%s names %s in English but not by the glossary's term in Spanish: %q", key, strings.Join(missing, ", "), spanish)
		case missing == nil && listed:
			t.Errorf("glossary-free.yaml lists %s, which keeps to the glossary", key)
		}
		delete(free, key)
	}
	for key := range free {
		t.Errorf("glossary-free.yaml lists %s, which is not in the catalogue", key)
	}
}

func joined(m *entry) string {
	var out []string
	for _, text := range m.texts() {
		out = append(out, regexp.MustCompile(`\{[^}]*\}`).ReplaceAllString(text, "#"))
	}
	slices.Sort(out)
	return strings.Join(out, " | ")
}

// term is a thing's English words and the Spanish stem that must answer them.
type term struct {
	name             string
	english, spanish *regexp.Regexp
}

// glossary reads the terms that are held to, and finds each in the page that
// explains them.
func glossary(t *testing.T) []term {
	t.Helper()
	text, err := os.ReadFile("testdata/glossary.yaml")
	if err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile(root + "/docs/languages.md")
	if err != nil {
		t.Fatal(err)
	}
	var doc yaml.MapSlice
	if err := yaml.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	var out []term
	for _, item := range doc {
		english, spanish := item.Key.(string), item.Value.(string)
		es := regexp.MustCompile(`(^|[^\pL])(` + spanish + `)`)
		if !es.MatchString(strings.ToLower(string(page))) {
			t.Errorf("docs/languages.md does not have %q", spanish)
		}
		out = append(out, term{english, regexp.MustCompile(`(?i)[^\pL-](` + english + `)[^\pL]`), es})
	}
	if len(out) < 20 {
		t.Errorf("the glossary holds only %d terms", len(out))
	}
	return out
}

// Every kind that the engine has is said by a phrase of its own.
func TestEveryKindHasAWord(t *testing.T) {
	said := map[string]bool{}
	for _, m := range []any{states, rooms, structures, fills, hands, obstructions} {
		for _, k := range strings.Fields(strings.Trim(fmt.Sprint(m), "map[]")) {
			name, _, _ := strings.Cut(k, ":")
			said[name] = true
		}
	}
	for _, v := range []struct{ pkg, name string }{
		{"engine/fit", "State"}, {"engine/job", "RoomKind"}, {"engine/frame", "Kind"}, {"engine/job", "FillKind"}, {"engine/job", "Hand"},
	} {
		for _, k := range constants(t, v.pkg, v.name) {
			if !said[k] {
				t.Errorf("%s.%s: %q has no phrase", v.pkg, v.name, k)
			}
		}
	}
}

// Every thing of the shipped kits has a Spanish name, and no other is listed.
func TestShippedKitsAreNamedInSpanish(t *testing.T) {
	es := opened(t)["es"]
	known := map[string]bool{}
	for _, name := range kit.ShippedNames() {
		file, src, _ := kit.Shipped(name)
		k, err := kit.Read(file, src)
		if err != nil {
			t.Fatal(err)
		}
		for _, id := range itemsOf(t, k) {
			key := itemArea + k.Kit + "." + id
			known[key] = true
			if es.of[key] == nil {
				t.Errorf("Spanish lacks %s", key)
			}
		}
	}
	for _, key := range es.keys {
		if isItem(key) && !known[key] {
			t.Errorf("Spanish has %s, which no shipped kit has", key)
		}
	}
}
