package web

import (
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// How often somebody may try to sign in: a few at once, then slowly.
const (
	tryBurst    = 6
	tryEach     = 10 * time.Second // by address
	nameBurst   = 10
	nameEach    = 30 * time.Second // by name, from wherever
	mostBuckets = 10_000
)

// limits keep people from guessing passwords.
type limits struct {
	clock func() time.Time
	mu    sync.Mutex
	by    map[string]*rate.Limiter
	swept time.Time
	check chan struct{} // passwords being checked at once: each takes 19 MiB
}

func newLimits(clock func() time.Time) *limits {
	return &limits{clock: clock, by: map[string]*rate.Limiter{}, check: make(chan struct{}, 2)}
}

// allows says whether another try from an address for a name may be made now; where
// not, when.
func (l *limits) allows(addr, name string) (ok bool, wait time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.clock()
	if len(l.by) > mostBuckets && now.Sub(l.swept) > tryEach {
		l.swept = now
		for k, v := range l.by {
			if v.TokensAt(now) >= float64(v.Burst()) {
				// A full bucket is as good as none.
				delete(l.by, k)
			}
		}
	}
	for _, b := range []struct {
		key   string
		each  time.Duration
		burst int
	}{{"a " + addr, tryEach, tryBurst}, {"n " + name, nameEach, nameBurst}} {
		v := l.by[b.key]
		if v == nil {
			v = rate.NewLimiter(rate.Every(b.each), b.burst)
			l.by[b.key] = v
		}
		if !v.AllowN(now, 1) {
			return false, b.each
		}
	}
	return true, 0
}
