package draw

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func anyPoint(reach int64) *rapid.Generator[PaperPoint] {
	return rapid.Custom(func(t *rapid.T) PaperPoint {
		return PaperPoint{Micron(rapid.Int64Range(0, reach).Draw(t, "x")), Micron(rapid.Int64Range(0, reach).Draw(t, "y"))}
	})
}

func anyBox(reach int64) *rapid.Generator[quad] {
	return rapid.Custom(func(t *rapid.T) quad {
		w, h := Micron(rapid.Int64Range(1, reach/3).Draw(t, "w")), Micron(rapid.Int64Range(1, reach/3).Draw(t, "h"))
		return boxQuad(anyPoint(reach).Draw(t, "at"), Angle(rapid.Int64Range(0, 359_999).Draw(t, "turn")), PaperRect{Max: PaperPoint{w, h}})
	})
}

// sharedArea is the area of the intersection of two convex areas, by clipping
// one with the other in exact fractions: a method other than the one tested.
func sharedArea(a, b quad) *big.Rat {
	type pt struct{ x, y *big.Rat }
	rat := func(m Micron) *big.Rat { return new(big.Rat).SetInt64(int64(m)) }
	var poly []pt
	for _, p := range a {
		poly = append(poly, pt{rat(p.X), rat(p.Y)})
	}
	side := func(p, q PaperPoint, r pt) *big.Rat {
		l := new(big.Rat).Mul(rat(q.X-p.X), new(big.Rat).Sub(r.y, rat(p.Y)))
		return l.Sub(l, new(big.Rat).Mul(rat(q.Y-p.Y), new(big.Rat).Sub(r.x, rat(p.X))))
	}
	for i := range b {
		p, q := b[i], b[(i+1)%4]
		var kept []pt
		for k, cur := range poly {
			prev := poly[(k+len(poly)-1)%len(poly)]
			sp, sc := side(p, q, prev), side(p, q, cur)
			if sp.Sign()*sc.Sign() < 0 {
				t := new(big.Rat).Quo(sp, new(big.Rat).Sub(sp, sc))
				mix := func(u, v *big.Rat) *big.Rat {
					d := new(big.Rat).Sub(v, u)
					return d.Add(u, d.Mul(d, t))
				}
				kept = append(kept, pt{mix(prev.x, cur.x), mix(prev.y, cur.y)})
			}
			if sc.Sign() >= 0 {
				kept = append(kept, cur)
			}
		}
		poly = kept
	}
	area := new(big.Rat)
	for k, p := range poly {
		q := poly[(k+1)%len(poly)]
		area.Add(area, new(big.Rat).Sub(new(big.Rat).Mul(p.x, q.y), new(big.Rat).Mul(q.x, p.y)))
	}
	return area
}

func TestBoxesAreDisjointExactlyWhenTheyShareNoArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyBox(20_000).Draw(t, "a"), anyBox(20_000).Draw(t, "b")
		if cross(a[1].sub(a[0]), a[2].sub(a[1])) <= 0 || cross(b[1].sub(b[0]), b[2].sub(b[1])) <= 0 {
			t.Skip("rounded to a line")
		}
		if got, want := disjoint(a[:], b[:]), sharedArea(a, b).Sign() == 0; got != want {
			t.Fatalf("disjoint is %v, shared area %s", got, sharedArea(a, b).FloatString(3))
		}
	})
}

// A leader through the very corners of a post crosses it.
func TestTouchingCountsCorners(t *testing.T) {
	leader := []PaperPoint{{0, 0}, {3000, 3000}}
	for _, c := range []struct {
		a, b  PaperPoint
		touch bool
	}{{PaperPoint{1000, 1000}, PaperPoint{1000, 2000}, true}, {PaperPoint{1000, 999}, PaperPoint{2000, 500}, false}, {PaperPoint{1000, 2000}, PaperPoint{2000, 1000}, true}} {
		side := []PaperPoint{c.a, c.b}
		if got := touching(leader, side); got != c.touch {
			t.Errorf("%v touches %v: %v", side, leader, got)
		}
	}
}

