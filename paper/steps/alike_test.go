package steps

import (
	"math"
	"path/filepath"
	"testing"

	"stallwright/engine/plan/plantest"

	"stallwright/paper/hidden"
	"stallwright/paper/words"
)

// drawerOf draws the steps of an example.
func drawerOf(t *testing.T, file string) *Drawer {
	t.Helper()
	p := plantest.File(t, file)
	w, err := words.For("en", p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	return New(p, w, Options{})
}

// alone draws what a step adds or moves, with nothing around, from the usual side:
// how far it reaches on the picture plane, and how much line there is, in metres.
func (d *Drawer) alone(step int) (box rectangle, ink float64) {
	s := &d.build.Steps[step]
	p := &picture{Drawer: d, step: s, first: s.Ops[0], last: s.Ops[len(s.Ops)-1]}
	p.choose()
	var added []actor
	for _, a := range p.cast {
		if a.added {
			added = append(added, a)
		}
	}
	p.cast = added
	p.near()
	if run := d.runOf(s); run >= 0 {
		p.cam = camera(d.direction(run), ways[0], wallDrop)
	} else {
		p.lookOver()
	}
	p.explode()
	p.dress()
	bodies := make([]hidden.Body, len(p.cast))
	for i := range p.cast {
		bodies[i] = hidden.Body{Mesh: p.cast[i].mesh, Move: p.cast[i].move}
	}
	box = emptyRectangle()
	for _, l := range hidden.Lines(bodies, p.cam, hidden.Options{}) {
		box = box.with(l.X0, l.Y0).with(l.X1, l.Y1)
		ink += hypot(l.X1-l.X0, l.Y1-l.Y0)
	}
	return box, ink
}

// Steps that share a picture look the same when each is drawn for itself: as wide
// and as high to a few millimetres, with the same lines in all. Every step is in
// one group, and steps whose parts are plainly of another size are apart.
func TestAlikeLooksAlike(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	shared, apart := 0, 0
	for _, file := range files {
		d := drawerOf(t, file)
		seen := make([]bool, len(d.build.Steps))
		leaders := map[string][]int{}
		for _, g := range d.Alike() {
			for _, i := range g {
				if seen[i] {
					t.Errorf("%s: step %d is in two groups", file, i+1)
				}
				seen[i] = true
			}
			if _, ok := d.axes(&d.build.Steps[g[0]]); !ok || !d.Shows(g[0]) {
				continue
			}
			leaders[d.work(g[0])] = append(leaders[d.work(g[0])], g[0])
			if len(g) == 1 {
				continue
			}
			a, ink := d.alone(g[0])
			for _, i := range []int{g[1], g[len(g)-1]} {
				shared++
				b, other := d.alone(i)
				if math.Abs((a.x1-a.x0)-(b.x1-b.x0)) > 2*alikeWithin || math.Abs((a.y1-a.y0)-(b.y1-b.y0)) > 2*alikeWithin {
					t.Errorf("%s: steps %d and %d share a picture: %v and %v", file, g[0]+1, i+1, a, b)
				}
				if math.Abs(ink-other) > 0.04*ink {
					t.Errorf("%s: steps %d and %d share a picture: %.2f m and %.2f m of line", file, g[0]+1, i+1, ink, other)
				}
			}
		}
		for i, ok := range seen {
			if !ok {
				t.Errorf("%s: step %d is in no group", file, i+1)
			}
		}
		for key, list := range leaders {
			if key != "" && len(list) > 1 {
				apart++
			}
		}
	}
	if shared < 50 || apart < 5 {
		t.Errorf("%d steps share pictures, %d groups of the same work have pictures of their own: the test says little", shared, apart)
	}
}
