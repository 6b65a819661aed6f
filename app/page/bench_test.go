package page_test

import (
	"encoding/json"
	"strings"
	"testing"

	"stallwright/app/page"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/paper/packet"
)

// twenty is a job of twenty stalls facing across an aisle, with windows, grilles
// and sliding doors, with an edit.
func twenty(edit string) string {
	return "job: twenty\nunits: feet\nkit: fernhollow\nfarm: {name: Many}\nlumber: {species: southern-pine, ten_boards: 51 1/4 in, tongue: 3/8 in, lengths: [8 ft, 12 ft, 14 ft]}\n" +
		"structures:\n  - barn-row:\n      name: A\n      rows: facing\n      post: 5 1/2 in\n      spacing: 12 ft\n      depth: 12 ft\n      aisle: 12 ft\n" +
		"      rooms: [" + strings.TrimSuffix(strings.Repeat("stall, ", 10), ", ") + "]\n" +
		"      fronts: {at: centre, panels: grille}\n      dividers: grille\n      sides: boards\n      back: {fill: window}\n" + edit
}

// BenchmarkChange is what follows from a change of one bay among twenty stalls,
// part by part.
func BenchmarkChange(b *testing.B) {
	texts := []string{twenty(""), twenty("bays: {A2-A3: {fill: boards}}\n"), twenty("bays: {A2-A3: {fill: window}}\n")} // more than are kept
	file, src, _ := kit.Shipped("fernhollow")
	k, err := kit.Read(file, src)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("kit", func(b *testing.B) {
		for b.Loop() {
			kit.Read(file, src)
		}
	})
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			job.Read("job.yaml", []byte(texts[1]))
		}
	})
	j, err := job.Read("job.yaml", []byte(texts[1]))
	if err != nil {
		b.Fatal(err)
	}
	b.Run("make", func(b *testing.B) {
		for b.Loop() {
			plan.Make(j, k)
		}
	})
	p, err := plan.Make(j, k)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("document", func(b *testing.B) {
		for b.Loop() {
			packet.NewDocument(p)
		}
	})
	d := packet.NewDocument(p)
	b.Run("json", func(b *testing.B) {
		n := 0
		for b.Loop() {
			out, _ := json.Marshal(d)
			n = len(out)
		}
		b.ReportMetric(float64(n), "bytes")
	})
	for _, q := range page.Names() {
		var in [][]byte
		for _, t := range texts {
			data, err := json.Marshal(page.Asked{Job: t, About: "A2-A3"})
			if err != nil {
				b.Fatal(err)
			}
			in = append(in, data)
		}
		b.Run("ask-"+q, func(b *testing.B) {
			n, i := 0, 0
			for b.Loop() {
				n = len(page.Answer(q, in[i%len(in)]))
				i++
			}
			b.ReportMetric(float64(n), "bytes")
		})
	}
}
