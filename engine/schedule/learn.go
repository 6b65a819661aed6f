package schedule

import "sort"

// learner turns dead ends into clauses and remembers who is often in them.
type learner struct {
	need    []int64 // by side: value of the mark held in the conflict
	at      []int32 // by side: the step that made the mark hold, or -1 for no mark
	score   []float64
	raise   float64
	marks   []mark
	stack   []mark
	spreads map[int32]bool
	events  []change
	blocked []block
	failed  bool // the clause just learned cannot hold where it bites
}

func (l *learner) init(vars int) {
	l.need, l.at = make([]int64, 2*vars), make([]int32, 2*vars)
	for b := range l.at {
		l.at[b] = -1
	}
	l.score, l.raise = make([]float64, vars), 1
	l.spreads = map[int32]bool{}
}

// explain appends marks from which a step follows, as far as it reaches value.
// Links and nights are explained by the weakest marks that do.
func (p *prover) explain(to []mark, st *step, value int64) []mark {
	x := p.in.axis
	switch st.why.kind {
	case forward:
		i := int(st.why.a)
		l := p.succ[i][st.why.b]
		f := x.before(value-1, l.lag, l.elapsed) + 1
		return append(to, mark{int32(2 * i), f - p.dur[i]})
	case back:
		j := int(st.why.a)
		l := p.pred[j][st.why.b]
		s := x.after(max(p.dur[l.to]-value+1, 0), l.lag, l.elapsed) - 1
		return append(to, mark{int32(2*j + 1), -s})
	case day:
		d := p.dur[st.side/2]
		if st.side%2 == 0 {
			return append(to, mark{st.side, x.fitsBack(value-1, d) + 1})
		}
		return append(to, mark{st.side, 1 - x.fits(max(1-value, 0), d)})
	case clausal:
		for _, m := range p.clauses[st.why.a].marks {
			if m.side != st.side {
				to = append(to, m.not())
			}
		}
	case written:
		to = append(to, p.arena[st.why.a:st.why.b]...)
	}
	return to
}

// origin is the step at which a mark came to hold, or -1 at the root.
func (p *prover) origin(m mark) int32 {
	k := p.last[m.side]
	for k >= 0 && p.trail[k].old >= m.value {
		k = p.trail[k].prev
		p.s.spent++
	}
	if k >= 0 && p.trail[k].level == 0 {
		return -1
	}
	return k
}

// include adds a mark to the conflict and tells by how many those of the top
// level grew.
func (p *prover) include(m mark, top int32) int {
	p.s.spent++
	had := p.at[m.side]
	if had >= 0 && p.need[m.side] >= m.value {
		return 0
	}
	k := p.origin(m)
	if k < 0 {
		return 0
	}
	grown := 0
	if p.trail[k].level == top {
		grown++
	}
	if had >= 0 && p.trail[had].level == top {
		grown--
	}
	p.need[m.side], p.at[m.side] = m.value, k
	p.score[m.side/2] += p.raise
	return grown
}

// learn resolves the refuted marks back to the first single one of its level
// that implies the dead end (the first unique implication point of Marques-Silva
// & Sakallah 1999), adds the clause, and goes back to where it bites. False if
// the dead end holds at the root.
func (p *prover) learn() bool {
	top := int32(0)
	for _, m := range p.refuted {
		if k := p.origin(m); k >= 0 {
			top = max(top, p.trail[k].level)
		}
	}
	if top == 0 {
		return false
	}
	p.undo(top)
	open := 0
	for _, m := range p.refuted {
		open += p.include(m, top)
	}
	k := int32(len(p.trail) - 1)
	for ; ; k-- {
		st := &p.trail[k]
		if p.at[st.side] != k {
			continue
		}
		if open == 1 {
			break
		}
		p.at[st.side] = -1
		open--
		p.stack = p.explain(p.stack[:0], st, p.need[st.side])
		for _, m := range p.stack {
			open += p.include(m, top)
		}
	}
	p.conclude(k)
	p.raise *= 1 / 0.95
	if p.raise > 1e100 {
		for i := range p.score {
			p.score[i] *= 1e-100
		}
		p.raise *= 1e-100
	}
	return true
}

// conclude makes the clause of the gathered marks; the one of step uip is first.
func (p *prover) conclude(uip int32) {
	first := p.trail[uip].side
	var all []int32
	for b, k := range p.at {
		if k >= 0 && int32(b) != first {
			all = append(all, int32(b))
		}
	}
	p.s.spent += int64(len(p.at)) / 8
	marks := append(p.marks[:0], mark{first, p.need[first]}.not())
	back := int32(0)
	clear(p.spreads)
	for _, b := range all {
		if p.implied(b) {
			continue
		}
		level := p.trail[p.at[b]].level
		p.spreads[level] = true
		marks = append(marks, mark{b, p.need[b]}.not())
		if level > back {
			back = level
			marks[1], marks[len(marks)-1] = marks[len(marks)-1], marks[1]
		}
	}
	for _, b := range all {
		p.at[b] = -1
	}
	p.at[first] = -1
	p.marks = marks
	p.undo(back)
	why := reason{kind: chosen}
	if len(marks) > 1 {
		why = reason{clausal, int32(len(p.clauses)), 0}
		p.keep(clause{append([]mark(nil), marks...), int32(len(p.spreads))})
	}
	p.failed = !p.set(marks[0].side, marks[0].value, why)
}

// implied reports that a gathered mark follows from the others.
func (p *prover) implied(b int32) bool {
	st := &p.trail[p.at[b]]
	if st.why.kind == chosen {
		return false
	}
	p.stack = p.explain(p.stack[:0], st, p.need[b])
	for _, m := range p.stack {
		if m.side != b && p.at[m.side] >= 0 && p.need[m.side] >= m.value {
			continue
		}
		if p.origin(m) >= 0 {
			return false
		}
	}
	return true
}

// keep stores a clause and watches its first two marks.
func (p *prover) keep(c clause) {
	id := int32(len(p.clauses))
	p.clauses = append(p.clauses, c)
	for _, m := range c.marks[:2] {
		n := m.not()
		p.watch[n.side] = append(p.watch[n.side], watcher{n.value, id})
	}
}

// thin forgets the half of the clauses that came from the most levels. Only at
// the root, where no step has a reason.
func (p *prover) thin() {
	p.settle()
	all := p.clauses
	sort.SliceStable(all, func(a, b int) bool {
		if all[a].spread != all[b].spread {
			return all[a].spread < all[b].spread
		}
		return len(all[a].marks) < len(all[b].marks)
	})
	p.clauses = nil
	for b := range p.watch {
		p.watch[b] = p.watch[b][:0]
	}
	for k, c := range all {
		if (k < len(all)/2 || c.spread <= 2) && p.rewatch(c.marks) {
			p.keep(c)
		}
	}
	p.s.spent += int64(len(all))
}

// rewatch puts two marks that may hold at the root first; false if the clause
// is true there and can go.
func (p *prover) rewatch(m []mark) bool {
	at := 0
	for k := range m {
		if p.holds(m[k]) {
			return false
		}
		if at < 2 && !p.holds(m[k].not()) {
			m[at], m[k] = m[k], m[at]
			at++
		}
	}
	return at == 2
}
