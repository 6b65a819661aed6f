package steps_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/plan/plantest"

	"stallwright/engine/measure"
	"stallwright/paper/draw"
	"stallwright/paper/steps"
	"stallwright/paper/words"
)

// manyStalls is a job of n stalls in rows of ten across aisles.
func manyStalls(n int) string {
	var b strings.Builder
	b.WriteString("job: many\nunits: feet\nkit: fernhollow\nfarm: {name: Many}\nlumber: {species: southern-pine, ten_boards: 51 1/4 in, tongue: 3/8 in, lengths: [8 ft, 12 ft, 14 ft]}\nstructures:\n")
	for i := range n / 10 {
		fmt.Fprintf(&b, "  - barn-row:\n      name: R%d_\n      rows: facing\n      post: 5 1/2 in\n      spacing: 12 ft\n      depth: 12 ft\n      aisle: 12 ft\n      rooms: [stall, stall, stall, stall, stall]\n", i)
		b.WriteString("      fronts: {at: centre, panels: grille}\n      dividers: grille\n      sides: boards\n      back: {fill: window}\n")
	}
	return b.String()
}

// BenchmarkPictures draws every step of jobs of 10 and 100 stalls, those that
// repeat others too.
func BenchmarkPictures(b *testing.B) {
	w, err := words.For("en", measure.FeetInches)
	if err != nil {
		b.Fatal(err)
	}
	for _, n := range []int{10, 100} {
		b.Run(fmt.Sprintf("stalls=%d", n), func(b *testing.B) {
			p := plantest.Make(b, "many.yaml", manyStalls(n))
			b.ReportAllocs()
			for b.Loop() {
				d := steps.New(p, w, steps.Options{})
				var sheets []*draw.Sheet
				for i := range p.Build.Steps {
					s, err := d.Picture(i)
					if err != nil {
						b.Fatal(err)
					}
					if s != nil {
						sheets = append(sheets, s)
					}
				}
				b.ReportMetric(float64(len(sheets)), "pictures")
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/stall")
		})
	}
}
