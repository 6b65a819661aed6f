package measure

import (
	"math"
	"math/bits"
)

// Direction says which way to round. The zero value is Down.
type Direction uint8

// The directions of rounding.
const (
	Down    Direction = iota // toward minus infinity
	Up                       // toward plus infinity
	Nearest                  // to the nearest, a half going away from zero
)

// String returns "down", "up" or "nearest".
func (d Direction) String() string {
	switch d {
	case Up:
		return "up"
	case Nearest:
		return "nearest"
	}
	return "down"
}

// Round returns the whole multiple of mark next to l in direction d. A mark of
// zero or less means no marks: l comes back unchanged. Where the multiple would
// not fit in 64 bits (beyond 9 million km) the outermost one that fits is
// returned.
func (l Length) Round(mark Length, d Direction) Length {
	if mark <= 0 {
		return l
	}
	q, rem := floorDiv(int64(l), int64(mark)) // l = q·mark + rem, 0 ≤ rem < mark
	if rem != 0 && roundsUp(q, uint64(rem), uint64(mark), d) {
		q++
	}
	hi, lo := math.MaxInt64/int64(mark), math.MinInt64/int64(mark)
	return Length(min(max(q, lo), hi)) * mark
}

// roundsUp says whether q + rem/den, with 0 < rem < den, goes to q+1.
func roundsUp(q int64, rem, den uint64, d Direction) bool {
	switch d {
	case Up:
		return true
	case Nearest:
		if rem == den-rem {
			return q >= 0 // away from zero
		}
		return rem > den-rem
	}
	return false
}

// floorDiv returns the floor of a/b and the remainder in [0, b), for b > 0.
func floorDiv(a, b int64) (q, rem int64) {
	q, rem = a/b, a%b
	if rem < 0 {
		q, rem = q-1, rem+b
	}
	return q, rem
}

// DivDown returns how many whole times m fits in l: the floor of l/m. It
// returns 0 when m is zero or negative.
func (l Length) DivDown(m Length) int64 {
	if m <= 0 {
		return 0
	}
	q, _ := floorDiv(int64(l), int64(m))
	return q
}

// DivUp returns how many m are needed to make up l: the ceiling of l/m. It
// returns 0 when m is zero or negative.
func (l Length) DivUp(m Length) int64 {
	if m <= 0 {
		return 0
	}
	q, rem := floorDiv(int64(l), int64(m))
	if rem != 0 {
		q++
	}
	return q
}

// MulDiv returns a·b/c rounded in direction d, with a 128-bit product in
// between. It reports false when c is zero or the result does not fit.
func MulDiv(a, b, c int64, d Direction) (int64, bool) {
	if c == 0 {
		return 0, false
	}
	neg := (a < 0) != (b < 0) != (c < 0)
	den := magnitude(c)
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	if hi >= den {
		return 0, false
	}
	q, rem := bits.Div64(hi, lo, den)
	// q and rem are of the magnitude: away from zero is up there.
	if rem != 0 && (d == Up && !neg || d == Down && neg || d == Nearest && rem >= den-rem) {
		if q++; q == 0 {
			return 0, false
		}
	}
	switch {
	case neg && q <= 1<<63:
		return -int64(q), true // 1<<63 wraps to the least int64, which is right
	case !neg && q <= math.MaxInt64:
		return int64(q), true
	}
	return 0, false
}

// magnitude is the absolute value, right for the least int64 too.
func magnitude(v int64) uint64 {
	if v < 0 {
		return -uint64(v)
	}
	return uint64(v)
}

// Min returns the least of the values given.
func Min[T ~int64](first T, rest ...T) T {
	for _, v := range rest {
		first = min(first, v)
	}
	return first
}

// Max returns the greatest of the values given.
func Max[T ~int64](first T, rest ...T) T {
	for _, v := range rest {
		first = max(first, v)
	}
	return first
}

// Sum adds the values; Sum of none is zero. A total that does not fit in 64
// bits comes back as the nearest value that does; for lengths that takes more
// than 90 000 of MaxLength.
func Sum[T ~int64](values ...T) T {
	var hi, lo uint64 // two's complement, so partial sums cannot overflow
	for _, v := range values {
		var carry uint64
		lo, carry = bits.Add64(lo, uint64(v), 0)
		hi, _ = bits.Add64(hi, uint64(int64(v)>>63), carry)
	}
	switch {
	case hi == 0 && lo <= math.MaxInt64, hi == math.MaxUint64 && lo > math.MaxInt64:
		return T(lo)
	case int64(hi) < 0:
		return -1 << 63
	}
	return 1<<63 - 1
}
