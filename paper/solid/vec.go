package solid

import "math"

// Vec is a place or a way in space, in metres. It lives in numerics and
// drawings only; what is cut is measured in whole nanometres.
//
// Products stand inside float64(...), so that no platform fuses them with the
// sum that follows and all give the same bits.
type Vec struct{ X, Y, Z float64 }

// Add is a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub is a − b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Times is a stretched by t.
func (a Vec) Times(t float64) Vec { return Vec{float64(a.X * t), float64(a.Y * t), float64(a.Z * t)} }

// Dot is the scalar product.
func (a Vec) Dot(b Vec) float64 {
	return float64(a.X*b.X) + float64(a.Y*b.Y) + float64(a.Z*b.Z)
}

// Cross is the vector product.
func (a Vec) Cross(b Vec) Vec {
	return Vec{
		float64(a.Y*b.Z) - float64(a.Z*b.Y),
		float64(a.Z*b.X) - float64(a.X*b.Z),
		float64(a.X*b.Y) - float64(a.Y*b.X),
	}
}

// Norm is the length of a.
func (a Vec) Norm() float64 { return math.Sqrt(a.Dot(a)) }

// Unit is a at length one; the zero Vec where a has no length.
func (a Vec) Unit() Vec {
	n := a.Norm()
	if n == 0 {
		return Vec{}
	}
	return Vec{a.X / n, a.Y / n, a.Z / n}
}

// Min and Max are the corners of the box round two places.
func (a Vec) Min(b Vec) Vec {
	return Vec{math.Min(a.X, b.X), math.Min(a.Y, b.Y), math.Min(a.Z, b.Z)}
}

// Max is the upper corner of the box round two places.
func (a Vec) Max(b Vec) Vec {
	return Vec{math.Max(a.X, b.X), math.Max(a.Y, b.Y), math.Max(a.Z, b.Z)}
}

// Box is an upright box of space, from its least to its greatest corner.
type Box struct{ Min, Max Vec }

// emptyBox holds nothing.
func emptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// With is the box grown to hold a place.
func (b Box) With(p Vec) Box { return Box{b.Min.Min(p), b.Max.Max(p)} }

// Join is the box that holds both.
func (b Box) Join(c Box) Box { return Box{b.Min.Min(c.Min), b.Max.Max(c.Max)} }

// Grown is the box with d more on every side.
func (b Box) Grown(d float64) Box {
	v := Vec{d, d, d}
	return Box{b.Min.Sub(v), b.Max.Add(v)}
}

// Meets says whether two boxes share more than their sides.
func (b Box) Meets(c Box) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y && b.Min.Z < c.Max.Z && c.Min.Z < b.Max.Z
}

// Empty says whether the box holds nothing.
func (b Box) Empty() bool { return b.Min.X > b.Max.X }

// Centre is the middle of the box.
func (b Box) Centre() Vec { return b.Min.Add(b.Max).Times(0.5) }
