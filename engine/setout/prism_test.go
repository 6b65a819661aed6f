package setout

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
)

// value is a rational as a float, cubic metres.
func value(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f * 1e-27
}

func drawCorner(t *rapid.T) corner {
	m := func(what string, most int64) measure.Length {
		return measure.Length(rapid.Int64Range(-most, most).Draw(t, what))
	}
	return corner{at: frame.Point{X: m("x", 20e9), Y: m("y", 20e9)}, h: heightOf(m("h", 1e9))}
}

// Earth under a triangle against Sutherland and Hodgman's clipping: the part of
// the triangle over the level is cut out as a polygon with heights, and its
// volume summed over a fan of it; the part under the level the same.
func TestWedgeAgainstClipping(t *testing.T) {
	mixed := 0
	rapid.Check(t, func(t *rapid.T) {
		tri := [3]corner{drawCorner(t), drawCorner(t), drawCorner(t)}
		level := heightOf(measure.Length(rapid.Int64Range(-8e8, 8e8).Draw(t, "level")))
		s := wedge(tri, level)
		var p [3][3]float64
		lv, _ := level.Float64()
		up, down := false, false
		for i, c := range tri {
			h, _ := c.h.Float64()
			p[i] = [3]float64{float64(c.at.X) / 1e9, float64(c.at.Y) / 1e9, (h - lv) / 1e9}
			up, down = up || h > lv, down || h < lv
		}
		if up && down {
			mixed++
		}
		cut, fill := clipped(p[:], 1), clipped(p[:], -1)
		if math.Abs(value(s.cut)-cut) > 1e-9*(1+cut) || math.Abs(value(s.fill)-fill) > 1e-9*(1+fill) {
			t.Fatalf("cut %v, fill %v; by clipping %v, %v", value(s.cut), value(s.fill), cut, fill)
		}
		// The other way up, cut is fill.
		for i := range tri {
			tri[i].h = new(big.Rat).Neg(tri[i].h)
		}
		o := wedge(tri, new(big.Rat).Neg(level))
		if o.cut.Cmp(s.fill) != 0 || o.fill.Cmp(s.cut) != 0 {
			t.Fatal("upside down, cut and fill do not change places")
		}
	})
	if mixed < 20 {
		t.Errorf("only %d triangles met the level", mixed)
	}
}

// clipped is the volume between a polygon with heights and zero, on one side.
func clipped(p [][3]float64, sign float64) float64 {
	var out [][3]float64
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		if sign*a[2] >= 0 {
			out = append(out, a)
		}
		if (a[2] < 0) != (b[2] < 0) && a[2] != b[2] {
			f := a[2] / (a[2] - b[2])
			out = append(out, [3]float64{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1]), 0})
		}
	}
	v := 0.0
	for i := 1; i+1 < len(out); i++ {
		a, b, c := out[0], out[i], out[i+1]
		area := math.Abs((b[0]-a[0])*(c[1]-a[1])-(b[1]-a[1])*(c[0]-a[0])) / 2
		v += area * sign * (a[2] + b[2] + c[2]) / 3
	}
	return v
}

// Over a rectangle, cut less fill is the four-corner rule of borrow pits, area ×
// mean of the four heights, and at the mean height they are alike.
func TestFourCornerRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := measure.Length(rapid.Int64Range(1e9, 9e9).Draw(t, "w"))
		d := measure.Length(rapid.Int64Range(1e9, 9e9).Draw(t, "d"))
		x, y := 2*w, 2*d // even, so that the middle is whole
		c := cell{corners: []corner{{at: frame.Point{}}, {at: frame.Point{X: x}}, {at: frame.Point{X: x, Y: y}}, {at: frame.Point{Y: y}}}}
		sum := new(big.Rat)
		for i := range c.corners {
			c.corners[i].h = heightOf(measure.Length(rapid.Int64Range(-1e9, 1e9).Draw(t, "h")))
			sum.Add(sum, c.corners[i].h)
		}
		e := c.earth(new(big.Rat))
		want := new(big.Rat).Mul(sum, new(big.Rat).SetFrac(times(x, y), big.NewInt(4)))
		if net := new(big.Rat).Sub(e.cut, e.fill); net.Cmp(want) != 0 {
			t.Fatalf("cut less fill is %v, want %v", net, want)
		}
		if e := c.earth(mean([]cell{c})); e.cut.Cmp(e.fill) != 0 {
			t.Fatalf("at the mean height cut is %v, fill %v", e.cut, e.fill)
		}
		if e.area.Cmp(new(big.Rat).SetInt(times(x, y))) != 0 || c.shape() != "rectangle" {
			t.Fatalf("area %v, %s", e.area, c.shape())
		}
	})
}

func TestNearestSaturates(t *testing.T) {
	huge := new(big.Int).Lsh(big.NewInt(1), 200)
	one := big.NewInt(1)
	if nearest(huge, one) != math.MaxInt64 || nearest(new(big.Int).Neg(huge), one) != -math.MaxInt64 {
		t.Error("beyond 64 bits")
	}
	for _, c := range [][3]int64{{5, 2, 3}, {-5, 2, -3}, {7, 3, 2}, {-7, 3, -2}, {1, 3, 0}} {
		if got := nearest(big.NewInt(c[0]), big.NewInt(c[1])); got != c[2] {
			t.Errorf("%d/%d = %d, want %d", c[0], c[1], got, c[2])
		}
	}
}
