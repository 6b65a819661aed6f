// Package portable has the few transcendental functions the engine's numerics
// need, giving the same bits on every platform.
//
// The standard math package does not promise that: some functions have
// assembly on some processors (Exp, Log, Hypot), and even its pure-Go ones
// are compiled with fused multiply-add on arm64, ppc64, riscv64 and s390x but
// not on amd64, 386 and wasm. The Go specification lets a compiler fuse x*y + z
// across statements unless the product is explicitly converted, so every
// product here stands inside float64(...). What is used of math is correctly
// rounded or exact everywhere: Sqrt, Abs, Floor, Frexp, Ldexp, Float64bits.
//
// Angles are in radians. Results are within 2 units in the last place of the
// true value for arguments the engine meets (|x| up to 10⁵ for Sin and Cos).
package portable

import "math"

// Three-part π/4 for argument reduction, and the polynomials of Sin and Cos
// on [-π/4, π/4]: S. L. Moshier, Cephes Mathematical Library, sin.c.
const (
	piFourthA = 7.85398125648498535156e-1
	piFourthB = 3.77489470793079817668e-8
	piFourthC = 2.69515142907905952645e-15
)

var sinPoly = [...]float64{
	1.58962301576546568060e-10,
	-2.50507477628578072866e-8,
	2.75573136213857245213e-6,
	-1.98412698295895385996e-4,
	8.33333333332211858878e-3,
	-1.66666666666666307295e-1,
}

var cosPoly = [...]float64{
	-1.13585365213876817300e-11,
	2.08757008419747316778e-9,
	-2.75573141792967388112e-7,
	2.48015872888517045348e-5,
	-1.38888888888730564116e-3,
	4.16666666666665929218e-2,
}

// horner evaluates c[0]·zⁿ + … + c[n], each product rounded on its own.
func horner(z float64, c []float64) float64 {
	s := c[0]
	for _, k := range c[1:] {
		s = float64(s*z) + k
	}
	return s
}

// SinCos is the sine and cosine of x radians; both NaN for an infinite or NaN x.
func SinCos(x float64) (sin, cos float64) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return math.NaN(), math.NaN()
	}
	negative := x < 0
	x = math.Abs(x)
	octant := math.Floor(x / (math.Pi / 4))
	if math.Mod(octant, 2) == 1 {
		octant++
	}
	q := int(math.Mod(octant, 8))
	z := ((x - float64(octant*piFourthA)) - float64(octant*piFourthB)) - float64(octant*piFourthC)
	zz := float64(z * z)
	s := z + float64(float64(z*zz)*horner(zz, sinPoly[:]))
	c := 1 - float64(0.5*zz) + float64(float64(zz*zz)*horner(zz, cosPoly[:]))
	switch q {
	case 2:
		s, c = c, -s
	case 4:
		s, c = -s, -c
	case 6:
		s, c = -c, s
	}
	if negative {
		s = -s
	}
	return s, c
}

// Sin is the sine of x radians.
func Sin(x float64) float64 { s, _ := SinCos(x); return s }

// Cos is the cosine of x radians.
func Cos(x float64) float64 { _, c := SinCos(x); return c }

// Rational approximation of atan on [0, 0.66]: Cephes, atan.c.
var (
	atanP = [...]float64{
		-8.750608600031904122785e-01,
		-1.615753718733365076637e+01,
		-7.500855792314704667340e+01,
		-1.228866684490136173410e+02,
		-6.485021904942025371773e+01,
	}
	atanQ = [...]float64{
		1,
		2.485846490142306297962e+01,
		1.650270098316988542046e+02,
		4.328810604912902668951e+02,
		4.853903996359136964868e+02,
		1.945506571482613964425e+02,
	}
)

func atanSmall(x float64) float64 {
	z := float64(x * x)
	return x + float64(x*(float64(z*horner(z, atanP[:]))/horner(z, atanQ[:])))
}

// atanPositive is atan(x) for x ≥ 0.
func atanPositive(x float64) float64 {
	const (
		moreBits = 6.123233995736765886130e-17 // π/2 − float64(π/2)
		tan3Pio8 = 2.41421356237309504880
	)
	switch {
	case x <= 0.66:
		return atanSmall(x)
	case x > tan3Pio8:
		return math.Pi/2 - atanSmall(1/x) + moreBits
	}
	return math.Pi/4 + atanSmall((x-1)/(x+1)) + float64(0.5*moreBits)
}

// Atan2 is the angle of the vector (x, y) from the x axis, in (-π, π]; 0 for
// the zero vector.
func Atan2(y, x float64) float64 {
	ay, ax := math.Abs(y), math.Abs(x)
	var a float64
	switch {
	case ay == 0 && ax == 0:
		return 0
	case ax == 0:
		a = math.Pi / 2
	default:
		a = atanPositive(ay / ax)
	}
	if x < 0 {
		a = math.Pi - a
	}
	if y < 0 {
		a = -a
	}
	return a
}

// Asin is the angle in [-π/2, π/2] whose sine is x; NaN outside [-1, 1].
func Asin(x float64) float64 {
	if !(math.Abs(x) <= 1) {
		return math.NaN()
	}
	return Atan2(x, math.Sqrt(float64((1-x)*(1+x))))
}

// High and low part of ln 2, whose sum is ln 2 to more than float64 precision.
const (
	ln2Hi = 6.93147180369123816490e-01
	ln2Lo = 1.90821492927058770002e-10
)

var logPoly = [...]float64{ // L7 … L1 of FreeBSD msun e_log.c
	1.479819860511658591e-01,
	1.531383769920937332e-01,
	1.818357216161805012e-01,
	2.222219843214978396e-01,
	2.857142874366239149e-01,
	3.999999999940941908e-01,
	6.666666666666735130e-01,
}

// Log is the natural logarithm of x; NaN for a negative x, -Inf for 0. Method
// of FreeBSD's msun e_log.c (Sun Microsystems, 1993).
func Log(x float64) float64 {
	switch {
	case math.IsNaN(x) || x < 0:
		return math.NaN()
	case x == 0:
		return math.Inf(-1)
	case math.IsInf(x, 1):
		return x
	}
	f1, ki := math.Frexp(x)
	if f1 < math.Sqrt2/2 {
		f1 = float64(f1 * 2)
		ki--
	}
	f, k := f1-1, float64(ki)
	s := f / (2 + f)
	s2 := float64(s * s)
	r := float64(s2 * horner(s2, logPoly[:]))
	hfsq := float64(float64(0.5*f) * f)
	return float64(k*ln2Hi) - ((hfsq - (float64(s*(hfsq+r)) + float64(k*ln2Lo))) - f)
}

var expPoly = [...]float64{ // P5 … P1 of FreeBSD msun e_exp.c
	4.13813679705723846039e-08,
	-1.65339022054652515390e-06,
	6.61375632143793436117e-05,
	-2.77777777770155933842e-03,
	1.66666666666666019037e-01,
}

// Exp is e to the power x. Method of FreeBSD's msun e_exp.c (Sun
// Microsystems, 1993).
func Exp(x float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x > 709.7:
		return math.Inf(1)
	case x < -745.2:
		return 0
	}
	k := math.Floor(float64(x*math.Log2E) + 0.5)
	hi := x - float64(k*ln2Hi)
	lo := float64(k * ln2Lo)
	r := hi - lo
	t := float64(r * r)
	c := r - float64(t*horner(t, expPoly[:]))
	y := 1 - ((lo - float64(r*c)/(2-c)) - hi)
	return math.Ldexp(y, int(k))
}
