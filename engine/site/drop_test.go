package site_test

import (
	"strings"
	"testing"

	"stallwright/engine/build/buildtest"
	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/site"
)

// madePlan works a job through.
func madePlan(t *testing.T, src string) *plan.Plan {
	t.Helper()
	j, k, _ := draw(t, src)
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// marksOf are the fit's marks of a post by the runs that start from them, checked
// against the site's own.
func marksOf(t *testing.T, p *plan.Plan, post string) map[measure.Length][]string {
	t.Helper()
	out := map[measure.Length][]string{}
	for _, m := range p.Fit.Marks {
		if p.Layout.Posts[m.Post].Name != post {
			continue
		}
		for _, r := range m.Runs {
			out[m.Height] = append(out[m.Height], p.Layout.Runs[r].Name)
		}
	}
	seen := map[measure.Length]bool{}
	for _, m := range p.Site.Marks {
		if p.Layout.Posts[m.Post].Name == post {
			seen[m.Above] = true
		}
	}
	for h := range out {
		if !seen[h] {
			t.Errorf("%s: the fit marks %v, the site %v", post, h, seen)
		}
	}
	return out
}

// Four bays falling 1/2 in each, 2 in over the row, and the datum 2 1/4 in over
// the highest floor. The line steps down by 1 in at the posts of number 3, by hand:
// there the walls before the step start 2 1/4 + 1 in above the floor and those
// beyond it 1 in lower; at the last posts the gap is 2 1/4 + 2 − 1 in.
func TestStatedStepIsFollowed(t *testing.T) {
	level := barn("one", 4, rods(0, 0.5, 1, 1.5, 2))
	stepped := barn("one", 4, rods(0, 0.5, 1, 1.5, 2)+"datum:\n  steps:\n    - {structure: A, at: 3, drop: 1\"}\n")
	p := madePlan(t, stepped)
	at := marksOf(t, p, "A.b3")
	if before, beyond := at[13*in/4], at[9*in/4]; len(at) != 2 || !strings.Contains(strings.Join(before, " "), "A2-front") || !strings.Contains(strings.Join(before, " "), "A2-A3") || strings.Join(beyond, " ") != "A3-front" {
		t.Errorf("A.b3 is marked %v", at)
	}
	if at := marksOf(t, p, "A.b5"); len(at) != 1 || at[13*in/4] == nil {
		t.Errorf("A.b5 is marked %v, want 3 1/4 in alone", at)
	}
	wide := func(p *plan.Plan) (names []string) {
		for _, g := range p.Site.Gaps {
			if g.Wide() {
				names = append(names, p.Layout.Bays[g.Bay].Name)
			}
		}
		return names
	}
	before, after := wide(madePlan(t, level)), wide(p)
	if len(before) == 0 || len(after) >= len(before) {
		t.Errorf("wide before %v, after the step %v", before, after)
	}
	// The doorway beyond the step counts its floor from the lower line: 1 in less.
	door := func(p *plan.Plan) [2]measure.Length {
		i, _ := p.Layout.Bay("A4-front-door")
		return p.Fit.Bays[i].Door.Fall
	}
	a, b := door(madePlan(t, level)), door(p)
	if a[0]-b[0] != in || a[1]-b[1] != in {
		t.Errorf("the floor at A4's doorway lies %v under the level line, %v under the stepped one", a, b)
	}
}

// The last posts filled by 1 in: the floor there is an inch higher, so the mark
// stands an inch nearer to it, and as high above the ground as before.
func TestStatedFillIsFollowed(t *testing.T) {
	src := barn("one", 2, rods(0, 1, 2))
	filled, l := adjust(t, src+"datum:\n  fills:\n    - {at: A.a3, by: 1\"}\n    - {at: A.b3, by: 1\"}\n")
	plain, _ := adjust(t, src)
	mark := func(s *site.Site) site.Mark {
		for _, m := range s.Marks {
			if l.Posts[m.Post].Name == "A.b3" {
				return m
			}
		}
		t.Fatal("A.b3 has no mark")
		return site.Mark{}
	}
	a, b := mark(plain), mark(filled)
	if a.Above != 17*in/4 || b.Above != 13*in/4 || a.Ground != b.Ground {
		t.Errorf("A.b3 is marked %v above the floor and %v above the ground, filled %v and %v", a.Above, a.Ground, b.Above, b.Ground)
	}
	for _, f := range said(filled, finding.FloorGap) {
		if f.Place == "A2-right" && strings.Contains(f.Message, `4 1/4"`) {
			t.Errorf("%v", f)
		}
	}
}

// The end wall, 4 1/4 in over its floor at both ends, gets a skirt of the 2 in that
// this is more than the datum; then 2 1/4 in are left and nothing is wide.
func TestStatedSkirtIsCut(t *testing.T) {
	p := madePlan(t, barn("one", 2, rods(0, 1, 2)+"datum:\n  skirts:\n    - {bay: A2-right}\n"))
	i, _ := p.Layout.Bay("A2-right")
	n := 0
	for k := range p.Fit.Pieces {
		if q := &p.Fit.Pieces[k]; q.Label == "A2-right/skirt" {
			n++
			if q.Kind != fit.Skirt || q.Height != 2*in || q.Length != p.Fit.Bays[i].Board || q.Z != -2*in || !q.Ripped || !q.Cut {
				t.Errorf("%+v", q)
			}
		}
	}
	if n != 1 {
		t.Errorf("%d skirts", n)
	}
	buildtest.Verify(t, p.Stages(), p.Build)
	for _, g := range p.Site.Gaps {
		if g.Bay == i && (!g.Skirted || g.Most != 9*in/4 || g.Wide()) {
			t.Errorf("%+v", g)
		}
	}
	bare := madePlan(t, barn("one", 2, rods(0, 1, 2)))
	boards := func(p *plan.Plan) (n int) {
		for i := range p.Takeoff.Needs {
			if v := &p.Takeoff.Needs[i]; v.Item == fit.Lumber && v.Place == "A2-right" {
				n += v.Count
			}
		}
		return n
	}
	// Two screws at each end hold it, 3 in long: through 1 1/2 in of board into the
	// post (common practice, no published source). They are on the order, and the step
	// that sets the board has them.
	screws := func(p *plan.Plan) (ordered, used int) {
		for i := range p.Takeoff.Needs {
			if v := &p.Takeoff.Needs[i]; v.Item == "wood-screw" && v.Length == 3*in {
				ordered += v.Count
			}
		}
		for i := range p.Build.Operations {
			for _, u := range p.Build.Operations[i].Bolts {
				if u.Item == "wood-screw" && u.Length == 3*in && u.Piece >= 0 && p.Fit.Pieces[u.Piece].Label == "A2-right/skirt" {
					used += u.Count
				}
			}
		}
		return ordered, used
	}
	if ordered, used := screws(p); ordered != 4 || used != 4 {
		t.Errorf("%d screws are ordered for the skirt and %d used, want 4", ordered, used)
	}
	if ordered, _ := screws(bare); ordered != 0 {
		t.Errorf("%d screws are ordered without a skirt", ordered)
	}
	if boards(p) != boards(bare)+1 {
		t.Errorf("%d boards are ordered for the wall, %d without the skirt", boards(p), boards(bare))
	}
}

// What cannot be is told with its line.
func TestDatumThatCannotBe(t *testing.T) {
	for _, c := range []struct{ datum, want string }{
		{`steps: [{structure: B, at: 2, drop: 1"}]`, `there is no structure "B"`},
		{`steps: [{structure: A, at: 3, drop: 1"}]`, "the posts of A are numbered up to 3, and no bay stands beyond its last ones"},
		{`steps: [{structure: A, at: 2, drop: 0"}]`, "no line steps by this"},
		{`steps: [{structure: A, at: 2, drop: 1"}, {structure: A, at: 2, drop: 1"}]`, "steps at 2 twice"},
		{`fills: [{at: A.a9, by: 1"}]`, `there is no post or spot "A.a9"`},
		{`fills: [{at: A.a1, by: -1"}]`, "filled by more than nothing"},
		{`skirts: [{bay: A1-front-door}]`, "a skirt board goes under boards"},
		{`skirts: [{bay: A1-bakc}]`, "did you mean A1-back?"},
	} {
		src := barn("one", 2, "datum: {"+c.datum+"}\n")
		j, err := job.Read("job.yaml", []byte(src))
		if err == nil {
			file, text, _ := kit.Shipped("fernhollow")
			k, bad := kit.Read(file, text)
			if bad != nil {
				t.Fatal(bad)
			}
			_, err = frame.Build(j, k)
		}
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "job.yaml:") {
			t.Errorf("%s: %v, want %q", c.datum, err, c.want)
		}
	}
}

