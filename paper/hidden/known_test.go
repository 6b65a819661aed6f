package hidden_test

import (
	"math"
	"testing"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/paper/hidden"
	"stallwright/paper/solid"
)

func box(x0, x1, y0, y1, z0, z1 measure.Length) hidden.Body {
	f := solid.NewFrame(frame.Point{}, frame.Point{X: 1})
	s := solid.Solid{Name: "box", Piece: -1, Parts: []solid.Part{{Frame: f, Prism: solid.Prism{Axis: solid.Up, From: z0, To: z1, Outline: [][]solid.Point{{{U: x0, V: y0}, {U: x1, V: y0}, {U: x1, V: y1}, {U: x0, V: y1}}}}}}}
	sc := solid.Scene{Solids: []solid.Solid{s}}
	return hidden.Body{Mesh: sc.Mesh(0)}
}

func sum(lines []hidden.Line, keep func(hidden.Line) bool) float64 {
	d := 0.0
	for _, l := range lines {
		if keep(l) {
			d += math.Hypot(l.X1-l.X0, l.Y1-l.Y0)
		}
	}
	return d
}

// A cube in isometric projection shows nine of its twelve edges, six of them its
// outline, each √(2/3) of its true length (ISO 5456-3, isometric projection, where
// all axes are shortened alike).
func TestCubeInIsometric(t *testing.T) {
	m := measure.Metre
	lines := hidden.Lines([]hidden.Body{box(0, m, 0, m, 0, m)}, hidden.Look(solid.Vec{X: 1, Y: 1}, hidden.Isometric), hidden.Options{})
	if len(lines) != 9 {
		t.Errorf("%d lines, want 9", len(lines))
	}
	outline := 0
	for _, l := range lines {
		if d := math.Hypot(l.X1-l.X0, l.Y1-l.Y0); math.Abs(d-math.Sqrt(2.0/3)) > 1e-12 {
			t.Errorf("a line %.9f long, want √(2/3)", d)
		}
		if l.Outline {
			outline++
		}
	}
	if outline != 6 {
		t.Errorf("%d lines are its outline, want 6", outline)
	}
}

// By hand, looking straight along y: a box 1 m wide and high behind one that covers
// its lower right quarter keeps of its front face's outline two whole sides and two
// halves: 1 + 1 + 1/2 + 1/2 m, and its back face is seen edge for edge behind it, not
// at all.
func TestQuarterCovered(t *testing.T) {
	m := measure.Metre
	behind, before := box(0, m, 2*m, 3*m, 0, m), box(m/2, 2*m, 0, m, -m, m/2)
	lines := hidden.Lines([]hidden.Body{behind, before}, hidden.Look(solid.Vec{Y: 1}, 0), hidden.Options{})
	if d := sum(lines, func(l hidden.Line) bool { return l.Body == 0 }); math.Abs(d-3) > 1e-4 {
		t.Errorf("%.6f m of the box behind are seen, want 3", d)
	}
	if d := sum(lines, func(l hidden.Line) bool { return l.Body == 1 }); math.Abs(d-6) > 1e-4 {
		t.Errorf("%.6f m of the box before are seen, want 6", d)
	}
	before.Ghost = true
	lines = hidden.Lines([]hidden.Body{behind, before}, hidden.Look(solid.Vec{Y: 1}, 0), hidden.Options{})
	if d := sum(lines, func(l hidden.Line) bool { return l.Body == 0 }); math.Abs(d-4) > 1e-4 {
		t.Errorf("behind a ghost %.6f m are seen, want 4", d)
	}
}

// Boxes that stand on each other flush hide neither's edges where they touch.
func TestFlushFacesHideNothing(t *testing.T) {
	m := measure.Metre
	lines := hidden.Lines([]hidden.Body{box(0, m, 0, m, 0, m), box(0, m, 0, m, m, 2*m)}, hidden.Look(solid.Vec{X: 1, Y: 1}, hidden.Isometric), hidden.Options{})
	// Of the lower the top is covered: its two front edges stay, with three
	// upright and two at the foot; the upper shows its nine.
	lower := 0
	for _, l := range lines {
		if l.Body == 0 {
			lower++
		}
	}
	if lower != 7 || len(lines) != 16 {
		t.Errorf("%d lines of the lower box and %d in all, want 7 and 16", lower, len(lines))
	}
}

// A window leaves out what lies beside it and changes nothing in it.
func TestWindow(t *testing.T) {
	m := measure.Metre
	bodies := []hidden.Body{box(0, m, 0, m, 0, m), box(5*m, 6*m, 0, m, 0, m)}
	cam := hidden.Look(solid.Vec{Y: 1}, 0)
	lines := hidden.Lines(bodies, cam, hidden.Options{Window: hidden.Window{X0: -0.5, Y0: -0.5, X1: 1.5, Y1: 1.5}})
	for _, l := range lines {
		if l.Body != 0 {
			t.Errorf("a line of what lies outside the window: %+v", l)
		}
	}
	if d := sum(lines, func(hidden.Line) bool { return true }); math.Abs(d-4) > 1e-9 {
		t.Errorf("%.6f m are seen, want 4", d)
	}
}
