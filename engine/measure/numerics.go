package measure

import (
	"fmt"
	"math"
)

// Floats, which this package otherwise has only in slope.go: the way into numerical work (adjustment,
// stress, drawing) and the one rounding back out of it.

// Metres returns the length in metres for numerical work.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// Millimetres returns the length in millimetres for numerical work.
func (l Length) Millimetres() float64 { return float64(l) / float64(Millimetre) }

// Inches returns the length in inches for numerical work.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// LengthFromMetres rounds a numerical result, in metres, to the nearest
// nanometre, half away from zero. It refuses what is not a number or over
// MaxLength.
func LengthFromMetres(m float64) (Length, error) {
	v := math.Round(m * float64(Metre))
	if !(math.Abs(v) <= float64(MaxLength)) { // also false for NaN
		return 0, fmt.Errorf("%g m is not a length: %w", m, ErrOutOfRange)
	}
	return Length(v), nil
}

// Radians returns the angle in radians for numerical work.
func (a Angle) Radians() float64 { return float64(a) / float64(180*Degree) * math.Pi }

// AngleFromRadians rounds a numerical result, in radians, to the nearest
// nanodegree, half away from zero. It refuses what is not a number or over
// MaxAngle.
func AngleFromRadians(rad float64) (Angle, error) {
	v := math.Round(rad / math.Pi * float64(180*Degree))
	if !(math.Abs(v) <= float64(MaxAngle)) {
		return 0, fmt.Errorf("%g rad is not an angle: %w", rad, ErrOutOfRange)
	}
	return Angle(v), nil
}

// Newtons returns the force in newtons for numerical work.
func (f Force) Newtons() float64 { return float64(f) / float64(Newton) }

// ForceFromNewtons rounds a numerical result, in newtons, to the nearest
// micronewton, half away from zero. It refuses what is not a number or over
// MaxForce.
func ForceFromNewtons(n float64) (Force, error) {
	v := math.Round(n * float64(Newton))
	if !(math.Abs(v) <= float64(MaxForce)) {
		return 0, fmt.Errorf("%g N is not a force: %w", n, ErrOutOfRange)
	}
	return Force(v), nil
}

// Kilograms returns the mass in kilograms for numerical work.
func (m Mass) Kilograms() float64 { return float64(m) / float64(Kilogram) }

// SquareMetres returns the area in square metres for numerical work.
func (a Area) SquareMetres() float64 { return float64(a) / float64(SquareMetre) }

// CubicMetres returns the volume in cubic metres for numerical work.
func (v Volume) CubicMetres() float64 { return float64(v) / float64(CubicMetre) }
