package setout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/measure"
	"stallwright/engine/setout"
)

// The largest 3-4-5 by trying every number of steps both ways round; and it is
// a right triangle by Pythagoras, in whole steps.
func TestThreeFourFive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom([]measure.Length{ft, measure.Metre / 2}).Draw(t, "step")
		a := measure.Length(rapid.Int64Range(0, int64(40*measure.Metre)).Draw(t, "a"))
		b := measure.Length(rapid.Int64Range(0, int64(40*measure.Metre)).Draw(t, "b"))
		most := measure.Length(0)
		for k := measure.Length(1); k <= 100; k++ {
			if (3*k*step <= a && 4*k*step <= b) || (4*k*step <= a && 3*k*step <= b) {
				most = 5 * k * step
			}
		}
		legs, ok := setout.ThreeFourFive(a, b, step)
		if ok != (most > 0) || legs[2] != most {
			t.Fatalf("%v by %v: %v, %v; want a hypotenuse of %v", a, b, legs, ok, most)
		}
		if !ok {
			return
		}
		if legs[0] > a || legs[1] > b || legs[0]%step != 0 || legs[1]%step != 0 {
			t.Fatalf("%v by %v: legs %v do not fit", a, b, legs)
		}
		x, y, z := int64(legs[0]/step), int64(legs[1]/step), int64(legs[2]/step)
		if x*x+y*y != z*z {
			t.Fatalf("%v is not square", legs)
		}
	})
	// By hand: on 36' by 12', 4·4 and 3·4; on 12' by 12', 12 and 9; on 10' by 26', 9 and 12.
	for _, c := range [][5]measure.Length{{36, 12, 16, 12, 20}, {12, 12, 12, 9, 15}, {10, 26, 9, 12, 15}, {3, 4, 3, 4, 5}} {
		legs, ok := setout.ThreeFourFive(c[0]*ft, c[1]*ft, ft)
		if !ok || legs != [3]measure.Length{c[2] * ft, c[3] * ft, c[4] * ft} {
			t.Errorf("%d by %d ft: %v", c[0], c[1], legs)
		}
	}
	if _, ok := setout.ThreeFourFive(3*ft, 3*ft, ft); ok {
		t.Error("a 3-4-5 fits on 3 ft by 3 ft")
	}
}

// A row of rooms of unlike widths: every reading along a line is the sum of the
// widths before it, from the first stake; coordinates and readings agree.
func TestRowIsTapedFromItsFirstStake(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "rooms")
		widths := make([]measure.Length, n)
		rooms := make([]string, n)
		for i := range widths {
			widths[i] = 8*ft + measure.Length(rapid.IntRange(0, 200).Draw(t, "w"))*in/8
			rooms[i] = fmt.Sprintf("{width: %s}", exact(widths[i]))
		}
		r, _ := setOut(t, rowJob("free-row", "["+strings.Join(rooms, ", ")+"]", "fronts: open"), setout.Field{})
		s := &r.Structures[0]
		sum := measure.Length(0)
		for i, w := range widths {
			sum += w
			for _, k := range []int{0, 1} {
				m := s.Lines[k].Marks[i]
				if m.From.Value != sum || m.At != fmt.Sprintf("B.%c%d", "ab"[k], i+2) {
					t.Fatalf("%s: %s at %v, want %v", s.Lines[k].Kind, m.At, m.From.Value, sum)
				}
			}
		}
		g := s.Grid
		if g.From != "B.b1" || g.Length.Value != sum || len(g.Stakes) != 2*(n+1) || len(s.Lines) != 4 {
			t.Fatalf("grid %+v", g)
		}
		f := g.Frames[0]
		want := math.Hypot(sum.Metres(), (12 * ft).Metres())
		near(t2{t}, "diagonal", f.Diagonals[0].Value, want*1e9, 2)
		if f.Diagonals[0].Value != f.Diagonals[1].Value {
			t.Fatalf("a rectangle's diagonals differ: %v", f.Diagonals)
		}
		// Two of 1/16 in + 1/5,000, up to the next sixteenth.
		tol := math.Ceil(2*(1+16*want/0.0254/5000)) / 16
		near(t2{t}, "tolerance", f.Tolerance.Value, tol*float64(in), 1)
	})
}

