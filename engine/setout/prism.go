package setout

import (
	"math/big"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
)

// corner is a place in plan with the ground's height there.
type corner struct {
	name string
	at   frame.Point
	h    *big.Rat // nanometres above the benchmark
}

// cell is a part of the plan whose corners were levelled. The ground in it is
// taken as flat triangles from its middle, at the mean of its corners, to each
// side; a triangle is one flat piece.
type cell struct {
	part    Part
	corners []corner
}

// faces are a cell's flat triangles.
func (c cell) faces() [][3]corner {
	if len(c.corners) == 3 {
		return [][3]corner{{c.corners[0], c.corners[1], c.corners[2]}}
	}
	n := measure.Length(len(c.corners))
	mid := corner{h: new(big.Rat)}
	for _, k := range c.corners {
		mid.at = mid.at.Add(k.at)
		mid.h.Add(mid.h, k.h)
	}
	mid.at = frame.Point{X: mid.at.X / n, Y: mid.at.Y / n}
	mid.h.Quo(mid.h, ratio(int64(n)))
	var out [][3]corner
	for i := range c.corners {
		out = append(out, [3]corner{mid, c.corners[i], c.corners[(i+1)%len(c.corners)]})
	}
	return out
}

// shape names a cell's plan: for whoever checks the sum by hand.
func (c cell) shape() Shape {
	switch len(c.corners) {
	case 3:
		return Triangle
	case 4:
		side := func(i int) frame.Point { return c.corners[(i+1)%4].at.Sub(c.corners[i%4].at) }
		level := func(i int) bool { return cross(side(i), side(i+2)).Sign() == 0 }
		switch {
		case level(0) && level(1) && dot(side(0), side(1)).Sign() == 0:
			return Rectangular
		case level(0) || level(1):
			return Trapezoid
		}
		return Quadrilateral
	}
	return Polygon
}

func ratio(n int64) *big.Rat { return new(big.Rat).SetInt64(n) }

func times(a, b measure.Length) *big.Int {
	return new(big.Int).Mul(big.NewInt(int64(a)), big.NewInt(int64(b)))
}

func cross(a, b frame.Point) *big.Int {
	return new(big.Int).Sub(times(a.X, b.Y), times(a.Y, b.X))
}

func dot(a, b frame.Point) *big.Int { return new(big.Int).Add(times(a.X, b.X), times(a.Y, b.Y)) }

// area is a triangle's, in square nanometres.
func area(t [3]corner) *big.Rat {
	a := new(big.Rat).SetInt(cross(t[1].at.Sub(t[0].at), t[2].at.Sub(t[0].at)))
	return a.Quo(a.Abs(a), ratio(2))
}

// sums are areas and volumes in cubic nanometres, exact.
type sums struct{ area, cut, fill *big.Rat }

func newSums() sums { return sums{new(big.Rat), new(big.Rat), new(big.Rat)} }

func (s sums) add(t sums) {
	s.area.Add(s.area, t.area)
	s.cut.Add(s.cut, t.cut)
	s.fill.Add(s.fill, t.fill)
}

// earth is how much ground lies above a level in a cell, and how much is missing
// below it.
func (c cell) earth(level *big.Rat) sums {
	s := newSums()
	for _, t := range c.faces() {
		s.add(wedge(t, level))
	}
	return s
}

// wedge is the earth above and below a level under one flat triangle of area A,
// whose corners lie d₁, d₂, d₃ above the level. All on one side: A·(d₁+d₂+d₃)/3.
// With one corner alone on its side, the plane cuts a pyramid off at that corner
// of volume A·|d₁|³ / (3·|d₁−d₂|·|d₁−d₃|): its base is cut to d₁/(d₁−d₂) along
// one side and d₁/(d₁−d₃) along the other.
func wedge(t [3]corner, level *big.Rat) sums {
	s := newSums()
	s.area = area(t)
	var d [3]*big.Rat
	up, down := 0, 0
	for i := range d {
		d[i] = new(big.Rat).Sub(t[i].h, level)
		switch d[i].Sign() {
		case 1:
			up++
		case -1:
			down++
		}
	}
	net := new(big.Rat).Add(d[0], d[1])
	net.Add(net, d[2]).Mul(net, s.area).Quo(net, ratio(3))
	switch {
	case down == 0:
		s.cut = net
	case up == 0:
		s.fill = net.Neg(net)
	case up == 1:
		s.cut = tip(d, 1, s.area)
		s.fill.Sub(s.cut, net)
	default:
		s.fill = tip(d, -1, s.area)
		s.cut.Add(s.fill, net)
	}
	return s
}

// tip is the pyramid at the one corner of the given sign.
func tip(d [3]*big.Rat, sign int, area *big.Rat) *big.Rat {
	k := 0
	for i := range d {
		if d[i].Sign() == sign {
			k = i
		}
	}
	a := d[k]
	v := new(big.Rat).Mul(a, a)
	v.Mul(v, a).Mul(v, area)
	v.Quo(v, new(big.Rat).Sub(a, d[(k+1)%3]))
	v.Quo(v, new(big.Rat).Sub(a, d[(k+2)%3]))
	v.Quo(v, ratio(3))
	return v.Abs(v)
}

// mean is the level at which cut and fill are alike: the mean height of the
// ground by area, Σ A·h / Σ A.
func mean(cells []cell) *big.Rat {
	top, bottom := new(big.Rat), new(big.Rat)
	for _, c := range cells {
		for _, t := range c.faces() {
			a := area(t)
			h := new(big.Rat).Add(t[0].h, t[1].h)
			h.Add(h, t[2].h).Quo(h, ratio(3))
			top.Add(top, h.Mul(h, a))
			bottom.Add(bottom, a)
		}
	}
	if bottom.Sign() == 0 {
		return new(big.Rat)
	}
	return top.Quo(top, bottom)
}

// whole is a rational in whole units of the given size, to the nearest.
func whole(r *big.Rat, unit int64) int64 {
	return nearest(r.Num(), new(big.Int).Mul(r.Denom(), big.NewInt(unit)))
}

// um2 is how many square nanometres make a square micrometre.
const um2 = 1_000_000

func volume(r *big.Rat) measure.Volume   { return measure.Volume(whole(r, nm3)) }
func areaOf(r *big.Rat) measure.Area     { return measure.Area(whole(r, um2)) }
func lengthOf(r *big.Rat) measure.Length { return measure.Length(whole(r, 1)) }
func heightOf(l measure.Length) *big.Rat { return ratio(int64(l)) }
