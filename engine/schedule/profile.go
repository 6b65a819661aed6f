package schedule

import "sort"

// profile is how much of one resource is in use over time. used[k] holds from
// at[k] to at[k+1], the last one for ever; at[0] lies before all activities.
type profile struct {
	at   []int64
	used []int64
}

func (p *profile) reset() {
	p.at = append(p.at[:0], -1<<62)
	p.used = append(p.used[:0], 0)
}

// segment is the index of the segment that holds t.
func (p *profile) segment(t int64) int {
	if k := len(p.at) - 1; p.at[k] <= t {
		return k
	}
	return sort.Search(len(p.at), func(k int) bool { return p.at[k] > t }) - 1
}

// split makes t the start of a segment and returns its index.
func (p *profile) split(t int64) int {
	k := p.segment(t)
	if p.at[k] == t {
		return k
	}
	p.at = append(p.at, 0)
	p.used = append(p.used, 0)
	copy(p.at[k+2:], p.at[k+1:])
	copy(p.used[k+2:], p.used[k+1:])
	p.at[k+1], p.used[k+1] = t, p.used[k]
	return k + 1
}

// join forgets that segment k starts, where nothing changes there.
func (p *profile) join(k int) {
	if k > 0 && k < len(p.at) && p.used[k] == p.used[k-1] {
		p.at = append(p.at[:k], p.at[k+1:]...)
		p.used = append(p.used[:k], p.used[k+1:]...)
	}
}

// add puts an amount to use from s to f.
func (p *profile) add(s, f, amount int64) {
	i := p.split(s)
	j := p.split(f)
	for k := i; k < j; k++ {
		p.used[k] += amount
	}
	p.join(j)
	p.join(i)
}

// fits is s if no more than most is in use from s to s+d, else the first time
// after what is in the way, and the segments looked at.
func (p *profile) fits(s, d, most int64) (int64, int64) {
	k := p.segment(s)
	steps := int64(1)
	for ; k < len(p.at) && p.at[k] < s+d; k++ {
		steps++
		if p.used[k] > most {
			for p.used[k] > most {
				k++
				steps++
			}
			return p.at[k], steps
		}
	}
	return s, steps
}

// fitsBack is s if no more than most is in use from s to s+d, else the last
// start before what is in the way.
func (p *profile) fitsBack(s, d, most int64) (int64, int64) {
	k := p.segment(s + d - 1)
	steps := int64(1)
	for ; ; k-- {
		steps++
		if p.used[k] > most {
			for p.used[k] > most {
				k--
				steps++
			}
			return p.at[k+1] - d, steps
		}
		if p.at[k] <= s {
			return s, steps
		}
	}
}
