// Package plan_test times the whole pipeline. bench/README.md holds what was
// measured.
package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
)

// fernhollow is the shipped kit the jobs ask for.
func fernhollow(b *testing.B) *kit.Kit {
	file, src, ok := kit.Shipped("fernhollow")
	if !ok {
		b.Fatal("no kit fernhollow ships")
	}
	k, err := kit.Read(file, src)
	if err != nil {
		b.Fatal(err)
	}
	return k
}

// manyStalls is a job of n stalls in rows of ten across aisles, each with its
// front, back and dividing walls.
func manyStalls(n int) string {
	var b strings.Builder
	b.WriteString("job: many\nunits: feet\nkit: fernhollow\nfarm: {name: Many}\nlumber: {species: southern-pine, ten_boards: 51 1/4 in, tongue: 3/8 in, lengths: [8 ft, 12 ft, 14 ft]}\nstructures:\n")
	for i := range n / 10 {
		fmt.Fprintf(&b, "  - barn-row:\n      name: R%d_\n      rows: facing\n      post: 5 1/2 in\n      spacing: 12 ft\n      depth: 12 ft\n      aisle: 12 ft\n      rooms: [stall, stall, stall, stall, stall]\n", i)
		b.WriteString("      fronts: {at: centre, panels: grille}\n      dividers: grille\n      sides: boards\n      back: {fill: window}\n")
	}
	return b.String()
}

// BenchmarkMake times the whole plan of 10, 100 and 1,000 stalls; ns/stall shows
// the growth.
func BenchmarkMake(b *testing.B) {
	k := fernhollow(b)
	for _, n := range []int{10, 100, 1000} {
		b.Run(fmt.Sprintf("stalls=%d", n), func(b *testing.B) {
			j, err := job.Read("many.yaml", []byte(manyStalls(n)))
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := plan.Make(j, k); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/stall")
		})
	}
}

// BenchmarkOneWall is 10 to 1,000 stalls in a single wall, where every parked
// leaf might meet every other.
func BenchmarkOneWall(b *testing.B) {
	k := fernhollow(b)
	for _, n := range []int{10, 100, 1000} {
		b.Run(fmt.Sprintf("stalls=%d", n), func(b *testing.B) {
			src := strings.Replace(manyStalls(10), "[stall, stall, stall, stall, stall]", "["+strings.TrimSuffix(strings.Repeat("stall, ", n), ", ")+"]", 1)
			src = strings.Replace(src, "      rows: facing\n", "      rows: one\n", 1)
			src = strings.Replace(src, "      aisle: 12 ft\n", "", 1)
			j, err := job.Read("wall.yaml", []byte(src))
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := plan.Make(j, k); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/stall")
		})
	}
}
