package site_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/site"
)

const in = measure.Inch

// rods levels every post of lines a and b from two set-ups, the second 3 in higher;
// the ground at the posts of a number falls as given, in inches.
func rods(falls ...float64) string {
	var b strings.Builder
	b.WriteString("readings:\n")
	for _, up := range []struct {
		name  string
		sight float64
	}{{"S1", 50}, {"S2", 53}} {
		for n, fall := range falls {
			for _, line := range []string{"a", "b"} {
				fmt.Fprintf(&b, "  - {level: A.%s%d, from: %s, rod: %g\"}\n", line, n+1, up.name, up.sight+fall)
			}
		}
	}
	return b.String()
}

// Two stalls whose ground falls 1 in a bay, 2 in over the row; 4 in of base and
// 3/4 in of mats to come. By hand: the finished floor at the first posts, 4 3/4 in
// above the ground there, governs; the datum is 2 1/4 in above it (the kit's), so
// the marks stand 2 1/4, 3 1/4 and 4 1/4 in above the finished floor, and 7, 8 and
// 9 in above the ground. The line has 2 1/4 in under the end wall at the first
// posts, 3 1/4 under the wall between, 4 1/4 under the other end wall; over 3 in
// the last is filled by 1 1/4.
func TestFloorTwoInchesOutOverTheRow(t *testing.T) {
	s, l := adjust(t, barn("one", 2, "floor: {base: 4\", mats: 3/4\"}\n"+rods(0, 1, 2)))
	want := map[string][2]measure.Length{"1": {9 * in / 4, 7 * in}, "2": {13 * in / 4, 8 * in}, "3": {17 * in / 4, 9 * in}}
	marked := map[string]bool{}
	for _, m := range s.Marks {
		name := l.Posts[m.Post].Name
		w, ok := want[name[len(name)-1:]]
		if !ok || strings.HasPrefix(name, "A1-") || strings.HasPrefix(name, "A2-") {
			continue
		}
		marked[name] = true
		if m.Above != w[0] || m.Ground != w[1] {
			t.Errorf("%s is marked %v above the finished floor, %v above the ground; want %v, %v", name, m.Above, m.Ground, w[0], w[1])
		}
	}
	if len(marked) != 6 {
		t.Errorf("marked: %v, want all six posts", marked)
	}
	gaps := map[string]*site.Gap{}
	for i := range s.Gaps {
		gaps[l.Bays[s.Gaps[i].Bay].Name] = &s.Gaps[i]
	}
	for name, w := range map[string]measure.Length{"A1-left": 9 * in / 4, "A1-A2": 13 * in / 4, "A2-right": 17 * in / 4} {
		if g := gaps[name]; g == nil || g.Most != w || g.Least != w || g.Wide() != (w > 3*in) {
			t.Errorf("%s: %+v, want %v", name, g, w)
		}
	}
	if g := gaps["A2-right"]; g.Fill != 5*in/4 || g.Skirt != [2]measure.Length{2 * in, 2 * in} {
		t.Errorf("A2-right is filled by %v or closed by a skirt of %v", g.Fill, g.Skirt)
	}
	// Along the back of the second stall the gap grows from 3 1/4 in at the posts of
	// number 2 by 1/144 of the way; a web stands 2 3/4 in of timber and its own
	// thickness away.
	g, b := gaps["A2-back"], 0
	for i := range l.Bays {
		if l.Bays[i].Name == "A2-back" {
			b = i
		}
	}
	r := &l.Runs[l.Bays[b].Run]
	near := 13*in/4 + r.Ends[0].Reach/144
	far := 17*in/4 - r.Ends[1].Reach/144
	if l.Posts[r.From].Name == "A.a3" {
		near, far = far, near
	}
	if (g.Ends[0]-near).Abs() > 2 || (g.Ends[1]-far).Abs() > 2 {
		t.Errorf("under A2-back %v, want %v and %v", g.Ends, near, far)
	}
	for _, f := range said(s, finding.FloorGap) {
		if f.Place == "A2-right" && (!strings.Contains(f.Message, `4 1/4" is left under the lowest board`) || !strings.Contains(fmt.Sprint(f.Choices), `way.fill-by by=`+(measure.Inch*5/4).String())) {
			t.Errorf("%+v", f)
		}
	}
	if f := said(s, finding.DatumLine); len(f) != 1 || !strings.Contains(f[0].Message, `highest at A.a1, which governs the datum line; it falls 2" to A.a3`) {
		t.Errorf("%v", f)
	}
	if len(s.Steps) != 0 {
		t.Errorf("each bay alone falls 1 in, more than the 3/4 in to spare: a step does not help, but %v", s.Steps)
	}
}

