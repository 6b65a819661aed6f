package frame_test

import (
	"errors"
	"os"
	"strings"
	"testing"

	"stallwright/engine/document"
	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

const in, ft, mm = measure.Inch, measure.Foot, measure.Millimetre

const head = `job: frame
units: feet
kit: check
farm: {name: Farm}
lumber: {species: southern-pine, coverage: 5 in, tongue: 3/8 in, lengths: [12 ft]}
`

func build(t *testing.T, src string) (*frame.Layout, error) {
	t.Helper()
	line, err := os.ReadFile("../plan/testdata/check.yaml")
	if err != nil {
		t.Fatal(err)
	}
	k, err := kit.Read("check.yaml", line)
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Read("job.yaml", []byte(head+src))
	if err != nil {
		t.Fatal(err)
	}
	return frame.Build(j, k)
}

func layout(t *testing.T, src string) *frame.Layout {
	t.Helper()
	l, err := build(t, src)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func post(t *testing.T, l *frame.Layout, name string) *frame.Post {
	t.Helper()
	i, ok := l.Post(name)
	if !ok {
		t.Fatalf("no post %q", name)
	}
	return &l.Posts[i]
}

func bay(t *testing.T, l *frame.Layout, name string) *frame.Bay {
	t.Helper()
	i, ok := l.Bay(name)
	if !ok {
		t.Fatalf("no bay %q among %v", name, l.BayNames())
	}
	return &l.Bays[i]
}

func same(t *testing.T, what string, got, want measure.Length) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// Posts 5 1/2 in thick. Timber wall between two of them, 12 ft apart: 144 − 5 1/2
// − 2·3/16 = 138 1/8. Front: 144 − 5 1/2 − 2·1 1/4 = 136.
func TestBarnRow(t *testing.T) {
	l := layout(t, `structures:
  - barn-row:
      name: A
      post: 5 1/2 in x 4 1/2 in
      spacing: [12 ft, 10 ft, 10 ft]
      depth: 14 ft
      rooms: [stall, {kind: foaling, spans: 2, front: {span: 2}}]
      offsets: [{post: A.b2, along: 1 in, across: -1/2 in}]
`)
	for name, at := range map[string]frame.Point{
		"A.a1": {X: 0, Y: 14 * ft}, "A.b1": {}, "A.a2": {X: 12 * ft, Y: 14 * ft}, "A.b2": {X: 12*ft + in, Y: in / 2}, "A.b4": {X: 32 * ft},
	} {
		if got := post(t, l, name).At; got != at {
			t.Errorf("%s stands at %v, want %v", name, got, at)
		}
	}
	// Across the barn the timber is 4 1/2 in thick: 168 − 4 1/2 − 3/8.
	same(t, "A1-left", bay(t, l, "A1-left").Clear, 163*in+in/8)
	same(t, "A1-back", bay(t, l, "A1-back").Clear, 138*in+in/8)
	// The doorway of the second room stands in its second spacing, in the middle:
	// 120 − 5 1/2 − 2 1/2 = 112, less 48, halved: 32.
	same(t, "A2-front2-door", bay(t, l, "A2-front2-door").Start, 32*in)
	// The panel beside it: 32 less half a door post 1 1/4 and its reach 1.
	same(t, "A2-front2-left", bay(t, l, "A2-front2-left").Clear, 29*in+in*3/4)
	same(t, "door post from the left post", post(t, l, "A2-front2.l").At.X-post(t, l, "A.b3").At.X, 2*in+in*3/4+in+in/4+32*in-in-in/4)
	if v := bay(t, l, "A2-front1"); v.Fill.Kind != job.FillGrille {
		t.Errorf("the first spacing of the second room is filled with %s", v.Fill.Kind)
	}
	if len(l.Rooms) != 2 || l.Rooms[1].Kind != job.Foaling || l.Rooms[0].Depth != 14*ft {
		t.Errorf("%+v", l.Rooms)
	}
	// The front of the first room runs askew to the moved post: exactly, the
	// distance to (145, 1/2) in; rounded down to the nanometre.
	r := l.Runs[bay(t, l, "A1-front-door").Run]
	if x, y := int64(145*in), int64(in/2); int64(r.Centres)/1000*(int64(r.Centres)/1000) > (x/1000*(x/1000)+y/1000*(y/1000)) || r.Centres <= 145*in {
		t.Errorf("A1-front is %v long", r.Centres)
	}
}

// Rows facing: the second row's fronts lie south of the aisle and its first room
// in the east, seen from its own front the left. Back to back, both rows share
// one back wall, each room the runs behind it.
func TestTwoRows(t *testing.T) {
	rows := `structures:
  - barn-row:
      name: A
      rows: ROWS
      post: 5 1/2 in
      spacing: 12 ft
      depth: 12 ft
      AISLE
      rooms: [stall, {kind: tack, name: tack}]
      second: [{kind: wash, name: wash}, stall]
`
	l := layout(t, strings.NewReplacer("ROWS", "facing", "AISLE", "aisle: 10 ft").Replace(rows))
	if a := l.Aisles; len(a) != 1 || a[0].Width != 10*ft || a[0].Clear != 10*ft-5*in-in/2 || a[0].Length != 24*ft {
		t.Errorf("%+v", a)
	}
	w := bay(t, l, "wash-front")
	if r := l.Runs[w.Run]; l.Posts[r.From].At.X != 24*ft || l.Posts[r.To].At.X != 12*ft || l.Posts[r.From].At.Y != -10*ft {
		t.Errorf("the wash's front runs from %v to %v", l.Posts[r.From].At, l.Posts[r.To].At)
	}
	if !w.IsOpen() {
		t.Error("a wash has a door nobody asked for")
	}
	bay(t, l, "A4-front-door")

	l = layout(t, strings.NewReplacer("ROWS", "back-to-back", "AISLE", "").Replace(rows))
	backs := 0
	for i := range l.Runs {
		if l.Runs[i].Role == job.WallBack {
			backs++
		}
	}
	if backs != 2 {
		t.Errorf("%d runs of shared back wall, want 2", backs)
	}
	// The wash stands in the east, behind the tack room.
	shared := bay(t, l, "tack-back").Run
	for _, r := range l.Rooms {
		has := false
		for _, run := range r.Runs {
			has = has || run == shared
		}
		if want := r.Name == "tack" || r.Name == "wash"; has != want {
			t.Errorf("%s has the wall behind the tack room: %v", r.Name, has)
		}
	}
	_, err := build(t, strings.Replace(strings.NewReplacer("ROWS", "back-to-back", "AISLE", "").Replace(rows), "name: wash}", "name: wash, back: boards}", 1))
	told(t, err, "share their back wall")
}

// told asks for one mistake whose message holds a text.
func told(t *testing.T, err error, part string) {
	t.Helper()
	var ps document.Problems
	if !errors.As(err, &ps) || len(ps) != 1 || !strings.Contains(ps[0].Message, part) || ps[0].Pos.Line == 0 || ps[0].Hint == "" {
		t.Errorf("told: %v; want one mistake with %q", err, part)
	}
}

// A free-standing row: posts 2 1/2 in, reach 1 1/2: 144 − 3 = 141 clear. As a
// barn, the roof rises from the back, at 8 ft, by 12 ft · 4/12 = 4 ft.
func TestFreeRows(t *testing.T) {
	row := `structures:
  - KIND:
      name: B
      width: 12 ft
      depth: 14 ft
      rooms: [stall, {kind: stall, width: 10 ft}]
      ROOF
`
	l := layout(t, strings.NewReplacer("KIND", "free-row", "ROOF", "base: foot").Replace(row))
	same(t, "B1-B2", bay(t, l, "B1-B2").Clear, 14*ft-3*in)
	same(t, "B2-back", bay(t, l, "B2-back").Clear, 10*ft-3*in)
	for name, id := range map[string]string{"B.a1": "corner", "B.a2": "tee", "B.a3": "corner"} {
		if p := post(t, l, name); p.Item.ID != id || p.Base == nil || p.Height != 8*ft {
			t.Errorf("%s is a %s %v high on %v", name, p.Item.ID, p.Height, p.Base)
		}
	}
	l = layout(t, strings.NewReplacer("KIND", "free-barn", "ROOF", "roof: {eave: 8 ft, pitch: 4/12}").Replace(row))
	same(t, "back post", post(t, l, "B.a1").Height, 8*ft)
	same(t, "front post", post(t, l, "B.b1").Height, 8*ft+14*ft/3)
	roofs := 0
	for _, j := range l.Joints {
		if j.Kind == kit.JointRoof {
			roofs++
		}
	}
	if roofs != 6 {
		t.Errorf("%d posts bear the roof, want 6", roofs)
	}
}

// Pens by count, by size, and by both. By size: of sections of 12 ft the ring
// nearest to 60 ft across its pins has 16 (61.51 ft; 15 make 57.72). By both:
// 60 ft · sin(180°/20) = 9.3861 ft, down to a sixteenth: 112 5/8 in.
func TestPens(t *testing.T) {
	pen := func(keys string) *frame.Layout { return layout(t, "structures:\n  - pen: {name: P, "+keys+"}\n") }
	ring := func(l *frame.Layout) *frame.Ring { return l.Structures[0].Ring }

	if r := ring(pen("across: 60 ft")); len(r.Sections) != 16 || r.Sections[3] != 12*ft {
		t.Errorf("%d sections of %v", len(r.Sections), r.Sections[3])
	}
	if r := ring(pen("across: 58 ft")); len(r.Sections) != 15 {
		t.Errorf("%d sections", len(r.Sections))
	}
	if r := ring(pen("across: 60 ft, sections: 20")); len(r.Sections) != 20 || r.Sections[3] != 112*in+in*5/8 {
		t.Errorf("%d sections of %v", len(r.Sections), r.Sections[3])
	}
	// 60 ft inside the flats: 60 ft and a wall of 1 1/2 in, times tan(180°/20) =
	// 0.1583844: 114.275 in, down to 114 1/4.
	if r := ring(pen("across: 60 ft, sections: 20, measured: flats")); r.Sections[3] != 114*in+in/4 {
		t.Errorf("flats: sections of %v", r.Sections[3])
	}
	// 60 ft inside the corners: 60 ft and an upright of 2 in, times sin(180°/20) =
	// 0.1564345: 112.9457 in, down to 112 15/16.
	if r := ring(pen("across: 60 ft, sections: 20, measured: corners")); r.Sections[3] != 112*in+in*15/16 {
		t.Errorf("corners: sections of %v", r.Sections[3])
	}

	// Three sections of 30 ft are as small as their ring gets, 2·30/√3 = 34.64 ft:
	// far from the 12 ft asked for, and said so as more than a note.
	far := pen("across: 12 ft, section: 30 ft")
	if f := far.Findings[0]; f.Code != finding.PenSize || f.Severity != finding.Warning || !strings.Contains(f.Message, "asked for 12' 0\"") {
		t.Errorf("%+v", f)
	}
	if f := pen("across: 60 ft").Findings[0]; f.Severity != finding.Note {
		t.Errorf("%+v", f)
	}

	l := pen("sections: 16, section: 12 ft, gate: {length: 10 ft, toward: 90°}, different: [{at: 9, length: 8 ft, fill: open}]")
	r := ring(l)
	if r.Sections[0] != 10*ft || r.Sections[8] != 8*ft || r.Sections[1] != 12*ft {
		t.Errorf("%v", r.Sections)
	}
	// The gate's two pins stand level, north of the centre, the first in the east.
	a, b := post(t, l, "P.p1").At, post(t, l, "P.p2").At
	if (a.Y-b.Y).Abs() > 2 || a.Y <= 0 || (a.X+b.X).Abs() > 2 || a.X <= 0 {
		t.Errorf("the gate stands between %v and %v", a, b)
	}
	if !bay(t, l, "P-9").IsOpen() || bay(t, l, "P-gate-door").Door == nil {
		t.Error("section 9 is filled or the gate has no door")
	}
	// 12 ft pin to pin, less two reaches of 1 3/4.
	same(t, "plain section", bay(t, l, "P-2").Clear, 12*ft-3*in-in/2)
	// Left and right are seen from outside: walking from the left pin to the right
	// one, the centre at (0, 0) is on the left hand.
	for i := range l.Runs {
		p, q := l.Posts[l.Runs[i].From].At, l.Posts[l.Runs[i].To].At
		if cross := p.X.Metres()*q.Y.Metres() - q.X.Metres()*p.Y.Metres(); cross <= 0 {
			t.Errorf("%s runs from %v to %v, right to left", l.Runs[i].Name, p, q)
		}
	}
	size := false
	for _, f := range l.Findings {
		size = size || f.Code == finding.PenSize && strings.Contains(f.Message, "16 sections")
	}
	if !size {
		t.Errorf("nothing says what the pen comes out at: %v", l.Findings)
	}
}

func TestMistakesOfTheFrame(t *testing.T) {
	barn := `structures:
  - barn-row:
      name: A
      post: 5 1/2 in
      spacing: 12 ft
      depth: 12 ft
      rooms: [stall]
`
	form := `structures:
  - free-form:
      name: F
      height: 8 ft
      posts:
        - {name: a, x: 0 ft, y: 0 ft, timber: 5 1/2 in}
        - {name: b, x: 12 ft, y: 0 ft, timber: 5 1/2 in}
      walls:
        - {name: south, posts: [a, b], assembly: timber-wall}
`
	for _, c := range []struct{ name, src, part string }{
		{"door too wide", barn + "      fronts: {door: none}\n", `no door "none"`},
		{"door wider than its bay", strings.Replace(barn, "spacing: 12 ft", "spacing: 4 ft", 1), "a doorway of 4' 0\" does not fit here"},
		{"doorway past the post", barn + "      fronts: {at: 11 ft}\n", "does not fit here"},
		{"panel too narrow", barn + "      fronts: {at: 32 in}\n", "the panel on the left of the doorway would be only"},
		{"no such assembly", barn + "      dividers: boards\n      sides: {fill: boards, assembly: none}\n", `no assembly "none"`},
		{"pinned between timbers", barn + "      sides: {fill: boards, assembly: pen-section}\n", "brings its own uprights"},
		{"shared between timbers", barn + "      sides: {fill: boards, assembly: free-wall}\n", "stands between steel posts"},
		{"no such post moved", barn + "      offsets: [{post: A.c1, along: 1 in}]\n", `no post "A.c1"`},
		{"posts without room", strings.Replace(barn, "depth: 12 ft", "depth: 8 in", 1), "no opening is left"},
		{"a low wall", barn + "      height: 4 in\n", "leaves no room for boards"},
		{"no such bay", barn + "bays: {A1-frnt-door: {slides: left}}\n", `no bay "A1-frnt-door"`},
		{"a fill for a doorway", barn + "bays: {A1-front-door: {fill: boards}}\n", "is a doorway"},
		{"a door for a wall", barn + "bays: {A1-back: {door: swing}}\n", "has no door"},
		{"a wide door for a doorway", barn + "bays: {A1-front-door: {door: pair}}\n", "is made for an opening of 8' 0\""},
		{"no such bay measured", barn + "measurements: [{bay: A2-left, width: 11 ft}]\n", `no bay "A2-left"`},
		{"no such floor", barn + "floors: [{post: A.c1, height: 1 in}]\n", `no post "A.c1"`},
		{"no such steel post", strings.Replace(form, "timber: 5 1/2 in}\n        - {name: b", "post: none}\n        - {name: b", 1), `no post "none"`},
		{"lagged to steel", strings.Replace(form, "timber: 5 1/2 in}\n        - {name: b", "post: corner}\n        - {name: b", 1), "is lagged to timber"},
		{"no such base", "structures:\n  - free-row: {name: B, width: 12 ft, depth: 12 ft, rooms: [stall], base: none}\n", `no base "none"`},
		{"no ring", "structures:\n  - pen: {name: P, sections: 3, section: 10 ft, gate: {length: 20 ft}}\n", "as long as all the others together"},
		{"half a circle", "structures:\n  - pen: {name: P, sections: 3, section: 10 ft, gate: {length: 19 ft}}\n", "more than half the circle"},
		{"too many sections", "structures:\n  - pen: {name: P, across: 1500 ft, section: 5 ft}\n", "would take 942 sections"},
		{"section 20 of 16", "structures:\n  - pen: {name: P, across: 60 ft, different: [{at: 20, length: 8 ft}]}\n", "comes out at 16 sections"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := build(t, c.src)
			if l != nil {
				t.Error("a layout in spite of mistakes")
			}
			var ps document.Problems
			if !errors.As(err, &ps) {
				t.Fatalf("%v", err)
			}
			found := false
			for _, p := range ps {
				found = found || strings.Contains(p.Message, c.part)
				if p.Pos.Line == 0 || p.Hint == "" {
					t.Errorf("without place or hint: %s", p)
				}
			}
			if !found {
				t.Errorf("told: %v; want %q", err, c.part)
			}
		})
	}
	_, err := build(t, strings.Replace(form, "x: 12 ft", "x: 0 ft", 1))
	if err == nil || !strings.Contains(err.Error(), "stand in the same place") {
		t.Errorf("posts in the same place: %v", err)
	}
}

// What names a bay that could not be framed is not told as a mistake of its own;
// what names a bay that never was, is.
func TestFollowingMistakesAreNotTold(t *testing.T) {
	_, err := build(t, `structures:
  - barn-row: {name: A, post: 5 1/2 in, spacing: 12 ft, depth: 12 ft, rooms: [stall], fronts: {door: none}}
measurements:
  - {bay: A1-front-left, width: 3 ft}
  - {bay: A9-left, width: 3 ft}
`)
	var ps document.Problems
	if !errors.As(err, &ps) || len(ps) != 2 || !strings.Contains(ps[0].Message, "no door") || !strings.Contains(ps[1].Message, "A9-left") {
		t.Errorf("told: %v", err)
	}
}

// A job of more boards than anybody builds is refused before they are cut.
func TestTooManyCourses(t *testing.T) {
	_, err := build(t, "height: 65 ft\nstructures:\n  - barn-row: {name: A, post: 5 1/2 in, spacing: 12 ft, depth: 12 ft, rooms: ["+strings.Repeat("{kind: stall, spans: 20}, ", 119)+"stall]}\n")
	if err == nil {
		t.Fatal("planned")
	}
	told(t, err, "courses of boards, more than one job holds")
}
