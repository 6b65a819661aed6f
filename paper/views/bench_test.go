package views

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/plan/plantest"
)

// bigJob is a free-standing barn of n stalls in two facing rows.
func bigJob(n int) string {
	var b strings.Builder
	b.WriteString(`job: Long Meadow
date: 2026-05-04
units: feet
kit: fernhollow
farm: {name: Long Meadow}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [12', 14']}
structures:
  - free-row:
      name: B
      rows: facing
      width: 12'
      depth: 12'
      aisle: 12'
      dividers: grille
      fronts: {at: left}
      rooms:
`)
	for range n / 2 {
		b.WriteString("        - stall\n")
	}
	return b.String()
}

func BenchmarkAll(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		b.Run(fmt.Sprintf("stalls=%d", n), func(b *testing.B) {
			p := plantest.Make(b, "big.yaml", bigJob(n))
			b.ReportAllocs()
			for b.Loop() {
				sheets, err := All(p, Options{})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(sheets)), "sheets")
			}
		})
	}
}
