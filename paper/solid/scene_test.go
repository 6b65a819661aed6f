package solid_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"stallwright/engine/fit"
	"stallwright/engine/plan"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/solid"
)

// examples plans every example of the repository.
func examples(t *testing.T, check func(t *testing.T, p *plan.Plan)) {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	if len(files) < 5 {
		t.Fatalf("only %d examples", len(files))
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			src, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			check(t, plantest.Make(t, f, src))
		})
	}
}

// Nothing stands in another in any finished example, every board in its channels.
func TestNothingStandsInAnother(t *testing.T) {
	examples(t, func(t *testing.T, p *plan.Plan) {
		s := solid.Make(p)
		told := toldOf(p)
		for _, c := range s.Clashes(tolerance) {
			a, b := &s.Solids[c.A], &s.Solids[c.B]
			if !told.of(a) && !told.of(b) && !excused(p, a, b) {
				t.Errorf("%s and %s stand %.1f mm in each other", a.Name, b.Name, c.Depth*1000)
			}
		}
		inChannels(t, "example", s, told)
	})
}

// Every piece has one solid of its own name, and a solid has a shape: the sum of
// its parts' volumes is that of its sections drawn out.
func TestEveryPieceHasAShape(t *testing.T) {
	examples(t, func(t *testing.T, p *plan.Plan) {
		s := solid.Make(p)
		for i := range p.Fit.Pieces {
			q := &p.Fit.Pieces[i]
			n := s.OfPiece(i)
			if n < 0 {
				t.Errorf("%s has no solid", q.Label)
				continue
			}
			v := &s.Solids[n]
			if v.Name != q.Label || v.Piece != i || v.Item != q.Item {
				t.Errorf("%s is drawn as %s of %s", q.Label, v.Name, v.Item)
			}
			b := s.Bounds(n)
			d := b.Max.Sub(b.Min)
			if q.Kind == fit.Board {
				// As long as it is cut, whatever way it runs.
				if long := math.Hypot(d.X, d.Y); math.Abs(long-q.Length.Metres()) > 0.06 {
					t.Errorf("%s, %v long, is drawn %.4f m long", q.Label, q.Length, long)
				}
			}
		}
	})
}

// A mesh is closed: every edge has two faces, and by the divergence theorem its
// volume is that of the convex bodies that cover it.
func TestMeshesAreClosed(t *testing.T) {
	examples(t, func(t *testing.T, p *plan.Plan) {
		s := solid.Make(p)
		for i := range s.Solids {
			v := &s.Solids[i]
			m := solid.Surface(v.Parts)
			for _, e := range m.Edges {
				if e.Faces[0] < 0 || e.Faces[1] < 0 {
					t.Fatalf("%s has an open edge", v.Name)
				}
			}
			for part := range v.Parts {
				skin, body := 0.0, 0.0
				for k := range m.Faces {
					f := &m.Faces[k]
					if int(f.Part) != part {
						continue
					}
					for _, ring := range f.Rings {
						for n := 2; n < len(ring); n++ {
							a, b, c := m.Points[ring[0]], m.Points[ring[n-1]], m.Points[ring[n]]
							skin += a.Dot(b.Cross(c)) / 6
						}
					}
				}
				for _, h := range v.Parts[part].Hulls() {
					n := len(h.Corners) / 2
					o := h.Corners[0]
					for k := 2; k < n; k++ { // tetrahedra of the prism's triangles
						a, b := h.Corners[k-1], h.Corners[k]
						o2, a2, b2 := h.Corners[n], h.Corners[n+k-1], h.Corners[n+k]
						for _, q := range [3][4]solid.Vec{{o, a, b, b2}, {o, a, b2, a2}, {o, a2, b2, o2}} {
							body += math.Abs(q[1].Sub(q[0]).Cross(q[2].Sub(q[0])).Dot(q[3].Sub(q[0]))) / 6
						}
					}
				}
				if math.Abs(skin-body) > 1e-9+1e-6*body {
					t.Fatalf("%s part %d: surface holds %.9f m³, its bodies %.9f", v.Name, part, skin, body)
				}
			}
		}
	})
}

// The board's section by hand: 1 1/2 in thick, 5 1/8 in of face, a tongue of 3/8 in
// a third as wide: 1 1/2 · 5 1/8 = 7.6875 square inches, tongue and groove alike.
func TestBoardSection(t *testing.T) {
	src, err := os.ReadFile(filepath.Join("..", "..", "examples", "two-oaks-free-row.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	p := plantest.Make(t, "two-oaks", src)
	s := solid.Make(p)
	for i := range p.Fit.Pieces {
		q := &p.Fit.Pieces[i]
		if q.Kind != fit.Board || q.Ripped || len(q.Notches) > 0 {
			continue
		}
		v := &s.Solids[s.OfPiece(i)]
		area := 0.0
		for _, poly := range v.Parts[0].Cover {
			for k := range poly {
				a, b := poly[k], poly[(k+1)%len(poly)]
				area += (a.U.Metres()*b.V.Metres() - a.V.Metres()*b.U.Metres()) / 2
			}
		}
		want := p.Fit.Board.Thickness.Metres() * q.Height.Metres()
		if math.Abs(area-want) > 1e-9 {
			t.Fatalf("%s has a section of %.9f m², want %.9f", q.Label, area, want)
		}
		return
	}
	t.Fatal("no plain board")
}
