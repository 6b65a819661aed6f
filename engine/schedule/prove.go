package schedule

// prover searches for a shorter schedule, or the proof that there is none, by
// branching on starts and learning from every dead end: constraint propagation
// with explanations and clauses learned from them (lazy clause generation:
// Ohrimenko, Stuckey & Codish 2009; for this problem Schutt, Feydy, Stuckey &
// Wallace 2011).
//
// Its variables are the starts and, last, the end of the project. Each has two
// sides: 2i is start i from below, 2i+1 from above with its sign turned, so that
// on both a greater value is a tighter bound. A mark is "side at least value";
// that it does not hold is the mark "side^1 at least 1-value".
type prover struct {
	s    *solver
	in   *instance
	n    int // of activities; variable n is the end
	dur  []int64
	pred [][]arc
	succ [][]arc
	use  []usage
	uses [][]int // resources of an activity

	bound []int64 // by side
	last  []int32 // the newest step of a side, or -1
	trail []step
	heads []int32 // first step of each level above the root
	done  int     // steps of the trail that were propagated
	dirty []bool  // resources to look at again
	wake  []int

	arena   []mark // explanations written down, see written
	clauses []clause
	watch   [][]watcher
	refuted []mark // marks that cannot hold together, when propagation fails

	round, thinned int // starts so far, and of these with clauses thinned

	learner
}

type mark struct {
	side  int32
	value int64
}

// not is the mark that holds when m does not.
func (m mark) not() mark { return mark{m.side ^ 1, 1 - m.value} }

// step is one tightening of a bound.
type step struct {
	side, level, prev int32
	old, new          int64
	why               reason
}

// reason says why a bound was tightened.
type reason struct {
	kind kind
	a, b int32
}

type kind int8

const (
	chosen  kind = iota // a decision, or known at the root
	forward             // by arc b of succ[a]
	back                // by arc b of pred[a]
	day                 // a Whole activity finds no room before the night
	clausal             // by clause a
	written             // by the marks arena[a:b]
)

type clause struct {
	marks  []mark // one of them holds; the first two are watched
	spread int32  // number of levels its marks came from
}

// watcher wakes a clause when a side reaches a value, at which the clause's
// watched mark no longer holds.
type watcher struct {
	value  int64
	clause int32
}

// usage is what the activities take of a resource, most first.
type usage struct {
	capacity int64
	activity []int
	amount   []int64
}

func newProver(s *solver) *prover {
	in := s.in
	n := in.n
	p := &prover{s: s, in: in, n: n, dur: append(append([]int64(nil), in.dur...), 0), uses: make([][]int, n+1)}
	p.pred = append(append([][]arc(nil), in.pred...), nil)
	p.succ = append([][]arc(nil), in.succ...)
	for i := range n {
		if len(in.succ[i]) == 0 {
			p.succ[i] = []arc{{to: n}}
			p.pred[n] = append(p.pred[n], arc{to: i})
		}
	}
	p.succ = append(p.succ, nil)
	for r, c := range in.capacity {
		if u := in.usage(r, c); len(u.activity) > 1 {
			for _, i := range u.activity {
				p.uses[i] = append(p.uses[i], len(p.use))
			}
			p.use = append(p.use, u)
		}
	}
	p.dirty = make([]bool, len(p.use))
	p.bound = make([]int64, 2*n+2)
	p.watch = make([][]watcher, 2*n+2)
	p.learner.init(n + 1)
	return p
}

func (in *instance) usage(r int, capacity int64) usage {
	u := usage{capacity: capacity}
	for i := range in.n {
		for _, x := range in.needs[i] {
			if x.res != r {
				continue
			}
			k := len(u.amount)
			for k > 0 && u.amount[k-1] < x.amount {
				k--
			}
			u.activity = append(u.activity, 0)
			u.amount = append(u.amount, 0)
			copy(u.activity[k+1:], u.activity[k:])
			copy(u.amount[k+1:], u.amount[k:])
			u.activity[k], u.amount[k] = i, x.amount
		}
	}
	return u
}

// begin sets the root's bounds for schedules shorter than the best; false if
// there are none.
func (p *prover) begin() bool {
	p.last = make([]int32, len(p.bound))
	end := p.s.end - 1
	es, ls := p.in.heads(), p.in.latest(end)
	for i := range p.n {
		p.bound[2*i], p.bound[2*i+1] = es[i], -ls[i]
		if ls[i] < es[i] {
			return false
		}
	}
	p.bound[2*p.n], p.bound[2*p.n+1] = p.s.bound, -end
	for b := range p.last {
		p.last[b] = -1
	}
	for r := range p.use {
		p.touch(r)
	}
	return p.s.bound <= end && p.propagate()
}

func (p *prover) level() int32 { return int32(len(p.heads)) }

func (p *prover) low(i int) int64  { return p.bound[2*i] }
func (p *prover) high(i int) int64 { return -p.bound[2*i+1] }

