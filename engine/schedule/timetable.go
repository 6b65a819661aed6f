package schedule

import "sort"

// block is a stretch of time with the amount that is surely in use in it.
type block struct{ from, to, used int64 }

// sure is the time in which an activity surely runs, wherever it starts.
func (p *prover) sure(i int) (from, to int64) { return p.high(i), p.low(i) + p.dur[i] }

// timetable draws what the surely used amounts of a resource leave to the
// others (Lahrichi 1982; Le Pape 1988), with an explanation for one moment of
// each conclusion, which makes it hold elsewhere too (Schutt et al. 2011).
func (p *prover) timetable(u *usage) bool {
	blocks := p.blocks(u)
	for _, b := range blocks {
		if b.used > u.capacity {
			p.refuted = p.crowd(p.refuted[:0], u, b.from+(b.to-b.from)/2, u.capacity, -1)
			return false
		}
	}
	if len(blocks) == 0 {
		return true
	}
	for k, i := range u.activity {
		if p.low(i) == p.high(i) {
			continue
		}
		from, to := p.sure(i)
		own := block{from, to, u.amount[k]}
		if !p.later(u, blocks, i, own) || !p.sooner(u, blocks, i, own) {
			return false
		}
	}
	return true
}

// blocks lists the surely used amounts in order of time, idle times left out.
func (p *prover) blocks(u *usage) []block {
	ev := p.events[:0]
	for k, i := range u.activity {
		if from, to := p.sure(i); from < to {
			ev = append(ev, change{from, u.amount[k]}, change{to, -u.amount[k]})
		}
	}
	p.s.spent += int64(len(u.activity) + len(ev))
	sort.Slice(ev, func(a, b int) bool { return ev[a].at < ev[b].at })
	out, used := p.blocked[:0], int64(0)
	for k := 0; k < len(ev); {
		at := ev[k].at
		if used > 0 {
			out[len(out)-1].to = at
		}
		for ; k < len(ev) && ev[k].at == at; k++ {
			used += ev[k].amount
		}
		if used > 0 {
			out = append(out, block{at, at, used})
		}
	}
	p.events, p.blocked = ev, out
	return out
}

// change is what starts or stops being used at a time.
type change struct{ at, amount int64 }

// later pushes the earliest start of an activity past where it has no room.
func (p *prover) later(u *usage, blocks []block, i int, own block) bool {
	low := p.low(i)
	k := sort.Search(len(blocks), func(k int) bool { return blocks[k].to > low })
	for ; k < len(blocks) && blocks[k].from < low+p.dur[i]; k++ {
		b := blocks[k]
		p.s.spent++
		if b.used+own.used <= u.capacity || own.from <= b.from && b.to <= own.to {
			continue
		}
		for low < b.to {
			t := min(b.to, low+p.dur[i]) - 1
			at := int32(len(p.arena))
			p.arena = append(p.arena, mark{int32(2 * i), t + 1 - p.dur[i]})
			p.arena = p.crowd(p.arena, u, t, u.capacity-own.used, i)
			if !p.set(int32(2*i), t+1, reason{written, at, int32(len(p.arena))}) {
				return false
			}
			low = t + 1
		}
	}
	return true
}

// sooner pulls the latest start of an activity to before where it has no room.
func (p *prover) sooner(u *usage, blocks []block, i int, own block) bool {
	high := p.high(i)
	k := sort.Search(len(blocks), func(k int) bool { return blocks[k].from >= high+p.dur[i] }) - 1
	for ; k >= 0 && blocks[k].to > high; k-- {
		b := blocks[k]
		p.s.spent++
		if b.used+own.used <= u.capacity || own.from <= b.from && b.to <= own.to {
			continue
		}
		for high+p.dur[i] > b.from {
			t := max(b.from, high)
			at := int32(len(p.arena))
			p.arena = append(p.arena, mark{int32(2*i + 1), -t})
			p.arena = p.crowd(p.arena, u, t, u.capacity-own.used, i)
			if !p.set(int32(2*i+1), p.dur[i]-t, reason{written, at, int32(len(p.arena))}) {
				return false
			}
			high = t - p.dur[i]
		}
	}
	return true
}

// crowd appends marks by which activities other than one surely use more than
// most at a time, the greatest first so that there are few.
func (p *prover) crowd(to []mark, u *usage, t, most int64, other int) []mark {
	sum := int64(0)
	for k, i := range u.activity {
		p.s.spent++
		if i == other {
			continue
		}
		if from, end := p.sure(i); from <= t && t < end {
			to = append(to, mark{int32(2 * i), t + 1 - p.dur[i]}, mark{int32(2*i + 1), -t})
			if sum += u.amount[k]; sum > most {
				break
			}
		}
	}
	return to
}
