package build_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/build"
)

// barnOf is a barn of two facing rows with so many stalls in all.
func barnOf(stalls int) string {
	return head + fmt.Sprintf(`  - barn-row:
      name: A
      rows: facing
      post: 5 1/2 in x 5 1/2 in
      spacing: 12'
      depth: 12'
      aisle: 14'
      rooms: [%s]
      fronts: {door: slide-48, at: left, slides: right, panels: grille}
      dividers: grille
      sides: boards
      back: {fill: window}
`, strings.TrimSuffix(strings.Repeat("stall, ", stalls/2), ", "))
}

// rowOf is a free-standing row of so many stalls.
func rowOf(stalls int) string {
	return head + fmt.Sprintf(`  - free-row:
      name: B
      width: 12'
      depth: 12'
      rooms: [%s]
      fronts: {door: slide-48, at: left, slides: right, panels: grille}
      dividers: grille
`, strings.TrimSuffix(strings.Repeat("stall, ", stalls), ", "))
}

func BenchmarkMake(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		for kind, src := range map[string]string{"barn": barnOf(n), "row": rowOf(n)} {
			p := planned(b, src)
			b.Run(fmt.Sprintf("%s/%d", kind, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					r, err := build.Make(p.Stages())
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(len(r.Operations)), "operations")
				}
			})
		}
	}
}