// A pen behind the barn, levelled from a set-up of its own: nothing joins the two
// and nothing has to. Each counts from a zero of its own; by hand, the rod stands
// 1 in lower at the last posts of either.
func TestStructuresNeedNoCommonZero(t *testing.T) {
	src := strings.Replace(barn("one", 1, ""), "structures:\n", "structures:\n  - pen: {name: P, across: 40', section: 12', base: pier-12}\n", 1)
	_, _, l := draw(t, src)
	var b strings.Builder
	b.WriteString("readings:\n")
	for i := range l.Posts {
		v := &l.Posts[i]
		if v.Kind == frame.Door {
			continue
		}
		rod := `50"`
		if strings.HasSuffix(v.Name, "2") {
			rod = `51"`
		}
		b.WriteString("  - {level: " + v.Name + ", from: " + l.Structures[v.Structure].Name + "-1, rod: " + rod + "}\n")
	}
	s, _ := adjust(t, src+b.String())
	if f := said(s, finding.PostUnplaced); len(f) > 0 {
		t.Fatalf("%v", f)
	}
	for _, v := range s.Levels {
		want := measure.Length(0)
		if strings.HasSuffix(v.Name, "2") {
			want = -in
		}
		if !v.Known || v.Ground-s.Levels[0].Ground != want && v.Structure == s.Levels[0].Structure {
			t.Errorf("%s: known %v, ground %v", v.Name, v.Known, v.Ground)
		}
	}
	p := madePlan(t, src+b.String())
	for i := range p.Setout.Structures {
		if o := &p.Setout.Structures[i]; o.Site != nil && o.Site.Fall.Value != in {
			t.Errorf("%s falls %v", o.Name, o.Site.Fall.Value)
		}
	}
	if o := p.Setout.Structures[0]; o.Pen == nil || o.Site == nil {
		t.Error("the pen's ground is not known")
	}
}

