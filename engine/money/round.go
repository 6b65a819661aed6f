package money

import (
	"math/big"
)

// Side says which way a fraction of a step is rounded.
type Side string

// The sides.
const (
	// Nearest is commercial rounding: to the nearest, a half away from zero
	// (IEEE 754-2019, 4.3.1, roundTiesToAway; DIN 1333, 4.5.1).
	Nearest Side = "nearest"
	// Even is to the nearest, a half to the even neighbour (IEEE 754-2019, 4.3.1,
	// roundTiesToEven).
	Even Side = "even"
	// Customer is down: the customer has the fraction (IEEE 754-2019, 4.3.2,
	// roundTowardNegative).
	Customer Side = "customer"
	// Shop is up: the shop has it (IEEE 754-2019, 4.3.2, roundTowardPositive).
	Shop Side = "shop"
)

// Allowed lists the sides.
func (Side) Allowed() []string {
	return []string{string(Nearest), string(Even), string(Customer), string(Shop)}
}

// Round rounds v, in minor units, to a multiple of step, which is above zero. An
// unknown side rounds to the nearest. ok is false where the result is beyond what
// an Amount holds.
func Round(v *big.Rat, step Amount, side Side) (a Amount, ok bool) {
	if step <= 0 {
		step = 1
	}
	steps := new(big.Rat).Quo(v, new(big.Rat).SetInt64(int64(step)))
	down, rest := new(big.Int).DivMod(steps.Num(), steps.Denom(), new(big.Int)) // floor: the rest is not below zero
	up := false
	switch half := new(big.Int).Lsh(rest, 1).Cmp(steps.Denom()); {
	case rest.Sign() == 0, side == Customer:
	case side == Shop, half > 0:
		up = true
	case half == 0 && side == Even:
		up = down.Bit(0) == 1
	case half == 0:
		up = v.Sign() > 0 // away from zero
	}
	if up {
		down.Add(down, big.NewInt(1))
	}
	down.Mul(down, big.NewInt(int64(step)))
	if !down.IsInt64() {
		return 0, false
	}
	return Amount(down.Int64()), true
}

// Allocate shares a total by weights so that the shares add up to it: each gets
// the whole part of its due, and what is left goes, unit by unit, to the largest
// remainders, the earlier one where two are alike (the largest-remainder method of
// Hamilton, as for seats in a house). Weights below zero count as none; where no
// weight is above zero, all weigh alike. Nothing is shared among nobody.
func Allocate(total Amount, weights []int64) []Amount {
	out := make([]Amount, len(weights))
	if len(weights) == 0 {
		return out
	}
	sum := new(big.Int)
	w := make([]*big.Int, len(weights))
	for i, v := range weights {
		w[i] = big.NewInt(max(v, 0))
		sum.Add(sum, w[i])
	}
	if sum.Sign() == 0 {
		for i := range w {
			w[i] = big.NewInt(1)
		}
		sum.SetInt64(int64(len(w)))
	}
	sign := Amount(1)
	if total < 0 {
		sign = -1
	}
	all := new(big.Int).Abs(big.NewInt(int64(total)))
	left := new(big.Int).Set(all)
	rests := make([]*big.Int, len(w))
	for i := range w {
		due, rest := new(big.Int).DivMod(new(big.Int).Mul(all, w[i]), sum, new(big.Int))
		out[i], rests[i] = Amount(due.Int64()), rest
		left.Sub(left, due)
	}
	for n := left.Int64(); n > 0; n-- {
		best := 0
		for i := range rests {
			if rests[i].Cmp(rests[best]) > 0 {
				best = i
			}
		}
		out[best]++
		rests[best] = big.NewInt(-1)
	}
	for i := range out {
		out[i] *= sign
	}
	return out
}