type t2 struct{ *rapid.T }

// Facing rows of unlike length: the second row hangs together with the first by
// the aisle's corners, whose diagonals are those of a trapezoid; coordinates by
// hand: three rooms of 12 ft north, two south.
func TestFacingRowsOfUnlikeLength(t *testing.T) {
	r, l := setOut(t, rowJob("free-row", "[stall, stall, stall]", "rows: facing\naisle: 14'\nsecond: [stall, stall]\nfronts: open"), setout.Field{})
	s := &r.Structures[0]
	g := s.Grid
	names := ""
	for i := range g.Frames {
		names += string(g.Frames[i].Kind) + ";"
	}
	if names != "first-row;aisle;second-row;whole;" {
		t.Fatalf("frames %s", names)
	}
	aisle := &g.Frames[1]
	near(t, "c1 to b4", aisle.Diagonals[0].Value, math.Hypot(36, 14)*float64(ft), 2)
	near(t, "c3 to b1", aisle.Diagonals[1].Value, math.Hypot(24, 14)*float64(ft), 2)
	// The longer side of the baseline's first stake is toward d: 26 ft, so
	// 4·8 = 32 > 26; 3·8 = 24 fits 26 ft, 4·8 = 32 fits 36 ft.
	if sq := g.Squares[0]; len(g.Squares) != 1 || sq.Across != "B.d1" || sq.Legs[0].Value != 32*ft || sq.Legs[1].Value != 24*ft || sq.Hyp.Value != 40*ft {
		t.Errorf("right angles %+v", g.Squares)
	}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		at := l.Posts[k.Post].At
		if k.X.Value != at.X || k.Y.Value != at.Y {
			t.Errorf("%s: %v, %v; the layout has it at %v", k.Name, k.X.Value, k.Y.Value, at)
		}
	}
	corners := 0
	for i := range g.Stakes {
		if g.Stakes[i].Corner {
			corners++
		}
	}
	if corners != 8 {
		t.Errorf("%d corner stakes, want 8", corners)
	}
	if last := s.Lines[len(s.Lines)-1]; last.Kind != setout.LineFirstEnd || last.Marks[2].From.Value != 38*ft {
		t.Errorf("last line %+v", last)
	}
}

// Metric: steps of half a metre. 10.8 m by 3.6 m takes 2·(2 m, 1.5 m).
func TestMetricSquare(t *testing.T) {
	src := head(true) + "  - free-row: {name: B, width: 3600 mm, depth: 3600 mm, rooms: [stall, stall, stall], fronts: open}\n"
	r, _ := setOut(t, src, setout.Field{})
	sq := r.Structures[0].Grid.Squares[0]
	if sq.Legs[0].Value != 4*measure.Metre || sq.Legs[1].Value != 3*measure.Metre || sq.Hyp.Value != 5*measure.Metre {
		t.Errorf("%+v", sq)
	}
}