// Lines a pitch apart sweep an area of length times pitch (Cavalieri), so that
// the hatch must add up to the polygon's area by the surveyor's formula.
func TestHatchCoversThePolygonAndNothingElse(t *testing.T) {
	polygons := map[string][]PaperPoint{
		"square":     {{0, 0}, {60000, 0}, {60000, 60000}, {0, 60000}},
		"triangle":   {{5000, 3000}, {90000, 10000}, {40000, 70000}},
		"re-entrant": {{0, 0}, {80000, 0}, {80000, 20000}, {30000, 20000}, {30000, 50000}, {80000, 50000}, {80000, 70000}, {0, 70000}},
	}
	for name, poly := range polygons {
		for _, a := range []Angle{0, 30 * Degree, 45 * Degree, 90 * Degree, 135 * Degree, 17_321} {
			var twice int64
			for i, p := range poly {
				twice += cross(p, poly[(i+1)%len(poly)])
			}
			const pitch = 241 // small, and no edge lies on a line
			got := 0.0
			for _, run := range hatchLines(poly, a, pitch) {
				d := run[1].sub(run[0])
				got += math.Hypot(float64(d.X), float64(d.Y)) * pitch
				if mid := between(run[0], run[1], cutOne/2); !inPolygon(mid, poly) {
					t.Errorf("%s at %d: hatch runs outside at %v", name, a, mid)
				}
			}
			if want := float64(twice) / 2; math.Abs(got-want) > want/50 {
				t.Errorf("%s at %d: hatch sweeps %.0f, area %.0f", name, a, got, want)
			}
		}
	}
}

func TestOutsideKeepsWhatNoBoxCovers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyPoint(100_000).Draw(t, "a"), anyPoint(100_000).Draw(t, "b")
		boxes := rapid.SliceOfN(anyBox(100_000), 0, 4).Draw(t, "boxes")
		runs := outside(a, b, boxes)
		on := func(k int64) bool { // the k-th of 100 points is in a run
			p := between(a, b, k*cutOne/100)
			for _, r := range runs {
				if distance(r[0], p)+distance(p, r[1]) <= distance(r[0], r[1])+3 {
					return true
				}
			}
			return false
		}
		for k := int64(1); k < 100; k++ {
			p := between(a, b, k*cutOne/100)
			deep, near := false, false
			for _, q := range boxes {
				in := PaperRect{p, p}.inset(-20).corners()
				deep = deep || q.holds(in[0]) && q.holds(in[1]) && q.holds(in[2]) && q.holds(in[3])
				near = near || !disjoint(q[:], PaperRect{p, p}.inset(-600).corners().slice())
			}
			if deep && on(k) {
				t.Fatalf("point %d lies in a box and in a run", k)
			}
			if !near && !on(k) && distance(a, b) > 2*MM {
				t.Fatalf("point %d lies clear of all boxes and in no run", k)
			}
		}
	})
}

func (q quad) slice() []PaperPoint { return q[:] }

// No thousandth of a degree has a sine or cosine so near to half a unit that
// another processor's last bits could round it the other way: the nearest is
// more than ten units in the last place of 1 off.
func TestTrigonometryIsTheSameOnEveryPlatform(t *testing.T) {
	closest := 1.0
	for a := range 90_000 {
		rad := float64(a) * (math.Pi / 180000)
		for _, v := range []float64{math.Cos(rad) * trigOne, math.Sin(rad) * trigOne} {
			_, frac := math.Modf(v)
			closest = min(closest, math.Abs(frac-0.5))
		}
	}
	if units := closest / trigOne / 0x1p-52; units < 10 {
		t.Errorf("an angle is within %.1f units in the last place of a tie", units)
	}
	for _, c := range []struct {
		a        Angle
		cos, sin int64 // exact values of the tables
	}{{0, trigOne, 0}, {30 * Degree, 866_025_404, 500_000_000}, {90 * Degree, 0, trigOne}, {135 * Degree, -707_106_781, 707_106_781},
		{-60 * Degree, 500_000_000, -866_025_404}, {540 * Degree, -trigOne, 0}} {
		if cos, sin := c.a.vector(); cos != c.cos || sin != c.sin {
			t.Errorf("%d: %d, %d, want %d, %d", c.a, cos, sin, c.cos, c.sin)
		}
	}
}

func TestSpreadOutKeepsOrderAndRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "n")
		want, width := make([]Micron, n), make([]Micron, n)
		at := Micron(0)
		for i := range n {
			at += Micron(rapid.Int64Range(0, 20_000).Draw(t, "step"))
			want[i], width[i] = at, Micron(rapid.Int64Range(1, 15_000).Draw(t, "width"))
		}
		lo, hi := Micron(-6000), at+Micron(rapid.Int64Range(0, 100_000).Draw(t, "beyond"))
		got, _, ok := spreadOut(want, width, lo, hi)
		total := Micron(0)
		for _, w := range width {
			total += w
		}
		if ok != (total <= hi-lo) {
			t.Fatalf("ok is %v for %d in %d", ok, total, hi-lo)
		}
		for i := range got {
			left, right := got[i]-width[i]/2, got[i]-width[i]/2+width[i]
			if left < lo || right > hi {
				t.Fatalf("interval %d [%d, %d] leaves [%d, %d]", i, left, right, lo, hi)
			}
			if i > 0 && left < got[i-1]-width[i-1]/2+width[i-1] {
				t.Fatalf("interval %d overlaps the one before", i)
			}
		}
	})
}
