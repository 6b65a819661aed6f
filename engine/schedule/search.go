package schedule

// The search starts anew after this many dead ends times the terms of the series of
// Luby, Sinclair & Zuckerman 1993, and thins its clauses above a number that
// grows.
const (
	restartUnit = 100
	firstKept   = 3000
	keptGrowth  = 500
)

// prove searches up to a limit of work. Called again it goes on with what it
// has learned.
func (p *prover) prove(limit int64) {
	if p.last == nil && !p.begin() || !p.set(int32(2*p.n+1), 1-p.s.end, reason{kind: chosen}) {
		p.s.bound = p.s.end
		return
	}
	for ; !p.s.over(limit); p.round++ {
		if len(p.clauses) > firstKept+keptGrowth*p.thinned {
			p.thin()
			p.thinned++
		}
		p.settle()
		if !p.dive(p.round, restartUnit*luby(p.round+1), limit) {
			p.s.bound = p.s.end
			return
		}
		p.undo(0)
		p.s.bound = max(p.s.bound, p.low(p.n))
	}
}

// luby is term k of the series 1 1 2 1 1 2 4 ..., k from 1.
func luby(k int) int {
	for size := 1; ; size = 2*size + 1 {
		if k == size {
			return (size + 1) / 2
		}
		if k < 2*size+1 {
			return luby(k - size)
		}
	}
}

// dive searches until so many dead ends; false when nothing shorter than the
// best is left. Every other round it looks for a schedule as short as the bound,
// which raises the bound if there is none.
func (p *prover) dive(round, dead int, limit int64) bool {
	for {
		ok := p.propagate()
		for !ok {
			if dead--; !p.learn() {
				return false
			}
			if p.level() == 0 && p.failed {
				return false
			}
			if p.failed {
				p.failed, ok = false, false
				continue
			}
			ok = p.propagate()
		}
		if dead <= 0 || p.s.over(limit) {
			return true
		}
		if p.level() == 0 && round%2 == 1 && p.low(p.n) < p.high(p.n) {
			p.choose(int32(2*p.n+1), -p.low(p.n))
			continue
		}
		if i := p.pick(round); i >= 0 {
			p.choose(int32(2*i+1), -p.low(i))
			continue
		}
		if !p.found() {
			return false
		}
	}
}

// choose makes a decision.
func (p *prover) choose(side int32, value int64) {
	p.heads = append(p.heads, int32(len(p.trail)))
	p.set(side, value, reason{kind: chosen})
}

// pick is the activity to start next: of those still open the one that can start
// first, or in other rounds the one most often met in dead ends; -1 if all are
// settled.
func (p *prover) pick(round int) int {
	best := -1
	p.s.spent += int64(p.n)
	for i := range p.n {
		if p.low(i) == p.high(i) {
			continue
		}
		switch {
		case best < 0:
			best = i
		case round%4 >= 2:
			if p.score[i] > p.score[best] {
				best = i
			}
		case p.low(i) < p.low(best) || p.low(i) == p.low(best) && p.high(i) < p.high(best):
			best = i
		}
	}
	return best
}

// found keeps a schedule and asks for a shorter one; false if there is none.
func (p *prover) found() bool {
	start := make([]int64, p.n)
	for i := range start {
		start[i] = p.low(i)
	}
	p.s.offer(p.s.gen.justify(start))
	p.undo(0)
	return p.set(int32(2*p.n+1), 1-p.s.end, reason{kind: chosen})
}