// Four bays falling 1/2 in each: within one line 3/4 in may fall, so that the line
// steps at every row of posts between bays.
func TestStepsInTheLine(t *testing.T) {
	s, _ := adjust(t, barn("one", 4, rods(0, 0.5, 1, 1.5, 2)))
	if len(s.Steps) != 3 {
		t.Fatalf("steps: %+v", s.Steps)
	}
	for i, st := range s.Steps {
		if st.Drop != in/2 || strings.Join(st.Posts, " ") != fmt.Sprintf("A.a%d A.b%d", i+2, i+2) {
			t.Errorf("step %d: %+v", i, st)
		}
	}
	told := said(s, finding.FloorGap)
	if len(told) == 0 || !strings.Contains(fmt.Sprint(told[0].Choices), `way.step-down by=`+(measure.Inch/2).String()+` posts=(slip.named name=A.a2, slip.named name=A.b2)`) {
		t.Errorf("%v", told)
	}
	if s, _ := adjust(t, barn("one", 4, rods(0, 0, 0.25, 1.25, 1.25))); len(s.Steps) != 0 {
		t.Errorf("one bay alone falls too much: %+v", s.Steps)
	}
	// 3/4 in over the first three bays fits one line; the last bay takes its own.
	if s, _ := adjust(t, barn("one", 4, rods(0, 0.25, 0.5, 0.75, 1.25))); len(s.Steps) != 1 || s.Steps[0].Drop != 3*in/4 || s.Steps[0].Posts[0] != "A.a4" {
		t.Errorf("%+v", s.Steps)
	}
}

// A hump in a room raises the line; a dip under a bay widens its gap; a finished
// spot takes no base; a benchmark sets the zero.
func TestSpots(t *testing.T) {
	spots := `floor: {base: 4"}
spots:
  - {name: hump, room: A1}
  - {name: dip, bay: A1-left, along: 6'}
  - {name: apron, room: A1, finished: true}
  - {name: sill, height: 100'}
`
	more := `  - {level: hump, from: S1, rod: 49"}
  - {level: hump, from: S2, rod: 52"}
  - {level: dip, from: S1, rod: 52"}
  - {level: dip, from: S2, rod: 55"}
  - {level: apron, from: S1, rod: 47"}
  - {level: apron, from: S2, rod: 50"}
  - {level: sill, from: S1, rod: 40"}
  - {level: sill, from: S2, rod: 43"}
`
	s, l := adjust(t, barn("one", 1, spots+rods(0, 0)+more))
	ground := map[string]measure.Length{"A.a1": 1190 * in, "hump": 1191 * in, "dip": 1188 * in, "apron": 1193 * in, "sill": 1200 * in}
	finished := map[string]measure.Length{"A.a1": 1194 * in, "hump": 1195 * in, "dip": 1192 * in, "apron": 1193 * in, "sill": 1200 * in}
	for _, v := range s.Levels {
		if w, ok := ground[v.Name]; ok && ((v.Ground-w).Abs() > 5 || (v.Finished-finished[v.Name]).Abs() > 5 || !v.Known) {
			t.Errorf("%s: ground %v, finished %v; want %v, %v", v.Name, v.Ground, v.Finished, w, finished[v.Name])
		}
	}
	if n := s.Lines[0]; s.Levels[n.Highest].Name != "hump" || n.Height != 1195*in+9*in/4 {
		t.Errorf("%s governs, the line stands at %v", s.Levels[n.Highest].Name, n.Height)
	}
	for i := range s.Gaps {
		g := &s.Gaps[i]
		switch l.Bays[g.Bay].Name {
		case "A1-left": // 2 1/4 + 1 at the posts, 2 in more over the dip 72 in from them
			web := l.Runs[l.Bays[g.Bay].Run].Ends[0].Reach
			if w := 13*in/4 + 2*web/72; (g.Least-w).Abs() > 2 || g.Most != 21*in/4 {
				t.Errorf("A1-left: %v to %v", g.Least, g.Most)
			}
		case "A1-right":
			if g.Most != 13*in/4 {
				t.Errorf("A1-right: %v", g.Most)
			}
		}
	}
}

// Walls 7 ft 9 in high on a finished floor 4 3/4 in above the ground reach 8 ft
// 1 3/4 in above it: trusses 8 ft 1 in up are 3/4 in too low, 8 ft 2 in leave 1/4.
func TestWallsUnderTrusses(t *testing.T) {
	for under, left := range map[string]measure.Length{"8' 1\"": -3 * in / 4, "8' 2\"": in / 4} {
		for _, readings := range []string{"", rods(0, 0)} {
			src := barn("one", 1, "    trusses: {under: "+under+", post: A.b2}\nfloor: {base: 4\", mats: 3/4\"}\n"+readings)
			s, _ := adjust(t, src)
			if len(s.Headroom) != 1 || s.Headroom[0].Left != left {
				t.Errorf("%s: %+v, want %v left", under, s.Headroom, left)
			}
			if f := said(s, finding.Headroom); (len(f) == 1) != (left < 0) {
				t.Errorf("%s: %v", under, f)
			} else if left < 0 && !strings.Contains(f[0].Message, `reach 3/4" above the underside of the trusses`) {
				t.Errorf("%v", f)
			}
		}
	}
}