// A door post that nobody levelled stands on the floor between its run's posts:
// with the floor 0 at the first posts and 1/2 in lower at the second, 12 ft on, the
// marks on the front's door posts lie between 2 1/4 and 2 3/4 in, by hand: the jamb
// 45 1/4 + 2 3/4 in from the left post's axis has 48/288 in of fall, to the mark
// 3/16; the other, 96 in on, 96/288, 5/16.
func TestDoorPostsBetweenLevelledPosts(t *testing.T) {
	p := madePlan(t, barn("one", 1, "floors:\n  - {post: A.a1, height: 0\"}\n  - {post: A.b1, height: 0\"}\n  - {post: A.a2, height: -1/2\"}\n  - {post: A.b2, height: -1/2\"}\n"))
	want := map[string]measure.Length{"A1-front.l": 9*in/4 + 3*in/16, "A1-front.r": 9*in/4 + 5*in/16, "A.b1": 9 * in / 4, "A.b2": 11 * in / 4}
	for _, m := range p.Fit.Marks {
		name := p.Layout.Posts[m.Post].Name
		if w, ok := want[name]; ok && m.Height != w {
			t.Errorf("%s is marked at %v, want %v", name, m.Height, w)
		}
		delete(want, name)
	}
	if len(want) > 0 {
		t.Errorf("no marks on %v", want)
	}
}
