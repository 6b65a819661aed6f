package differ_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"stallwright/paper/differ"
	"stallwright/paper/packet"
)

// bare is a plan of nothing but boards of given lengths in a bay each.
func bare(t *rapid.T, lengths map[string]int, treated map[string]bool) *packet.Document {
	d := &packet.Document{Format: packet.Format, Job: packet.JobDoc{Job: "boards", Units: "feet"}}
	d.Structures = []packet.StructureDoc{{Name: "A"}}
	d.Posts = []packet.PostDoc{{Name: "A.a", Structure: "A"}, {Name: "A.b", Structure: "A"}}
	d.Runs = []packet.RunDoc{{Name: "wall", From: "A.a", To: "A.b", Bays: []string{"wall"}, Reason: -1}}
	d.Bays = []packet.BayDoc{{Name: "wall", Run: "wall", Reason: -1}}
	for i := range 12 {
		name := fmt.Sprintf("wall/c%d", i+1)
		if n := lengths[name]; n > 0 {
			d.Pieces = append(d.Pieces, packet.PieceDoc{Label: name, Kind: "board", Item: "board", Place: "wall", LengthNM: int64(n), HeightNM: 1, Cut: true, Treated: treated[name], Reason: -1})
		}
	}
	if _, err := json.Marshal(d); err != nil {
		t.Fatal(err)
	}
	return d
}

// As many boards as can be are had from left-over ones. The oracle is a maximum
// bipartite matching by augmenting paths (Berge 1957; Kuhn's method), which knows
// nothing of lengths being in a row.
func TestLeftOverBoardsServeAsManyAsTheyCan(t *testing.T) {
	served := 0
	rapid.Check(t, func(r *rapid.T) {
		draw := func(what string) (map[string]int, map[string]bool) {
			lengths, treated := map[string]int{}, map[string]bool{}
			for i := range 12 {
				name := fmt.Sprintf("wall/c%d", i+1)
				lengths[name] = rapid.IntRange(0, 6).Draw(r, what)
				treated[name] = rapid.IntRange(0, 3).Draw(r, what+" treated") == 0
			}
			return lengths, treated
		}
		oldLen, oldTreated := draw("old")
		newLen, newTreated := draw("new")
		d := differ.Compare(bare(r, oldLen, oldTreated), bare(r, newLen, newTreated))

		stays := func(name string) bool {
			return oldLen[name] > 0 && newLen[name] > 0 && oldTreated[name] == newTreated[name] && oldLen[name] >= newLen[name]
		}
		var wanted, free []string
		for i := range 12 {
			name := fmt.Sprintf("wall/c%d", i+1)
			if newLen[name] > 0 && !stays(name) {
				wanted = append(wanted, name)
			}
			if oldLen[name] > 0 && !stays(name) {
				free = append(free, name)
			}
		}
		fits := func(f, w string) bool { return oldTreated[f] == newTreated[w] && oldLen[f] >= newLen[w] }
		holds := map[string]string{}
		var augment func(w string, seen map[string]bool) bool
		augment = func(w string, seen map[string]bool) bool {
			for _, f := range free {
				if fits(f, w) && !seen[f] {
					seen[f] = true
					if holds[f] == "" || augment(holds[f], seen) {
						holds[f] = w
						return true
					}
				}
			}
			return false
		}
		most := 0
		for _, w := range wanted {
			if augment(w, map[string]bool{}) {
				most++
			}
		}
		got, taken := 0, map[string]bool{}
		for _, p := range d.Pieces {
			if p.From == "" {
				continue
			}
			got++
			if taken[p.From] || !fits(p.From, p.New) {
				r.Errorf("%s from %s", p.New, p.From)
			}
			taken[p.From] = true
		}
		if got != most {
			r.Errorf("%d served, %d could be", got, most)
		}
		served += got
	})
	if served == 0 {
		t.Error("no left-over board ever served: the test says nothing")
	}
}