// Through the plan: fit marks what the site marks, and hangs doors over the floor
// as it lies under them.
func TestFitTakesTheFloor(t *testing.T) {
	j, k, _ := draw(t, barn("one", 2, rods(0, 0.25, 0.75)))
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	marks := map[int]measure.Length{}
	for _, m := range p.Fit.Marks {
		marks[m.Post] = m.Height
	}
	for _, m := range p.Site.Marks {
		if marks[m.Post] != m.Above {
			t.Errorf("%s: fit marks %v, the site %v", p.Layout.Posts[m.Post].Name, marks[m.Post], m.Above)
		}
	}
	i, _ := p.Layout.Bay("A2-front-door")
	b, d := &p.Layout.Bays[i], p.Fit.Bays[i].Door
	r := &p.Layout.Runs[b.Run]
	// The floor falls from 1/4 in to 3/4 in over the 144 in between the front's
	// posts; the doorway lies from its left jamb to its right one.
	at := func(x measure.Length) measure.Length {
		if p.Layout.Posts[r.From].Name == "A.b3" {
			x = r.Centres - x
		}
		return in/4 + x/288
	}
	left := r.Ends[0].Reach + b.Start
	lo, hi := min(at(left), at(left+b.Clear)), max(at(left), at(left+b.Clear))
	if (d.Fall[0]-lo).Abs() > 2 || (d.Fall[1]-hi).Abs() > 2 {
		t.Errorf("the floor at the doorway lies %v lower, want %v to %v", d.Fall, lo, hi)
	}
	if d.GapTo <= d.GapFrom {
		t.Errorf("the stems leave no range: %v to %v", d.GapFrom, d.GapTo)
	}
	chain := p.Fit.Marks[0].Why.Trace()
	for _, want := range []string{"why.finished-floor-at", "rule.level-adjusted plus=", "why.rod post=A.", "set-up=S1"} {
		if !strings.Contains(chain, want) {
			t.Errorf("the mark's reason lacks %q:\n%s", want, chain)
		}
	}
}

// A rod misread by a foot, and the same read a third time: the first is named, and
// the floor is what the good ones say.
func TestWrongRodReading(t *testing.T) {
	src := barn("one", 2, rods(0, 0.5, 0.5))
	wrong := strings.Replace(src, `A.b2, from: S2, rod: 53.5"`, `A.b2, from: S2, rod: 65.5"`, 1)
	s, _ := adjust(t, wrong)
	f := said(s, finding.ReadingSuspect)
	if len(f) != 1 || !strings.Contains(f[0].Message, "level reading at A.b2 from set-up S1") && !strings.Contains(f[0].Message, "level reading at A.b2 from set-up S2") {
		t.Fatalf("%v", f)
	}
	s, _ = adjust(t, wrong+"  - {level: A.b2, from: S2, rod: 53.5\"}\n")
	f = said(s, finding.ReadingSuspect)
	if len(f) != 1 || !strings.HasPrefix(f[0].Message, "Level reading at A.b2 from set-up S2 disagrees with the others by 1' 0\": it reads 5' 5 1/2\", they make it 4' 5 1/2\"") || strings.Contains(f[0].Message, "cannot tell") {
		t.Errorf("%v", f)
	}
	for _, v := range s.Levels {
		if v.Name == "A.b2" && v.Finished != -in/2 {
			t.Errorf("the floor at A.b2 is %v", v.Finished)
		}
	}
}

// A set-up that shares no point with the other cannot be used; its posts keep the
// drawing's level floor and are told.
func TestUnconnectedSetUp(t *testing.T) {
	s, _ := adjust(t, barn("one", 2, `readings:
  - {level: A.a1, from: S1, rod: 50"}
  - {level: A.b1, from: S1, rod: 50"}
  - {level: A.a2, from: S1, rod: 50"}
  - {level: A.a3, from: S2, rod: 50"}
  - {level: A.b3, from: S2, rod: 51"}
`))
	f := said(s, finding.PostUnplaced)
	if len(f) != 1 || !strings.Contains(f[0].Message, "share no point with the others: from one of these set-ups read a point that another set-up has read") || len(f[0].Choices) == 0 {
		t.Errorf("%v", f)
	}
	for _, v := range s.Levels {
		if loose := v.Name == "A.a3" || v.Name == "A.b3"; loose == v.Known {
			t.Errorf("%s: known %v", v.Name, v.Known)
		}
	}
	if f := said(s, finding.PostUnread); len(f) != 1 || !strings.Contains(f[0].Message, "no level reading at A.b2") {
		t.Errorf("%v", f)
	}
	for _, g := range s.Gaps {
		if s.Lines[g.Line].Structure != 0 {
			t.Errorf("%+v", g)
		}
	}
}

// Floors that a job states count as before, and their gaps are looked at too.
func TestStatedFloors(t *testing.T) {
	s, _ := adjust(t, barn("one", 1, `floors:
  - {post: A.a1, height: 0"}
  - {post: A.b1, height: 0"}
  - {post: A.a2, height: -2"}
  - {post: A.b2, height: -2"}
`))
	if f := said(s, finding.FloorGap); len(f) == 0 || said(s, finding.DatumLine) != nil {
		t.Errorf("%v", s.Findings)
	}
	for _, m := range s.Marks {
		if m.Above != 9*in/4 && m.Above != 17*in/4 {
			t.Errorf("%+v", m)
		}
	}
}
