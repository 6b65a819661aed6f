package search

import "math/bits"

// mod is the remainder of a by m, never below zero.
func mod(a, m int64) int64 {
	if a %= m; a < 0 {
		a += m
	}
	return a
}

// solveMod is the least x of at least zero with a x equal to b modulo m, for a
// and m without a common divisor (Euclid's algorithm, extended).
func solveMod(a, b, m int64) int64 {
	if m == 1 {
		return 0
	}
	x, y, r, s := int64(1), int64(0), mod(a, m), m
	for s != 0 {
		q := r / s
		r, s = s, r-q*s
		x, y = y, x-q*y
	}
	return mulMod(mod(x, m), mod(b, m), m)
}

// mulMod is a times b modulo m, for a and b from zero to below m.
func mulMod(a, b, m int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	_, r := bits.Div64(hi, lo, uint64(m))
	return int64(r)
}
