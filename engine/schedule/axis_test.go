package schedule

import (
	"math/rand/v2"
	"testing"
)

// The axis against a calendar gone through minute by minute (see clock).
func TestAxisAgreesWithTheClock(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		p := random(rng, 1)
		at, day := clock(p.Calendar, 60)
		x := newAxis(p.Calendar)
		for w := range int64(40) {
			if x.starts(w) != at[w] {
				t.Fatalf("minute %d starts at %d, want %d in %+v", w, x.starts(w), at[w], p.Calendar)
			}
			if w > 0 && x.ends(w) != at[w-1]+1 {
				t.Fatalf("%d minutes end at %d, want %d", w, x.ends(w), at[w-1]+1)
			}
			for _, lag := range []int64{0, 1, 3, 700, 1440, 2000} {
				ended := x.ends(w) + lag
				first := w
				for lag > 0 && first < 59 && at[first] < ended {
					first++
				}
				if got := x.after(w, lag, true); first < 59 && got != first {
					t.Fatalf("a lag of %d after %d leads to %d, want %d in %+v", lag, w, got, first, p.Calendar)
				}
			}
			for _, d := range []int64{1, 3, 6, 8} {
				s := w
				for len(p.Calendar.Days) > 0 && s+d < 60 && day[s] != day[s+d-1] {
					s++
				}
				if got := x.fits(w, d); s+d < 60 && got != s {
					t.Fatalf("%d minutes in one day from %d fit at %d, want %d in %+v", d, w, got, s, p.Calendar)
				}
			}
		}
	}
}

// before and fitsBack undo after and fits: the latest that still does.
func TestAxisBackwardIsTheInverse(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 300 {
		x := newAxis(random(rng, 1).Calendar)
		lag, d := rng.Int64N(3000), 1+rng.Int64N(8)
		for s := range int64(40) {
			f := x.before(s, lag, true)
			if f >= 0 && x.after(f, lag, true) > s || x.after(f+1, lag, true) <= s {
				t.Fatalf("lag %d before %d: latest %d leads to %d, one later to %d", lag, s, f, x.after(max(f, 0), lag, true), x.after(f+1, lag, true))
			}
			if b := x.fitsBack(s, d); b >= 0 && x.fits(b, d) != b || b > s || x.fits(b+1, d) <= s {
				t.Fatalf("%d minutes at or before %d: %d", d, s, b)
			}
		}
	}
}
