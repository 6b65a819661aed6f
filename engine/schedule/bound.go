package schedule

import "sort"

// load is a resource as a bound sees it: what each activity takes of it, after a
// dual feasible function has rounded the amounts (Fekete & Schepers 2001).
type load struct {
	capacity int64
	activity []int
	amount   []int64 // parallel to activity
}

// loads are the resources as they are and rounded in ways that stay valid: an
// activity that needs more than 1/(m+1) of the capacity counts as one of at most
// m that run side by side, and one that needs more than all but k counts whole
// while those under k count nothing.
func (in *instance) loads() []load {
	var all []load
	for r, c := range in.capacity {
		plain := load{capacity: c}
		for i := range in.n {
			for _, u := range in.needs[i] {
				if u.res == r {
					plain.activity = append(plain.activity, i)
					plain.amount = append(plain.amount, u.amount)
				}
			}
		}
		if len(plain.activity) < 2 {
			continue
		}
		all = append(all, plain)
		for m := int64(1); m <= 3; m++ {
			all = plain.rounded(all, m, func(a int64) int64 {
				if a > c/(m+1) {
					return 1
				}
				return 0
			})
		}
		for _, k := range plain.distinct() {
			if 2*k < c && k > 1 {
				all = plain.rounded(all, c, func(a int64) int64 {
					switch {
					case a > c-k:
						return c
					case a < k:
						return 0
					}
					return a
				})
			}
		}
	}
	return all
}

// rounded appends the load with its amounts rounded, unless nothing was.
func (l load) rounded(all []load, capacity int64, f func(int64) int64) []load {
	out := load{capacity: capacity}
	same := capacity == l.capacity
	for k, a := range l.amount {
		b := f(a)
		same = same && a == b
		if b > 0 {
			out.activity = append(out.activity, l.activity[k])
			out.amount = append(out.amount, b)
		}
	}
	if same || len(out.activity) < 2 {
		return all
	}
	return append(all, out)
}

// distinct are up to eight of the different amounts, least first.
func (l load) distinct() []int64 {
	a := append([]int64(nil), l.amount...)
	sort.Slice(a, func(i, j int) bool { return a[i] < a[j] })
	var out []int64
	for i, v := range a {
		if (i == 0 || v != a[i-1]) && len(out) < 8 {
			out = append(out, v)
		}
	}
	return out
}

// bounder finds lower bounds by destructive improvement (Klein & Scholl 1999):
// a length is ruled out when the work that must be done within some stretch of
// time does not fit it.
type bounder struct {
	in    *instance
	loads []load
	es    []int64
	work  int64
}

func newBounder(in *instance) *bounder {
	return &bounder{in: in, loads: in.loads(), es: in.heads()}
}

// best is the greatest length of which all shorter ones are ruled out, looked
// for up to a length that is known to do.
func (b *bounder) best(known int64) int64 {
	low, high := b.in.length(b.es), known // low may do, high does
	for low < high {
		mid := low + (high-low)/2
		if b.impossible(mid) {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}

// impossible reports whether a length is ruled out.
func (b *bounder) impossible(end int64) bool {
	ls := b.in.latest(end)
	for i, s := range ls {
		if s < b.es[i] {
			return true
		}
	}
	for k := range b.loads {
		if b.crowded(&b.loads[k], ls) {
			return true
		}
	}
	return false
}

// Most starts of a stretch that are tried, and most activities for which those
// that lie only partly in it are counted too.
const (
	mostStretches = 250
	mostPartial   = 60
)

// crowded reports a stretch with more work in it than there is room for.
func (b *bounder) crowded(l *load, ls []int64) bool {
	m := len(l.activity)
	byEnd := make([]int, m)
	from := make([]int64, 0, m)
	for k, i := range l.activity {
		byEnd[k] = k
		from = append(from, b.es[i])
	}
	sort.Slice(byEnd, func(x, y int) bool {
		i, j := l.activity[byEnd[x]], l.activity[byEnd[y]]
		return ls[i]+b.in.dur[i] < ls[j]+b.in.dur[j]
	})
	sort.Slice(from, func(x, y int) bool { return from[x] < from[y] })
	step := max(1, len(from)/mostStretches)
	for x := 0; x < len(from); x += step {
		if x > 0 && from[x] == from[x-step] {
			continue
		}
		if b.crowdedFrom(l, ls, byEnd, from[x]) {
			return true
		}
	}
	return false
}

// crowdedFrom looks at the stretches that begin at a time and end with an
// activity's latest finish.
func (b *bounder) crowdedFrom(l *load, ls []int64, byEnd []int, from int64) bool {
	in, sum := b.in, int64(0)
	for _, k := range byEnd {
		i := l.activity[k]
		end := ls[i] + in.dur[i]
		b.work++
		if b.es[i] >= from {
			sum += l.amount[k] * in.dur[i]
		}
		if end <= from {
			continue
		}
		total := sum
		if len(byEnd) <= mostPartial {
			total = b.within(l, ls, from, end)
		}
		if total > l.capacity*(end-from) {
			return true
		}
	}
	return false
}

// within is the least work that must lie in a stretch: each activity as early or
// as late as it can be, whichever leaves less of it inside (Baptiste, Le Pape &
// Nuijten 1999).
func (b *bounder) within(l *load, ls []int64, from, end int64) int64 {
	sum := int64(0)
	for k, i := range l.activity {
		d := b.in.dur[i]
		part := min(d, end-from, b.es[i]+d-from, end-ls[i])
		sum += l.amount[k] * max(part, 0)
	}
	b.work += int64(len(l.activity))
	return sum
}
