package differ_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/paper/differ"
)

// manyStalls is n stalls in rows of ten across aisles.
func manyStalls(n int, depth, coverage string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "job: many\nunits: feet\nkit: fernhollow\nfarm: {name: Many}\nlumber: {species: southern-pine, coverage: %s, tongue: 3/8 in, lengths: [8 ft, 12 ft, 14 ft]}\nstructures:\n", coverage)
	for i := range n / 10 {
		fmt.Fprintf(&b, "  - barn-row:\n      name: R%d_\n      rows: facing\n      post: 5 1/2 in\n      spacing: 12 ft\n      depth: %s\n      aisle: 12 ft\n      rooms: [stall, stall, stall, stall, stall]\n", i, depth)
		b.WriteString("      fronts: {at: centre, panels: grille}\n      dividers: grille\n      sides: boards\n      back: {fill: window}\n")
	}
	return b.String()
}

// BenchmarkCompare compares and writes plans of 10, 100 and 1,000 stalls: nothing
// changed, everything a foot deeper, every board another, a tenth added.
func BenchmarkCompare(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		old := documentOf(b, "old.yaml", manyStalls(n, "12 ft", `5 1/8"`))
		for _, c := range []struct{ name, src string }{
			{"same", manyStalls(n, "12 ft", `5 1/8"`)},
			{"deeper", manyStalls(n, "13 ft", `5 1/8"`)},
			{"boards", manyStalls(n, "12 ft", `5 1/16"`)},
			{"more", manyStalls(n+max(n/10, 10), "12 ft", `5 1/8"`)},
		} {
			new := documentOf(b, "new.yaml", c.src)
			b.Run(fmt.Sprintf("%s/stalls=%d", c.name, n), func(b *testing.B) {
				for b.Loop() {
					differ.Compare(old, new).Text()
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/stall")
			})
		}
	}
}
