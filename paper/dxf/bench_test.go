package dxf_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/paper/dxf"
	"stallwright/paper/views"
)

// BenchmarkOneWall writes plan and elevations of stalls in a single row, where
// every text might meet every other.
func BenchmarkOneWall(b *testing.B) {
	name, src, _ := kit.Shipped("fernhollow")
	k, err := kit.Read(name, src)
	if err != nil {
		b.Fatal(err)
	}
	for _, n := range []int{10, 100} {
		b.Run(fmt.Sprintf("stalls=%d", n), func(b *testing.B) {
			rooms := strings.TrimSuffix(strings.Repeat("stall, ", n), ", ")
			j, err := job.Read("wall.yaml", []byte("job: wall\nunits: feet\nkit: fernhollow\nfarm: {name: Wall}\nlumber: {species: southern-pine, ten_boards: 51 1/4 in, tongue: 3/8 in, lengths: [8 ft, 12 ft, 14 ft]}\nstructures:\n  - barn-row:\n      name: R\n      rows: one\n      post: 5 1/2 in\n      spacing: 12 ft\n      depth: 12 ft\n      rooms: ["+rooms+"]\n      fronts: {at: centre, panels: grille}\n      dividers: grille\n      sides: boards\n      back: {fill: window}\n"))
			if err != nil {
				b.Fatal(err)
			}
			p, err := plan.Make(j, k)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				models, err := views.Models(p, views.Options{})
				if err != nil {
					b.Fatal(err)
				}
				var all []dxf.View
				for _, m := range models {
					all = append(all, dxf.View{Drawing: m.Drawing, Scale: m.Scale, Title: m.Title})
				}
				data, err := dxf.Write(dxf.Column(all, dxf.Options{}), dxf.Options{})
				if err != nil {
					b.Fatal(err)
				}
				b.SetBytes(int64(len(data)))
			}
		})
	}
}
