package measure_test

import (
	"testing"

	"stallwright/engine/measure"
)

func BenchmarkParseLength(b *testing.B) {
	for _, text := range []string{`11' 7 5/8"`, `139.625"`, `3540.5 mm`, `11 ft 7 5/8 in`} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := measure.ParseLength(text, measure.NoUnit); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkLengthIn(b *testing.B) {
	for _, sys := range []measure.System{measure.FeetInches, measure.Metric} {
		b.Run(sys.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_ = elevenSevenFive.In(sys)
			}
		})
	}
}

func BenchmarkParseMass(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := measure.ParseMass("12.5 lb"); err != nil {
			b.Fatal(err)
		}
	}
}
