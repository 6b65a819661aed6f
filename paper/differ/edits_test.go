package differ_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/paper/differ"
)

var update = flag.Bool("update", false, "write the texts in testdata anew; look at what changed before you keep it")

// edit is a change of an example as a crew lead or an estimator makes it.
type edit struct {
	name, example string
	pairs         []string // what is replaced by what
	more          string   // put at the end
}

var edits = []edit{
	{name: "measured-again", example: "alder-creek-barn-row", pairs: []string{
		`bottom: 11' 6 1/4", top: 11' 6 5/16"}, by: crew lead, at: 2026-05-03 14:10`, `bottom: 11' 5 7/8", top: 11' 6"}, by: crew lead, at: 2026-05-12 09:00`, "revision: 1", "revision: 2"}},
	{name: "two-bays-measured", example: "alder-creek-barn-row", more: `  - {bay: A2-A3, width: {bottom: 11' 6 1/2", top: 11' 6 5/8"}, by: crew lead, at: 2026-05-12 09:10}
  - {bay: A1-left, width: {bottom: 11' 5 15/16", top: 11' 6"}, by: crew lead, at: 2026-05-12 09:20}
`},
	{name: "other-fronts", example: "alder-creek-barn-row", pairs: []string{"fronts: {door: slide-48, at: centre", "fronts: {door: slide-48, at: left"}},
	{name: "other-boards", example: "alder-creek-barn-row", pairs: []string{`51 1/4"`, `50 5/8"`}},
	{name: "one-stall-more", example: "alder-creek-barn-row", pairs: []string{"        - kind: stall\n          right: boards", "        - stall\n        - kind: stall\n          right: boards"}},
	{name: "other-kit", example: "alder-creek-barn-row", pairs: []string{"fernhollow", "nordhag", "slide-48", "slide-1200", "swing-48", "swing-1200"}},
	{name: "room-with-a-name", example: "alder-creek-barn-row", pairs: []string{"      rooms:\n        - stall\n", "      rooms:\n        - {kind: stall, name: Bella}\n", "bay: A1-A2", "bay: Bella-A2"}},
	{name: "row-longer-both-sides", example: "nordlia-free-barn", pairs: []string{
		"rooms: [stall, stall, stall]", "rooms: [stall, stall, stall, stall]", "        - stall\n        - stall\n        - {kind: wash", "        - stall\n        - stall\n        - stall\n        - {kind: wash"}},
	{name: "pen-wider", example: "harrow-field-pen", pairs: []string{"across: 60'", "across: 64'"}},
}

func (e edit) compare(t testing.TB) *differ.Diff {
	t.Helper()
	src := text(t, e.example)
	changed := src + e.more
	for i := 0; i < len(e.pairs); i += 2 {
		if !strings.Contains(changed, e.pairs[i]) {
			t.Fatalf("%s does not hold %q", e.example, e.pairs[i])
		}
		changed = strings.ReplaceAll(changed, e.pairs[i], e.pairs[i+1])
	}
	return differ.Compare(documentOf(t, "old.yaml", src), documentOf(t, "new.yaml", changed))
}

