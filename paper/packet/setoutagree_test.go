package packet_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stallwright/engine/plan/plantest"
	"stallwright/paper/packet"
)

// hillside is the plan of a levelled slope: a pen with one pier set wrong, and a
// row.
func hillside(t *testing.T) []byte {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("testdata", "hillside.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	data, err := packet.JSON(plantest.Make(t, "hillside.yaml", src))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Everything set out is in plan.json, in the sheet's own figures, and comes back.
func TestSetoutInPlanJSON(t *testing.T) {
	d, err := packet.Read("plan.json", hillside(t))
	if err != nil {
		t.Fatal(err)
	}
	pen, row := d.Setout[0], d.Setout[1]
	// Figures of the kept sheet, which people have read.
	got := []string{
		pen.Pen.Radius.Tape, pen.Pen.Piers[2].Angle.Transit, pen.Pen.Piers[0].Skip.Tape, pen.Pen.Closing.Moves[0].Post,
		pen.Bases.List[3].Out.Tape, pen.Bases.List[3].Concrete.Shown, pen.Bases.Concrete.Shown, pen.Ground.Fall.Tape,
		row.Grid.Frames[0].Diagonals[0].Tape, row.Grid.Squares[0].Hyp.Tape, row.Lines[0].Marks[1].From.Tape, row.Ground.Levels[1].Fill.Shown,
	}
	want := []string{
		`24' 9"`, `39° 42' 43"`, `21' 5 7/16"`, "P.p6", `4 1/2"`, "3.05 ft³", "39.27 ft³", `9"`,
		`26' 10"`, `20' 0"`, `24' 0"`, "4.5 yd³",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if pen.Bases.Bags != 72 || pen.Pen.Closing.Fits || len(row.Grid.Stakes) != 6 {
		t.Errorf("bags %d, fits %v, stakes %d", pen.Bases.Bags, pen.Pen.Closing.Fits, len(row.Grid.Stakes))
	}
	every := map[string]bool{}
	for _, r := range d.Reasons {
		every[r.What] = true
	}
	if r := pen.Pen.Piers[4].X.Reason; r < 0 || !strings.Contains(d.Reasons[r].What, "P.p5") {
		t.Errorf("no reason for P.p5's place: %d", r)
	}
}

// A setting out whose figures do not belong together is refused at its place.
func TestSetoutThatDoesNotAgreeIsRefused(t *testing.T) {
	good := string(hillside(t))
	at := strings.Index(good, `"setout": [`)
	swap := func(after, old, new string) string {
		i := at + strings.Index(good[at:], after)
		k := strings.Index(good[i:], old)
		if i < at || k < 0 {
			t.Fatalf("no %s after %s", old, after)
		}
		return good[:i+k] + new + good[i+k+len(old):]
	}
	for _, c := range []struct{ name, src, want string }{
		{"a pier off its circle", swap(`"post": "P.p5"`, `"is_nm": -`, `"is_nm": -1`), "the radius at P.p5 is"},
		{"a pier that is no post", swap(`"piers": [`, `"post": "P.p3"`, `"post": "P.q3"`), `there is no post "P.q3"`},
		{"a chord of another ring", swap(`"skip_one"`, `"is_nm": 6`, `"is_nm": 7`), "P.p1 to P.p3 is"},
		{"bags that do not add up", swap(`"bases": {`, `"bags": 72`, `"bags": 71`), "there are 71 bags in all, but the bases take 72"},
		{"concrete that does not add up", swap(`"concrete": {
          "shown": "39`, `"is_nl": 1`, `"is_nl": 2`), "the concrete in all is not that of the bases"},
		{"a fall that is not", swap(`"fall": {`, `"is_nm": 2`, `"is_nm": 3`), "the fall is"},
		{"a diagonal that is not", swap(`"diagonals": [`, `"is_nm": 8`, `"is_nm": 9`), "the diagonal from B.b1 is"},
		{"a reason that is not there", swap(`"radius": {`, `"reason": `, `"reason": 99`), "there is no reason 99"},
		{"earth that is not its prisms'", swap(`"cut": {`, `"is_nl": `, `"is_nl": 9`), "the cut is not the sum of its prisms"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := packet.Read("plan.json", []byte(c.src))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v; want %q", err, c.want)
			}
		})
	}
}
