package page_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"stallwright/app/page"
)

// What the screen shows at once and what the whole plan says are the same in all
// but the cutting: bays, posts, rooms, masses of steel. And what is asked twice, or
// after other jobs, is answered with the same bytes.
func TestSketchShowsThePlan(t *testing.T) {
	jobs := examples(t)
	for _, name := range []string{"three-meadows", "two-oaks-free-row", "harrow-field-pen"} {
		a := jobs[name]
		var sketch, whole page.Screen
		asked(t, "sketch", a, &sketch)
		in, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		first := page.Answer("screen", in)
		asked(t, "screen", a, &whole)
		if whole.Sketch || sketch.Boards != whole.Boards || sketch.Pieces != whole.Pieces || whole.Boards == 0 {
			t.Errorf("%s: %d boards of %d pieces, then %d of %d", name, sketch.Boards, sketch.Pieces, whole.Boards, whole.Pieces)
		}
		same(t, name+" bays", sketch.Document.Bays, whole.Document.Bays)
		same(t, name+" posts", sketch.Document.Posts, whole.Document.Posts)
		same(t, name+" runs", sketch.Document.Runs, whole.Document.Runs)
		same(t, name+" rooms", sketch.Document.Rooms, whole.Document.Rooms)
		for other := range jobs {
			asked(t, "sketch", jobs[other], nil)
		}
		if !bytes.Equal(page.Answer("screen", in), first) {
			t.Errorf("%s: asked again the answer is another", name)
		}
	}
}

func same(t *testing.T, what string, a, b any) {
	t.Helper()
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	if !bytes.Equal(x, y) {
		t.Errorf("%s differ at byte %d", what, differs(x, y))
	}
}

// A step has the picture that the packet prints, a wall its elevation, a bay its
// pieces, each of which can be asked about; and each solid of the model comes with
// a step there is.
func TestWhatIsLookedAt(t *testing.T) {
	a := examples(t)["three-meadows"]
	var s page.Steps
	asked(t, "steps", a, &s)
	pictures := 0
	for i := 0; i < len(s.Steps) && pictures < 3; i++ {
		b := a
		b.About = s.Steps[i].ID
		var svg string
		if r := asked(t, "picture", b, &svg); r.Error != "" {
			t.Fatal(r.Error)
		}
		if svg != "" && !strings.HasPrefix(svg, "<") {
			t.Errorf("step %d: %.40q", s.Steps[i].No, svg)
		}
		if svg != "" && len(s.Steps[i].Adds) > 0 {
			pictures++
		}
	}
	if pictures < 3 {
		t.Errorf("%d pictures", pictures)
	}
	a.About = "L1-L2"
	var walls []page.Drawing
	asked(t, "elevation", a, &walls)
	if len(walls) != 1 || !strings.Contains(walls[0].SVG, "L1-L2") {
		t.Errorf("%d elevations", len(walls))
	}
	var parts []page.Part
	asked(t, "parts", a, &parts)
	if len(parts) < 8 {
		t.Fatalf("%d pieces", len(parts))
	}
	a.About = parts[0].Label
	var why []page.Reason
	if r := asked(t, "why", a, &why); r.Error != "" || len(why) == 0 {
		t.Errorf("why of %s: %+v", a.About, r)
	}
	a.About = ""
	var m page.Model
	asked(t, "model", a, &m)
	if len(m.GLB) < 1000 || len(m.Steps) != len(s.Steps) {
		t.Fatalf("a model of %d bytes, %d steps of %d", len(m.GLB), len(m.Steps), len(s.Steps))
	}
	for _, p := range s.Steps[len(s.Steps)/2].Adds {
		if m.Comes[p] != len(s.Steps)/2 {
			t.Errorf("%s comes with step %d, want %d", p, m.Comes[p], len(s.Steps)/2)
		}
	}
	for name, step := range m.Comes {
		if step < 0 || step > len(s.Steps) {
			t.Errorf("%s comes with step %d", name, step)
		}
	}
	a.About = "picture of nothing"
	if r := asked(t, "picture", a, nil); r.Error == "" {
		t.Error("a step that there is none of has a picture")
	}
}

// Each line of the order says why it is there.
func TestWhyOfTheOrder(t *testing.T) {
	a := examples(t)["three-meadows"]
	var s page.Screen
	asked(t, "screen", a, &s)
	lines := s.Document.Takeoff
	if len(lines) < 10 {
		t.Fatalf("%d lines", len(lines))
	}
	for _, l := range []int{0, len(lines) / 2, len(lines) - 1} {
		v := lines[l]
		treated := "false"
		if v.Treated {
			treated = "true"
		}
		length, _ := json.Marshal(v.LengthNM)
		a.About = "order:" + v.Item + ":" + string(length) + ":" + treated
		var why []page.Reason
		if r := asked(t, "why", a, &why); r.Error != "" || len(why) < 2 {
			t.Errorf("%s: %+v %d", a.About, r, len(why))
		}
	}
}
