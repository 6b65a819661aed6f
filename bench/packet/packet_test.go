// Package packet_test times the packet on paper. bench/README.md holds what was
// measured.
package packet_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/paper/book"
	"stallwright/paper/words"
)

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

// planned is a plan of n stalls, and the English words for it.
func planned(b *testing.B, n int) (*plan.Plan, *words.Words) {
	file, src, ok := kit.Shipped("fernhollow")
	if !ok {
		b.Fatal("no kit fernhollow ships")
	}
	k, err := kit.Read(file, src)
	if err != nil {
		b.Fatal(err)
	}
	j, err := job.Read("many.yaml", []byte(manyStalls(n)))
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.Make(j, k)
	if err != nil {
		b.Fatal(err)
	}
	w, err := words.For(words.English, j.Units)
	if err != nil {
		b.Fatal(err)
	}
	return p, w
}

// BenchmarkPacket times the whole packet, from a plan to the bytes of its PDF.
// peak-MB is what the program holds from the system at the end.
func BenchmarkPacket(b *testing.B) {
	for _, n := range []int{10, 30, 100} {
		b.Run(fmt.Sprintf("stalls=%d", n), func(b *testing.B) {
			p, w := planned(b, n)
			pages, size := 0, 0
			b.ReportAllocs()
			for b.Loop() {
				made, err := book.Make(p, w, book.Options{})
				if err != nil {
					b.Fatal(err)
				}
				data, err := made.PDF()
				if err != nil {
					b.Fatal(err)
				}
				pages, size = len(made.Pages), len(data)
			}
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.Sys)/1e6, "peak-MB")
			b.ReportMetric(float64(pages), "pages")
			b.ReportMetric(float64(size)/1e6, "MB")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n)/1e6, "ms/stall")
		})
	}
}

// BenchmarkPart times the parts one by one, for 100 stalls.
func BenchmarkPart(b *testing.B) {
	p, w := planned(b, 100)
	for _, name := range book.PartNames() {
		if book.Part(name) == book.Cover {
			continue // it needs the others
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				made, err := book.Make(p, w, book.Options{Only: []book.Part{book.Part(name)}})
				if err != nil {
					b.Fatal(err)
				}
				if _, err := made.PDF(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
