package hidden_test

import (
	"math"
	"math/rand"
	"testing"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/paper/hidden"
	"stallwright/paper/solid"
)

// scene is random boxes and prisms, some of them touching, turned this way and
// that about the vertical as walls are.
func scene(r *rand.Rand, n int) []hidden.Body {
	var out []hidden.Body
	size := func(most int) measure.Length { return measure.Length(1+r.Intn(most)) * 50 * measure.Millimetre }
	for range n {
		f := solid.NewFrame(frame.Point{X: size(60), Y: size(60)}, frame.Point{X: measure.Length(r.Intn(2001) - 1000), Y: measure.Length(r.Intn(2001) - 1000)})
		if r.Intn(2) == 0 {
			f = solid.NewFrame(f.At, frame.Point{X: 1}) // many share planes
		}
		s := solid.Solid{Name: "x", Piece: -1}
		x, y, z := size(20), size(8), size(20)
		z0 := size(20) - 50*measure.Millimetre
		rect := []solid.Point{{}, {U: x}, {U: x, V: y}, {V: y}}
		switch r.Intn(4) {
		case 0: // a box on another box
			s.Parts = append(s.Parts, solid.Part{Frame: f, Prism: solid.Prism{Axis: solid.Up, From: z0, To: z0 + z, Outline: [][]solid.Point{rect}}},
				solid.Part{Frame: f, Prism: solid.Prism{Axis: solid.Up, From: z0 + z, To: z0 + 2*z, Outline: [][]solid.Point{rect}}})
			s.Welded = true
		case 1: // a tube
			t := min(x, y) / 4
			s.Parts = append(s.Parts, solid.Part{Frame: f, Prism: solid.Prism{Axis: solid.Axis(r.Intn(3)), From: z0, To: z0 + z,
				Outline: [][]solid.Point{rect, {{U: t, V: t}, {U: t, V: y - t}, {U: x - t, V: y - t}, {U: x - t, V: t}}}}})
		case 2: // an L, leaning
			l := []solid.Point{{}, {U: x}, {U: x, V: y / 2}, {U: x / 2, V: y / 2}, {U: x / 2, V: y}, {V: y}}
			s.Parts = append(s.Parts, solid.Part{Frame: f, Prism: solid.Prism{Axis: solid.Axis(r.Intn(3)), From: z0, To: z0 + z, Outline: [][]solid.Point{l}, Lean: solid.Point{U: x / 3}}})
		default:
			s.Parts = append(s.Parts, solid.Part{Frame: f, Prism: solid.Prism{Axis: solid.Axis(r.Intn(3)), From: z0, To: z0 + z, Outline: [][]solid.Point{rect}}})
		}
		sc := solid.Scene{Solids: []solid.Solid{s}}
		out = append(out, hidden.Body{Mesh: sc.Mesh(0)})
	}
	return out
}

// before is how far the nearest face lies before a place, by casting a ray at
// every face of every body; slack tells how near the ray comes to a face's rim.
func before(bodies []hidden.Body, c hidden.Camera, v solid.Vec) (depth, rim float64) {
	depth, rim = math.Inf(-1), math.Inf(1)
	for _, b := range bodies {
		for i := range b.Mesh.Faces {
			f := &b.Mesh.Faces[i]
			n := f.Normal.Dot(c.Away)
			if math.Abs(n) < 1e-6 {
				continue
			}
			t := f.Normal.Dot(b.Mesh.Points[f.Rings[0][0]].Sub(v)) / n
			at := c.On(v.Add(c.Away.Times(t)))
			in, d := inside(b.Mesh, f, c, at)
			if -t > 4e-5 {
				rim = math.Min(rim, d)
			}
			if in && -t > depth {
				depth = -t
			}
			if in && math.Abs(-t-5e-5) < 1e-5 {
				rim = 0 // just at the tolerance
			}
		}
	}
	return depth, rim
}

// inside is the winding number test, and the distance to the nearest side.
func inside(m *solid.Mesh, f *solid.Face, c hidden.Camera, p solid.Vec) (bool, float64) {
	turn, near := 0.0, math.Inf(1)
	for _, ring := range f.Rings {
		for i := range ring {
			a, b := c.On(m.Points[ring[i]]), c.On(m.Points[ring[(i+1)%len(ring)]])
			ax, ay, bx, by := a.X-p.X, a.Y-p.Y, b.X-p.X, b.Y-p.Y
			turn += math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
			ex, ey := bx-ax, by-ay
			t := 0.0
			if l := ex*ex + ey*ey; l > 0 {
				t = math.Max(0, math.Min(1, -(ax*ex+ay*ey)/l))
			}
			near = math.Min(near, math.Hypot(ax+t*ex, ay+t*ey))
		}
	}
	return math.Abs(turn) > math.Pi, near
}

// Every sample along every edge that may show is looked at twice: is it on a line
// that Lines returned, and does a ray from it to the eye meet a face? Samples
// within a tenth of a millimetre of the rim of a face before them are left out,
// since there both answers are right.
func TestLinesAgainstRays(t *testing.T) {
	for seed := range int64(30) {
		r := rand.New(rand.NewSource(seed))
		bodies := scene(r, 3+r.Intn(25))
		cam := hidden.Look(solid.Vec{X: r.Float64()*2 - 1, Y: r.Float64()*2 - 1}, []float64{hidden.Isometric, 0.4, 1}[r.Intn(3)])
		lines := hidden.Lines(bodies, cam, hidden.Options{})
		by := map[[2]int][]hidden.Line{}
		for _, l := range lines {
			by[[2]int{l.Body, l.Edge}] = append(by[[2]int{l.Body, l.Edge}], l)
		}
		tried, wrong, seen := 0, 0, 0
		for n, b := range bodies {
			for k, e := range b.Mesh.Edges {
				front := 0
				for _, f := range e.Faces {
					if b.Mesh.Faces[f].Normal.Dot(cam.Away) < -1e-6 {
						front++
					}
				}
				a, z := b.Mesh.Points[e.A], b.Mesh.Points[e.B]
				for range 8 {
					v := a.Add(z.Sub(a).Times(r.Float64()))
					on := cam.On(v)
					shown := false
					edgeOfLine := false
					for _, l := range by[[2]int{n, k}] {
						dx, dy := l.X1-l.X0, l.Y1-l.Y0
						long := math.Hypot(dx, dy)
						at := ((on.X-l.X0)*dx + (on.Y-l.Y0)*dy) / long
						if at >= 0 && at <= long {
							shown = true
						}
						edgeOfLine = edgeOfLine || math.Abs(at) < 2e-4 || math.Abs(at-long) < 2e-4
					}
					depth, rim := before(bodies, cam, v)
					if rim < 1e-4 || edgeOfLine {
						continue
					}
					tried++
					if shown {
						seen++
					}
					if want := front > 0 && depth <= 5e-5; want != shown {
						wrong++
						if wrong < 4 {
							t.Errorf("seed %d body %d edge %d: shown %v, want %v (a face %.6f m before it, rim %.6f)", seed, n, k, shown, want, depth, rim)
						}
					}
				}
			}
		}
		if tried < 50 || seen == 0 {
			t.Errorf("seed %d: only %d samples, %d seen", seed, tried, seen)
		}
	}
}
