package cut

import (
	"sort"

	"stallwright/engine/cut/search"
	"stallwright/engine/measure"
)

// Piece is equal pieces on one board.
type Piece struct {
	Demand int // index in Problem.Demands
	Length measure.Length
	Label  string
	Count  int64 // on one board
}

// Pattern is boards of one stock cut alike, down to the labels.
type Pattern struct {
	Stock  int // index in Problem.Stock
	Times  int64
	Pieces []Piece        // in the order they are cut
	Offcut measure.Length // kept from each board, zero for none
	Scrap  measure.Length // thrown away from each board, kerf and trim aside
	Kerf   measure.Length // lost to cuts on each board
	Trim   measure.Length // lost at the ends of each board
}

// Use is how many boards of a stock a plan takes.
type Use struct {
	Stock int // index in Problem.Stock
	Count int64
}

// Waste says where the length of the boards went. Pieces, Kerf, Trim, Offcut
// and Scrap add up to Boards.
type Waste struct {
	Boards, Pieces, Kerf, Trim, Offcut, Scrap measure.Length
}

// Plan is an answer and how good it is.
type Plan struct {
	Patterns []Pattern
	Used     []Use // stocks taken, in the order of Problem.Stock
	Cost     int64 // money for stock less credits
	Bound    int64 // no plan costs less
	Proven   bool  // Cost equals Bound
	Waste    Waste
	Distinct int   // cutting patterns, labels aside
	Boards   int64 // boards taken
	Work     int64 // elementary steps spent, the same on every machine
	Stopped  bool  // the budget or the caller ended the search
}

// Gap is how far the cost may be above the least, as a fraction of the cost.
func (p *Plan) Gap() float64 {
	if p.Cost <= p.Bound || p.Cost == 0 {
		return 0
	}
	return float64(p.Cost-p.Bound) / float64(p.Cost)
}

// lay turns the runs of a search into patterns with labels: pieces of a length
// go to the demands of that length in order, and boards that carry the same
// labels stay together.
func (p *Problem) lay(m *model, runs []search.Run, plan *Plan) {
	left := map[int]int64{}
	for _, ds := range m.demands {
		for _, d := range ds {
			left[d] = p.Demands[d].Count
		}
	}
	boards := map[int]int64{}
	for _, r := range runs {
		plan.Distinct++
		for times := r.Times; times > 0; {
			st, n := p.board(m.stock[r.Stock], boards, times)
			pieces, n := p.take(m, &r.Pattern, left, n)
			boards[st] += n
			times -= n
			q := p.finish(st, pieces)
			q.Times = n
			plan.Patterns = append(plan.Patterns, q)
		}
	}
}

// board picks the stock, of several alike, that the next boards come from, and
// how many of up to n it gives: limited ones first.
func (p *Problem) board(from []int, used map[int]int64, n int64) (int, int64) {
	open := from[len(from)-1]
	for _, s := range from {
		a := p.Stock[s].Available
		if a == Unlimited {
			open = s
			continue
		}
		if rest := a - used[s]; rest > 0 {
			return s, min(rest, n)
		}
	}
	return open, n
}

// take fills a pattern with labelled pieces for as many of n boards as carry
// the same labels, and takes the pieces off what is left.
func (p *Problem) take(m *model, r *search.Pattern, left map[int]int64, n int64) ([]Piece, int64) {
	var pieces []Piece
	for k, it := range r.Item {
		need := int64(r.Count[k])
		for len(m.demands[it]) > 0 && left[m.demands[it][0]] == 0 {
			m.demands[it] = m.demands[it][1:] // so that thousands of labels take no longer each
		}
		for _, d := range m.demands[it] {
			c := min(need, left[d])
			if c == 0 {
				continue
			}
			if c == need {
				n = min(n, left[d]/c)
			} else {
				n = 1 // the rest of a label
			}
			pieces = append(pieces, Piece{d, p.Demands[d].Length, p.Demands[d].Label, c})
			if need -= c; need == 0 {
				break
			}
		}
	}
	for _, q := range pieces {
		left[q.Demand] -= n * q.Count
	}
	return pieces, n
}

// finish works out what happens to the rest of a board.
func (p *Problem) finish(st int, pieces []Piece) Pattern {
	s := &p.Stock[st]
	q := Pattern{Stock: st, Pieces: pieces}
	use := p.usable(s)
	q.Trim = s.Length - use
	n, sum := int64(0), measure.Length(0)
	for _, x := range pieces {
		n += x.Count
		sum += measure.Length(x.Count) * x.Length
	}
	q.Kerf = measure.Length(n-1) * p.Saw.Kerf
	rest := use - sum - q.Kerf
	if rest > 0 {
		cut := min(rest, p.Saw.Kerf)
		q.Kerf += cut
		rest -= cut
	}
	if p.Saw.Keep > 0 && rest >= p.Saw.Keep {
		q.Offcut = rest
	} else {
		q.Scrap = rest
	}
	return q
}

// total fills in the sums of a plan over its patterns.
func (p *Problem) total(plan *Plan) {
	used := map[int]int64{}
	for _, q := range plan.Patterns {
		used[q.Stock] += q.Times
		t := measure.Length(q.Times)
		w := &plan.Waste
		w.Boards += t * p.Stock[q.Stock].Length
		w.Kerf += t * q.Kerf
		w.Trim += t * q.Trim
		w.Offcut += t * q.Offcut
		w.Scrap += t * q.Scrap
		for _, x := range q.Pieces {
			w.Pieces += t * measure.Length(x.Count) * x.Length
		}
	}
	for s, n := range used {
		plan.Used = append(plan.Used, Use{s, n})
		plan.Boards += n
	}
	sort.Slice(plan.Used, func(a, b int) bool { return plan.Used[a].Stock < plan.Used[b].Stock })
}