func (p *prover) touch(r int) {
	if !p.dirty[r] {
		p.dirty[r] = true
		p.wake = append(p.wake, r)
	}
}

// set tightens a bound; false, with refuted filled, if it meets the other side.
func (p *prover) set(side int32, value int64, why reason) bool {
	if p.bound[side] >= value {
		return true
	}
	st := step{side, p.level(), p.last[side], p.bound[side], value, why}
	if value+p.bound[side^1] > 0 {
		p.refuted = p.explain(p.refuted[:0], &st, value)
		p.refuted = append(p.refuted, mark{side, value}.not())
		return false
	}
	p.last[side] = int32(len(p.trail))
	p.bound[side] = value
	p.trail = append(p.trail, st)
	return true
}

// undo goes back to a level.
func (p *prover) undo(level int32) {
	if p.level() <= level {
		return
	}
	to := int(p.heads[level])
	for k := len(p.trail) - 1; k >= to; k-- {
		st := &p.trail[k]
		p.bound[st.side], p.last[st.side] = st.old, st.prev
	}
	for k := to; k < len(p.trail); k++ {
		if w := p.trail[k].why; w.kind == written {
			p.arena = p.arena[:w.a]
			break
		}
	}
	p.trail = p.trail[:to]
	p.heads = p.heads[:level]
	p.done = to
	for _, r := range p.wake {
		p.dirty[r] = false
	}
	p.wake = p.wake[:0]
}

// settle forgets the steps of the root, which need no reasons.
func (p *prover) settle() {
	for _, st := range p.trail {
		p.last[st.side] = -1
	}
	p.trail, p.arena, p.done = p.trail[:0], p.arena[:0], 0
}

// propagate draws conclusions until there are no more; false at a dead end.
func (p *prover) propagate() bool {
	for {
		for p.done < len(p.trail) {
			st := p.trail[p.done]
			p.done++
			p.s.spent++
			if st.new < p.bound[st.side] {
				// A tighter one follows; only what watches this value must hear.
				if !p.waken(st) {
					return false
				}
				continue
			}
			if !p.waken(st) || !p.follow(st) {
				return false
			}
		}
		if len(p.wake) == 0 {
			return true
		}
		r := p.wake[len(p.wake)-1]
		p.wake = p.wake[:len(p.wake)-1]
		p.dirty[r] = false
		if !p.timetable(&p.use[r]) {
			return false
		}
	}
}

// follow draws what links, nights and resources make of a step.
func (p *prover) follow(st step) bool {
	i := int(st.side / 2)
	for _, r := range p.uses[i] {
		p.touch(r)
	}
	if st.side%2 == 0 {
		if i < p.n && p.in.whole[i] && !p.set(st.side, p.in.axis.fits(st.new, p.dur[i]), reason{kind: day}) {
			return false
		}
		f := p.bound[st.side] + p.dur[i]
		for k, l := range p.succ[i] {
			p.s.spent++
			if !p.set(int32(2*l.to), p.in.axis.after(f, l.lag, l.elapsed), reason{forward, int32(i), int32(k)}) {
				return false
			}
		}
		return true
	}
	if i < p.n && p.in.whole[i] && !p.set(st.side, -p.in.axis.fitsBack(-st.new, p.dur[i]), reason{kind: day}) {
		return false
	}
	s := -p.bound[st.side]
	for k, l := range p.pred[i] {
		p.s.spent++
		if !p.set(int32(2*l.to+1), p.dur[l.to]-p.in.axis.before(s, l.lag, l.elapsed), reason{back, int32(i), int32(k)}) {
			return false
		}
	}
	return true
}

// waken looks at the clauses that watch a side.
func (p *prover) waken(st step) bool {
	ws := p.watch[st.side]
	keep, ok := ws[:0], true
	for k, w := range ws {
		p.s.spent++
		if !ok || w.value <= st.old || w.value > st.new {
			keep = append(keep, w)
			continue
		}
		var moved bool
		if moved, ok = p.check(w, st.side); !moved {
			keep = append(keep, ws[k])
		}
	}
	p.watch[st.side] = keep
	return ok
}

// check finds a clause another mark to watch, or draws its conclusion.
func (p *prover) check(w watcher, side int32) (moved, ok bool) {
	m := p.clauses[w.clause].marks
	if m[0] == (mark{side, w.value}).not() {
		m[0], m[1] = m[1], m[0]
	}
	if p.holds(m[0]) {
		return false, true
	}
	for k := 2; k < len(m); k++ {
		p.s.spent++
		if !p.holds(m[k].not()) {
			m[1], m[k] = m[k], m[1]
			n := m[1].not()
			p.watch[n.side] = append(p.watch[n.side], watcher{n.value, w.clause})
			return true, true
		}
	}
	return false, p.set(m[0].side, m[0].value, reason{clausal, w.clause, 0})
}

func (p *prover) holds(m mark) bool { return p.bound[m.side] >= m.value }