// The texts in testdata are to be read: they are how a change looks on a phone.
func TestTexts(t *testing.T) {
	for _, e := range edits {
		t.Run(e.name, func(t *testing.T) {
			got := e.compare(t).Text()
			file := filepath.Join("testdata", e.name+".txt")
			if *update {
				if err := os.WriteFile(file, got, 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != string(want) {
				t.Errorf("%s differs (-update writes it anew):\n%s", file, got)
			}
		})
	}
}

// A bay that was released and cut, and is measured again with its release taken
// back: the text says that its boards are cut already.
func TestWhatIsCutAlreadyIsSaid(t *testing.T) {
	src, err := os.ReadFile("testdata/released.yaml")
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(src), "states:")
	head = strings.Replace(head, `11' 6 1/4", by: crew lead, at: 2026-05-03 14:10`, `11' 5 7/8", by: crew lead, at: 2026-05-12 09:00`, 1)
	got := string(differ.Compare(documentOf(t, "old.yaml", string(src)), documentOf(t, "new.yaml", head)).Text())
	for _, want := range []string{"cut → measured: A1-A2", "A1-A2 (c1–c11)", "11 boards, 11' 6 1/16\" → 11' 5 11/16\", cut\n    already", "bottom: released at 11' 6 1/4\" →\n      11' 5 7/8\""} {
		if !strings.Contains(got, want) {
			t.Errorf("the text lacks %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "none should be cut") {
		t.Errorf("the boards are cut:\n%s", got)
	}
}

func edited(t *testing.T, name string) *differ.Diff {
	t.Helper()
	for _, e := range edits {
		if e.name == name {
			return e.compare(t)
		}
	}
	t.Fatalf("no edit %s", name)
	return nil
}

// A bay read 3/8 in narrower: its boards are 3/8 in shorter (a board is the clear
// width less the end play, whatever that is: common practice, no published
// source), so each can be cut from the old one, and nothing else changes.
func TestMeasuredAgainRecutsOnlyItsBay(t *testing.T) {
	const sixteenth = 25_400_000 / 16
	d := edited(t, "measured-again")
	if len(d.Bays) != 1 || d.Bays[0].New != "A1-A2" {
		t.Fatalf("bays %+v", d.Bays)
	}
	for _, v := range d.Bays[0].Values {
		if (v.Field == "clear" || v.Field == "board") && *v.NewNM-*v.OldNM != -6*sixteenth {
			t.Errorf("%s changed by %d", v.Field, *v.NewNM-*v.OldNM)
		}
	}
	boards := 0
	for _, p := range d.Pieces {
		if p.Kind == "board" {
			boards++
			if p.Use != differ.Recut || !strings.HasPrefix(p.New, "A1-A2/") {
				t.Errorf("%s: %s", p.New, p.Use)
			}
		}
	}
	if boards != 11 { // 9 below the grille and 2 above, as the example's summary tells
		t.Errorf("%d boards", boards)
	}
	found := false
	for _, n := range d.Bays[0].Causes {
		c := d.Causes[n]
		if c.What == "clear width at the bottom" {
			found = true
			if c.Of != "A1-A2" || c.Old != `11' 6 1/4"` || c.New != `11' 5 7/8"` || !strings.HasPrefix(c.OldSource, "measured by crew lead at 2026-05-03 14:10") || !strings.HasPrefix(c.NewSource, "measured by crew lead at 2026-05-12 09:00") {
				t.Errorf("%+v", c)
			}
		}
	}
	if !found {
		t.Errorf("the reading is not among the causes: %+v", d.Causes)
	}
}

// Bays measured for the first time: wider ones are cut anew, narrower ones again
// from the old boards, and the cause says that they were drawn before.
func TestDrawnThenMeasured(t *testing.T) {
	d := edited(t, "two-bays-measured")
	use := map[string]string{}
	for _, p := range d.Pieces {
		if p.Kind == "board" {
			use[p.Place] += p.Use + " "
		}
	}
	if got := use["A2-A3"]; strings.ReplaceAll(got, "again ", "") != "" || got == "" {
		t.Errorf("A2-A3 is wider: %s", got)
	}
	if got := use["A1-left"]; strings.ReplaceAll(got, "recut ", "") != "" || got == "" {
		t.Errorf("A1-left is narrower: %s", got)
	}
	for _, b := range d.Bays {
		if len(b.Causes) == 0 {
			t.Errorf("%s: no cause", b.New)
		}
		for _, v := range b.Values {
			if v.Field == "state" && (v.Old != "drawn" || v.New != "measured") {
				t.Errorf("%s: %+v", b.New, v)
			}
		}
	}
}

// A room with a new name changes nothing but names: no bay, no board, no order.
func TestANewNameChangesNothingElse(t *testing.T) {
	d := edited(t, "room-with-a-name")
	if len(d.Order) != 0 || len(d.Findings) != 0 || len(d.Causes) != 0 {
		t.Errorf("%d lines, %d findings, %+v", len(d.Order), len(d.Findings), d.Causes)
	}
	for _, p := range d.Pieces {
		if p.Use != differ.Keep || p.Old == p.New || len(p.Values) != 0 {
			t.Errorf("%+v", p)
		}
	}
	for _, b := range d.Bays {
		if len(b.Values) != 0 || !b.Renamed() {
			t.Errorf("%+v", b)
		}
	}
}

// Stalls put into both rows of a barn number those of the second row anew; their
// boards hang where they hung.
func TestRenumberedStallsKeepTheirBoards(t *testing.T) {
	d := edited(t, "row-longer-both-sides")
	now := map[string]string{}
	for _, r := range d.Rooms {
		now[r.Old] = r.New
	}
	for old, new := range map[string]string{"N4": "N6", "N5": "N7", "N6": "N8"} {
		if now[old] != new {
			t.Errorf("%s is now %s, want %s", old, now[old], new)
		}
	}
	for _, p := range d.Pieces {
		if strings.HasPrefix(p.Old, "N5-back/") && (p.Use != differ.Keep || !strings.HasPrefix(p.New, "N7-back/")) {
			t.Errorf("%s → %s: %s", p.Old, p.New, p.Use)
		}
	}
}

// Another kit is one cause, whatever follows from it.
func TestAnotherKitIsOneCause(t *testing.T) {
	d := edited(t, "other-kit")
	if c := d.Causes[0]; c.What != "kit" || c.Old != "fernhollow" || c.New != "nordhag" || len(c.Part) == 0 {
		t.Errorf("%+v", c)
	}
	for _, c := range d.Causes[1:] {
		if strings.HasPrefix(c.OldSource, "kit ") && strings.HasPrefix(c.NewSource, "kit ") {
			t.Errorf("told beside the kit: %+v", c)
		}
	}
}
