package words

import (
	"testing"
	"testing/fstest"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// spoken opens a catalogue of test messages over the shipped one.
func spoken(t *testing.T, lang string, units measure.System, dir fstest.MapFS) *Words {
	t.Helper()
	c, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	w, err := c.For(lang, units)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func file(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }

func TestSay(t *testing.T) {
	dir := fstest.MapFS{
		"en/try.yaml": file(`
plain: "Stand it up."
brace: "{{not a value}}"
post: "Stand post {post}, {height} high."
bolts: {one: "{n} bolt", other: "{n} bolts"}
take: "Take {what}: {^what}"
only: "English only"
`),
		"es/try.yaml": file(`
plain: "Levántelo."
post: "Levante el poste {post}, de {height} de alto."
bolts: {one: "{n} tornillo", other: "{n} tornillos"}
take: "Tome {what}: {^what}"
`),
		// Polish: 1 śruba, 2 śruby, 5 śrub, 22 śruby (CLDR, Language Plural Rules: pl).
		"pl/try.yaml": file(`
bolts: {one: "{n} śruba", few: "{n} śruby", many: "{n} śrub", other: "{n} śruby"}
`),
	}
	bolts := func(n int64) phrase.Phrase { return phrase.Of("try.bolts", phrase.With("n", phrase.Count(n))) }
	for _, c := range []struct {
		lang string
		p    phrase.Phrase
		want string
	}{
		{"en", phrase.Phrase{}, ""},
		{"en", phrase.Of("try.plain"), "Stand it up."},
		{"es", phrase.Of("try.plain"), "Levántelo."},
		{"en", phrase.Of("try.brace"), "{not a value}"},
		{"es-MX", phrase.Of("try.post", phrase.With("post", phrase.Name("P3")), phrase.With("height", phrase.Length(7*measure.Foot+2*measure.Inch+6*measure.SixteenthInch))), `Levante el poste P3, de 7' 2 3/8" de alto.`},
		{"en", phrase.Of("try.post", phrase.With("post", phrase.Name("P3"))), "Stand post P3, {height?} high."},
		{"en", bolts(0), "0 bolts"},
		{"en", bolts(1), "1 bolt"},
		{"es", bolts(1), "1 tornillo"},
		{"es", bolts(12500), "12500 tornillos"},
		{"pl", bolts(1), "1 śruba"},
		{"pl", bolts(2), "2 śruby"},
		{"pl", bolts(5), "5 śrub"},
		{"pl", bolts(22), "22 śruby"},
		{"es", phrase.Of("try.take", phrase.With("what", bolts(2))), "Tome 2 tornillos: 2 tornillos"},
		{"es", phrase.Of("try.take", phrase.With("what", phrase.Name("él"))), "Tome él: Él"},
		{"es", phrase.Of("try.only"), "[en] English only"},
		{"es", phrase.Of("try.nowhere", phrase.With("post", phrase.Name("P3"))), "[try.nowhere post=P3]"},
		{"es", phrase.Of("try.take", phrase.With("what", phrase.List{bolts(1), bolts(2), bolts(3)})), "Tome 1 tornillo, 2 tornillos y 3 tornillos: 1 tornillo, 2 tornillos y 3 tornillos"},
	} {
		if got := spoken(t, c.lang, measure.FeetInches, dir).Say(c.p); got != c.want {
			t.Errorf("%s %v: %q, want %q", c.lang, c.p, got, c.want)
		}
	}
}

// The decimal signs are those of Unicode CLDR: a point in the United States and
// Mexico, a comma in Spain.
func TestValues(t *testing.T) {
	half := 2184*measure.Millimetre + 500*measure.Micrometre
	for _, c := range []struct {
		lang  string
		units measure.System
		v     phrase.Value
		want  string
	}{
		{"en", measure.Metric, phrase.Length(half), "2184.5 mm"},
		{"es", measure.Metric, phrase.Length(half), "2184.5 mm"},
		{"es-ES", measure.Metric, phrase.Length(half), "2184,5 mm"},
		{"es-ES", measure.FeetInches, phrase.Length(measure.Foot), `1' 0"`},
		{"es-ES", measure.Metric, phrase.Mass(12340 * measure.Gram), "12,4 kg"},
		{"en", measure.FeetInches, phrase.Mass(100 * measure.Pound), "100 lb"},
		{"es-MX", measure.Metric, phrase.Angle(12*measure.Degree + measure.Degree/2), "12.5°"},
		{"es-ES", measure.Metric, phrase.Angle(-measure.Degree / 2), "-0,5°"},
		{"en", measure.Metric, phrase.Time(45), "45 min"},
		{"en", measure.Metric, phrase.Time(120), "2 h"},
		{"en", measure.Metric, phrase.Time(80), "1 h 20 min"},
		{"en", measure.Metric, nil, "?"},
	} {
		w, err := For(c.lang, c.units)
		if err != nil {
			t.Fatal(err)
		}
		if got := w.Value(c.v); got != c.want {
			t.Errorf("%s %v: %q, want %q", c.lang, c.v, got, c.want)
		}
	}
}

func TestForRefusesALanguageWithoutWords(t *testing.T) {
	for _, lang := range []string{"fi", "no such thing", "catalan"} {
		if w, err := For(lang, measure.Metric); err == nil {
			t.Errorf("%q was taken: %v", lang, w.Language())
		} else {
			t.Log(err)
		}
	}
}

func TestOpenNamesTheEntryThatIsWrong(t *testing.T) {
	for name, text := range map[string]string{
		"a brace alone":  `bad: "Stand {post"`,
		"a closing one":  `bad: "Stand post}"`,
		"no name":        `bad: "Stand {Post 3}"`,
		"empty":          `bad: ""`,
		"a number":       `bad: 3`,
		"no such form":   `bad: {one: "a", lots: "b"}`,
		"no other form":  `bad: {one: "a"}`,
		"a list":         `bad: [a, b]`,
		"the same twice": "bad: a\nbad: b",
	} {
		_, err := Open(fstest.MapFS{"en/try.yaml": file(text)})
		if err == nil {
			t.Errorf("%s: %s was taken", name, text)
			continue
		}
		t.Log(err)
	}
}
