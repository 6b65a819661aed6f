package search

import (
	"math"
	"math/bits"
)

// int128 is a signed sum of products of int64s, for bounds that must not wrap.
type int128 struct {
	hi int64
	lo uint64
}

// addMul adds a times b.
func (x *int128) addMul(a, b int64) {
	neg := (a < 0) != (b < 0)
	hi, lo := bits.Mul64(abs(a), abs(b))
	if neg {
		var c uint64
		lo, c = bits.Add64(^lo, 1, 0)
		hi = ^hi + c
	}
	var c uint64
	x.lo, c = bits.Add64(x.lo, lo, 0)
	x.hi += int64(hi) + int64(c)
}

func abs(a int64) uint64 {
	if a < 0 {
		return uint64(-a)
	}
	return uint64(a)
}

// float is the sum rounded toward minus infinity to a float64.
func (x int128) float() float64 {
	f := float64(float64(x.hi)*0x1p64) + float64(x.lo)
	return math.Nextafter(f, math.Inf(-1))
}

// sub takes y off.
func (x *int128) sub(y int128) {
	var b uint64
	x.lo, b = bits.Sub64(x.lo, y.lo, 0)
	x.hi -= y.hi + int64(b)
}

// less reports whether x is below y.
func (x int128) less(y int128) bool {
	return x.hi < y.hi || x.hi == y.hi && x.lo < y.lo
}
