package money_test

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/money"
)

// The roundings of IEEE 754-2019, 4.3, at the values that tell them apart; the
// table is that of the Wikipedia article "Rounding", section on comparison of
// approaches (from memory), and follows from the definitions.
func TestRoundAsIEEE754Defines(t *testing.T) {
	for _, c := range []struct {
		tenths                        int64
		nearest, even, customer, shop money.Amount
	}{
		{18, 2, 2, 1, 2}, {15, 2, 2, 1, 2}, {12, 1, 1, 1, 2}, {10, 1, 1, 1, 1}, {8, 1, 1, 0, 1}, {5, 1, 0, 0, 1}, {2, 0, 0, 0, 1}, {0, 0, 0, 0, 0},
		{-2, 0, 0, -1, 0}, {-5, -1, 0, -1, 0}, {-8, -1, -1, -1, 0}, {-15, -2, -2, -2, -1}, {-18, -2, -2, -2, -1}, {25, 3, 2, 2, 3}, {-25, -3, -2, -3, -2},
	} {
		for side, want := range map[money.Side]money.Amount{money.Nearest: c.nearest, money.Even: c.even, money.Customer: c.customer, money.Shop: c.shop} {
			if got, ok := money.Round(big.NewRat(c.tenths, 10), 1, side); !ok || got != want {
				t.Errorf("%d/10 rounded %s is %d, want %d", c.tenths, side, got, want)
			}
		}
	}
}

// math.Round rounds half away from zero and math.RoundToEven half to even, by their
// documentation; a tenth of an odd number of fives is where they differ.
func TestRoundAgreesWithTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.Int64Range(-1<<40, 1<<40).Draw(r, "quarters")
		v := big.NewRat(n, 4)
		f := float64(n) / 4 // exact: 42 bits
		for side, want := range map[money.Side]float64{money.Nearest: math.Round(f), money.Even: math.RoundToEven(f), money.Customer: math.Floor(f), money.Shop: math.Ceil(f)} {
			if got, ok := money.Round(v, 1, side); !ok || float64(got) != want {
				r.Fatalf("%d/4 rounded %s is %d, want %v", n, side, got, want)
			}
		}
	})
}

func TestRoundToSteps(t *testing.T) {
	// Cash in Switzerland goes by five centimes: 1.02 is 1.00, 1.03 is 1.05 (Swiss
	// practice since 2007, no one-centime coin; from memory).
	for _, c := range []struct{ v, want money.Amount }{{102, 100}, {103, 105}, {107, 105}, {108, 110}, {100, 100}} {
		if got, _ := money.Round(new(big.Rat).SetInt64(int64(c.v)), 5, money.Nearest); got != c.want {
			t.Errorf("%d to steps of 5 is %d, want %d", c.v, got, c.want)
		}
	}
	if _, ok := money.Round(new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(1), 80)), 1, money.Nearest); ok {
		t.Error("more than an amount holds was taken")
	}
}

// Worked example of the largest-remainder method with the Hare quota: votes 47000,
// 16000, 15900, 12000, 6000, 3100 for 10 seats give 5, 2, 1, 1, 1, 0 (Wikipedia,
// "Largest remainder method"; from memory). The remainders are .7 .6 .59 .2 .6 .31.
func TestAllocateIsHamiltons(t *testing.T) {
	got := money.Allocate(10, []int64{47000, 16000, 15900, 12000, 6000, 3100})
	want := []money.Amount{5, 2, 1, 1, 1, 0}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("%v, want %v", got, want)
		}
	}
}

// Shares add up, keep quota (none is a whole unit off its due), and follow their
// weights.
func TestAllocateAddsUpAndKeepsQuota(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		total := money.Amount(rapid.Int64Range(-1<<50, 1<<50).Draw(r, "total"))
		w := rapid.SliceOfN(rapid.Int64Range(0, 1<<50), 1, 12).Draw(r, "weights")
		got := money.Allocate(total, w)
		sum, all := money.Amount(0), new(big.Int)
		for i := range got {
			sum += got[i]
			all.Add(all, big.NewInt(w[i]))
		}
		if sum != total {
			r.Fatalf("%v add up to %d, not to %d", got, sum, total)
		}
		if all.Sign() == 0 {
			return
		}
		for i := range got {
			due := new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(int64(total)), big.NewInt(w[i])), all)
			off := new(big.Rat).Sub(due, new(big.Rat).SetInt64(int64(got[i])))
			if off.Abs(off).Cmp(big.NewRat(1, 1)) >= 0 {
				r.Fatalf("share %d is %d, due is %s", i, got[i], due.FloatString(3))
			}
			for k := range got {
				if w[i] > w[k] && total > 0 && got[i] < got[k] {
					r.Fatalf("the heavier weight got less: %v of %v", got, w)
				}
			}
		}
	})
}

func TestFiguresAndPercentages(t *testing.T) {
	var f money.Figure
	for _, c := range []struct {
		text string
		in   money.Currency
		want money.Amount
		ok   bool
	}{
		{"13.40", "USD", 1340, true}, {"13.4", "USD", 1340, true}, {"13", "USD", 1300, true}, {"13.405", "USD", 13405, false},
		{"1340", "JPY", 1340, true}, {"1340.00", "JPY", 1340, true}, {"1340.50", "JPY", 0, false}, {"1.234", "KWD", 1234, true}, {"0.0001", "CLF", 1, true},
	} {
		if err := f.UnmarshalText([]byte(c.text)); err != nil {
			t.Fatal(err)
		}
		if got, ok := f.In(c.in); ok != c.ok || ok && got != c.want {
			t.Errorf("%s %s is %d, %v", c.text, c.in, got, ok)
		}
	}
	for _, text := range []string{"-1", "1,50", "1e3", "", "$5", "1.2.3", "1234567890123"} {
		if f.UnmarshalText([]byte(text)) == nil {
			t.Errorf("%q was taken for an amount", text)
		}
	}
	var p money.Percent
	for text, want := range map[string]*big.Rat{"25 %": big.NewRat(1, 4), "7.25 %": big.NewRat(29, 400), "33 1/3 %": big.NewRat(1, 3), "8.875%": big.NewRat(71, 800), "0 %": new(big.Rat)} {
		if err := p.UnmarshalText([]byte(text)); err != nil || p.Rat().Cmp(want) != 0 {
			t.Errorf("%q is %v (%v), want %v", text, p.Rat(), err, want)
		}
	}
	for _, text := range []string{"25", "0.25", "-3 %", "1/0 %", "5 1/0 %", "% 5", "12,5 %"} {
		if p.UnmarshalText([]byte(text)) == nil {
			t.Errorf("%q was taken for a percentage", text)
		}
	}
	if s := money.Currency("USD").Text(-5); s != "-0.05" {
		t.Errorf("%q", s)
	}
	if s := money.Currency("JPY").Text(1234); s != "1234" {
		t.Errorf("%q", s)
	}
	if s := money.Currency("KWD").Text(1234); s != "1.234" {
		t.Errorf("%q", s)
	}
}
