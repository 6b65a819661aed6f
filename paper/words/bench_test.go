package words

import (
	"testing"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Opening the catalogue is what every run of the program pays once a language.
func BenchmarkOpen(b *testing.B) {
	for b.Loop() {
		c, err := Open()
		if err != nil {
			b.Fatal(err)
		}
		if _, err := c.For("es", measure.FeetInches); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSay(b *testing.B) {
	w, err := For("es", measure.FeetInches)
	if err != nil {
		b.Fatal(err)
	}
	p := phrase.Of("found.trim", phrase.With("left", phrase.Length(2*measure.Inch)), phrase.With("right", phrase.Length(3*measure.Inch)), phrase.With("n", phrase.Count(4)))
	for b.Loop() {
		_ = w.Say(p)
	}
}