// A free form's stakes: ties from the baseline's two ends and coordinates along
// it must speak of one place (two circles met, worked out here), also when the
// baseline lies askew; and turning the whole form changes none of them.
func TestFreeFormStakes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		u := rapid.Float64Range(-9000, 9000).Draw(t, "u")
		v := rapid.Float64Range(500, 9000).Draw(t, "v")
		side := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		at := func(x, y float64) string {
			c, s := math.Cos(turn), math.Sin(turn)
			return fmt.Sprintf("x: %.6f mm, y: %.6f mm", x*c-y*s+20000, x*s+y*c-3000)
		}
		src := head(true) + "  - free-form:\n      name: D\n      height: 2200 mm\n      posts:\n" +
			fmt.Sprintf("        - {name: a, %s, timber: 150 mm}\n        - {name: b, %s, timber: 150 mm}\n", at(0, 0), at(4000, 0)) +
			fmt.Sprintf("        - {name: s, %s, post: corner-70}\n        - {name: r, %s, post: corner-70}\n", at(u, side*v), at(u+3000, side*v)) +
			"      walls:\n        - {name: w, posts: [a, b], assembly: timber-wall, fill: boards}\n        - {name: z, posts: [s, r], assembly: free-frame, fill: boards}\n"
		r, _ := setOut(t, src, setout.Field{})
		g := r.Structures[0].Grid
		if g == nil || g.From != "D.a" || len(g.Stakes) != 2 {
			t.Fatalf("%+v", g)
		}
		k := &g.Stakes[0]
		near(t2{t}, "along", k.X.Value, u*1e6, 5)
		near(t2{t}, "off", k.Y.Value, side*v*1e6, 5)
		p, q, b := k.Ties[0].Value.Metres(), k.Ties[1].Value.Metres(), g.Length.Value.Metres()
		x := (p*p - q*q + b*b) / (2 * b)
		near(t2{t}, "where the ties meet, along", k.X.Value, x*1e9, 50)
		near(t2{t}, "where the ties meet, off", k.Y.Value.Abs(), math.Sqrt(p*p-x*x)*1e9, 1000)
	})
}

// Doorways along a barn's front by hand. Posts 5 1/2 in at 12 ft; the first
// front's opening is 11' 6 1/2" as drawn, its doorway 4 ft wide in the middle
// of the opening: from the first post's face to the doorway's left edge
// (138 1/2 − 48)/2 = 45 1/4 in; the next front starts 12 ft on.
func TestBarnFronts(t *testing.T) {
	src := head(false) + "  - barn-row:\n      name: A\n      post: 5 1/2 in\n      spacing: 12'\n      depth: 12'\n      rooms: [stall, stall]\n      fronts: {at: centre, panels: boards}\n"
	r, _ := setOut(t, src, setout.Field{})
	s := &r.Structures[0]
	if len(s.Lines) != 1 || s.Bases != nil || s.Grid != nil || s.Pen != nil {
		t.Fatalf("%+v", s)
	}
	want := []struct {
		what      setout.MarkKind
		at        string
		from, own measure.Length
	}{
		{setout.MarkDoorPost, "A1-front.l", 44 * in, 44 * in}, // 2 1/2 in thick: half of it before the edge
		{setout.MarkDoorwayLeft, "A1-front-door", 45*in + in/4, 45*in + in/4},
		{setout.MarkDoorwayRight, "A1-front-door", 93*in + in/4, 93*in + in/4},
		{setout.MarkDoorPost, "A1-front.r", 94*in + in/2, 94*in + in/2},
		{setout.MarkPostLeft, "A.b2", 138*in + in/2, 138*in + in/2},
		{setout.MarkPostRight, "A.b2", 144 * in, 0},
		{setout.MarkDoorPost, "A2-front.l", 188 * in, 44 * in},
		{setout.MarkDoorwayLeft, "A2-front-door", 189*in + in/4, 45*in + in/4},
		{setout.MarkDoorwayRight, "A2-front-door", 237*in + in/4, 93*in + in/4},
		{setout.MarkDoorPost, "A2-front.r", 238*in + in/2, 94*in + in/2},
		{setout.MarkPostLeft, "A.b3", 282*in + in/2, 138*in + in/2},
	}
	line := s.Lines[0]
	if line.Kind != setout.LineWall || line.Zero != "A.b1" || len(line.Marks) != len(want) {
		t.Fatalf("%s: %+v", line.Zero, line.Marks)
	}
	for i, w := range want {
		m := line.Marks[i]
		if m.What != w.what || m.At != w.at || m.From.Value != w.from || m.Own.Value != w.own {
			t.Errorf("mark %d: %s %s at %v (%v), want %+v", i+1, m.What, m.At, m.From.Value, m.Own.Value, w)
		}
	}
}
