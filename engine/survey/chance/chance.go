// Package chance has the two distributions the tests of an adjustment need:
// the standard normal (is one reading too far off?) and the chi-square (do all
// of them fit together?). Results are the same bits on every platform; see
// package portable.
package chance

import (
	"math"

	"stallwright/engine/portable"
)

// NormalQuantile is the z below which a standard normal variable falls with
// probability p. ±Inf at 1 and 0, NaN outside. Algorithm AS 241 (PPND16),
// M. J. Wichura, Applied Statistics 37 (1988) 477-484, about 1e-16 relative.
func NormalQuantile(p float64) float64 {
	switch {
	case math.IsNaN(p) || p < 0 || p > 1:
		return math.NaN()
	case p == 0:
		return math.Inf(-1)
	case p == 1:
		return math.Inf(1)
	}
	q := p - 0.5
	if math.Abs(q) <= 0.425 {
		r := 0.180625 - float64(q*q)
		return float64(q * ratio(r, &centreNum, &centreDen))
	}
	r := p
	if q > 0 {
		r = 1 - p
	}
	r = math.Sqrt(-portable.Log(r))
	var z float64
	if r <= 5 {
		z = ratio(r-1.6, &tailNum, &tailDen)
	} else {
		z = ratio(r-5, &farNum, &farDen)
	}
	if q < 0 {
		return -z
	}
	return z
}

// Coefficients of AS 241, highest power first.
var (
	centreNum = [8]float64{2.5090809287301226727e3, 3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4, 1.3731693765509461125e4, 1.9715909503065514427e3, 1.3314166789178437745e2, 3.3871328727963666080e0}
	centreDen = [8]float64{5.2264952788528545610e3, 2.8729085735721942674e4, 3.9307895800092710610e4, 2.1213794301586595867e4, 5.3941960214247511077e3, 6.8718700749205790830e2, 4.2313330701600911252e1, 1}
	tailNum   = [8]float64{7.74545014278341407640e-4, 2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258e0, 3.64784832476320460504e0, 5.76949722146069140550e0, 4.63033784615654529590e0, 1.42343711074968357734e0}
	tailDen   = [8]float64{1.05075007164441684324e-9, 5.47593808499534494600e-4, 1.51986665636164571966e-2, 1.48103976427480074590e-1, 6.89767334985100004550e-1, 1.67638483018380384940e0, 2.05319162663775882187e0, 1}
	farNum    = [8]float64{2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.24266094738807843860e-3, 2.65321895265761230930e-2, 2.96560571828504891230e-1, 1.78482653991729133580e0, 5.46378491116411436990e0, 6.65790464350110377720e0}
	farDen    = [8]float64{2.04426310338993978564e-15, 1.42151175831644588870e-7, 1.84631831751005468180e-5, 7.86869131145613259100e-4, 1.48753612908506148525e-2, 1.36929880922735805310e-1, 5.99832206555887937690e-1, 1}
)

func ratio(r float64, num, den *[8]float64) float64 {
	n, d := num[0], den[0]
	for i := 1; i < 8; i++ {
		n = float64(n*r) + num[i]
		d = float64(d*r) + den[i]
	}
	return n / d
}

// NormalBeyond is the chance that a standard normal variable lies further from
// zero than |w|, to either side.
func NormalBeyond(w float64) float64 {
	return ChiSquareBeyond(float64(w*w), 1)
}

// ChiSquareBeyond is the chance that a chi-square variable with the given
// degrees of freedom exceeds x: the upper regularised incomplete gamma
// function Q(k/2, x/2). NaN for degrees below 1.
func ChiSquareBeyond(x float64, degrees int) float64 {
	if degrees < 1 || math.IsNaN(x) {
		return math.NaN()
	}
	if x <= 0 {
		return 1
	}
	a, h := float64(degrees)/2, x/2
	front := portable.Exp(float64(a*portable.Log(h)) - h - logGammaHalf(degrees))
	if h < a+1 {
		return 1 - float64(front*lowerSeries(a, h))
	}
	return float64(front * upperFraction(a, h))
}

// lowerSeries is Σ hⁿ/(a(a+1)…(a+n)): Abramowitz & Stegun 6.5.29.
func lowerSeries(a, h float64) float64 {
	term := 1 / a
	sum := term
	for n := 1.0; n < 1e5; n++ {
		term = float64(term * (h / (a + n)))
		sum += term
		if term < float64(sum*1e-17) {
			break
		}
	}
	return sum
}

// upperFraction is the continued fraction of Abramowitz & Stegun 6.5.31, by
// Lentz's method.
func upperFraction(a, h float64) float64 {
	const tiny = 1e-300
	b := h + 1 - a
	c, d := 1/tiny, 1/b
	f := d
	for n := 1.0; n < 1e5; n++ {
		an := float64(-n * (n - a))
		b += 2
		d = float64(an*d) + b
		if math.Abs(d) < tiny {
			d = tiny
		}
		c = b + an/c
		if math.Abs(c) < tiny {
			c = tiny
		}
		d = 1 / d
		step := float64(d * c)
		f = float64(f * step)
		if math.Abs(step-1) < 1e-16 {
			break
		}
	}
	return f
}

// logGammaHalf is ln Γ(k/2): Stirling's series (Abramowitz & Stegun 6.1.41)
// from k/2 ≥ 16 on, brought down by Γ(x+1) = xΓ(x) below.
func logGammaHalf(k int) float64 {
	x, down := float64(k)/2, 1.0
	for x < 16 {
		down = float64(down * x)
		x++
	}
	xx := float64(x * x)
	series := (1.0/12 - (1.0/360-(1.0/1260-(1.0/1680-1.0/1188/xx)/xx)/xx)/xx) / x
	const halfLogTwoPi = 0.91893853320467274178
	return float64((x-0.5)*portable.Log(x)) - x + halfLogTwoPi + series - portable.Log(down)
}

// ChiSquareCritical is the value a chi-square variable with the given degrees
// of freedom exceeds with probability alpha. NaN for degrees below 1 or alpha
// outside (0, 1).
func ChiSquareCritical(alpha float64, degrees int) float64 {
	if degrees < 1 || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	k := float64(degrees)
	// Wilson and Hilferty's cube (1931) starts a bracketed bisection: slow but
	// sure, and it is done once an adjustment.
	c := 2 / (9 * k)
	root := 1 - c + float64(NormalQuantile(1-alpha)*math.Sqrt(c))
	guess := float64(k * float64(root*float64(root*root)))
	lo, hi := 0.0, max(1, float64(2*guess))
	for ChiSquareBeyond(hi, degrees) > alpha {
		lo, hi = hi, float64(hi*2)
	}
	for i := 0; i < 200; i++ {
		mid := lo + float64((hi-lo)*0.5)
		if mid <= lo || mid >= hi {
			break
		}
		if ChiSquareBeyond(mid, degrees) > alpha {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
