package fit

import (
	"strconv"
	"strings"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// cutPiece cuts one board for an obstruction: out of its lower edge, so that it
// can be dropped over it; out of its upper edge; or in two, where too little would
// be left of its face. It returns the pieces that stand in the board's place.
func (f *fitter) cutPiece(o *ObstructionFit, piece int, t *told) []int {
	p, mark := &f.out.Pieces[piece], f.kit.Board.Mark
	tongue := f.board.Tongue
	if p.Ripped {
		tongue = 0
	}
	// A board from web to web may lie pushed to either end.
	loose := measure.Length(0)
	if f.out.Bays[o.Bay].Courses[p.Course-1].whole() {
		loose = f.wide(o.Bay, p).most - p.Length
	}
	x := span{(o.X - cutPlay - loose - p.X).Round(mark, measure.Down), (o.X + o.Width + cutPlay - p.X).Round(mark, measure.Up)}
	z := span{o.Z - cutPlay - p.Z, o.Z + o.Height + cutPlay - p.Z}
	if x.meets(span{0, p.Length}) <= 0 || z.meets(span{0, p.Height + tongue}) <= 0 {
		return []int{piece}
	}
	n := Notch{X: max(x.from, 0), Why: o.Name() + " crosses the wall here"}
	n.Width = min(x.to, p.Length) - n.X
	above, below := (p.Height-z.to).Round(mark, measure.Down), z.from.Round(mark, measure.Down)
	rip := f.kit.Board.LeastRip
	switch {
	case below >= p.Height:
		n.Edge, n.Depth = "top", tongue
	case !o.Through:
		// Open at the lower edge: the board comes from above.
		n.Edge, n.Depth, n.High = string(o.Face)+" face", o.Into.Round(mark, measure.Up), min(z.to.Round(mark, measure.Up), p.Height)
	case above >= rip:
		n.Edge, n.Depth = "bottom", p.Height-above
	case below >= rip:
		n.Edge, n.Depth = "top", p.Height-below+tongue
	default:
		return f.split(o, piece, t)
	}
	o.Cut = append(o.Cut, piece)
	p.Notches = append(p.Notches, n)
	p.Why = f.whyCut(p, o)
	t.notched = append(t.notched, p.Label)
	return []int{piece}
}

// wide is the clear width beside a board from web to web.
func (f *fitter) wide(bay int, p *Piece) room {
	out := &f.out.Bays[bay]
	if f.parallel(bay) {
		return room{out.Clear, out.Clear}
	}
	return f.roomOf(bay, p)
}

func (f *fitter) whyCut(p *Piece, o *ObstructionFit) *reason.Reason {
	return reason.Of(phrase.Of("why.length-of", phrase.With("piece", phrase.Name(p.Label))), phrase.Length(p.Length), phrase.Of("rule.cut-for", o.thing(), size("play", cutPlay)), phrase.Of("source.practice"), p.Why, o.Why)
}

// split cuts a board in two beside an obstruction. A side that leaves less than
// the shortest board worth setting is left out.
func (f *fitter) split(o *ObstructionFit, piece int, t *told) []int {
	p := f.out.Pieces[piece]
	whole := f.out.Bays[o.Bay].Courses[p.Course-1].whole()
	end := p.X + p.Length
	left, right := o.X-cutPlay-p.X, end-o.X-o.Width-cutPlay
	if whole { // the end play is taken off anew
		left, _ = f.length(max(left, 0))
		right, _ = f.length(max(f.wide(o.Bay, &p).least-o.X-o.Width-cutPlay, 0))
	}
	mark := f.kit.Board.Mark
	left, right = left.Round(mark, measure.Down), right.Round(mark, measure.Down)
	b := &f.lay.Bays[o.Bay]
	least := max(f.kit.Board.LeastStub, 2*max(b.Ends[0].Leg, b.Ends[1].Leg))
	suffixes := [2]string{"L", "R"}
	if !strings.HasSuffix(p.Label, "/c"+strconv.Itoa(p.Course)) {
		suffixes = [2]string{"a", "b"}
	}
	var out []int
	for side, l := range [2]measure.Length{left, right} {
		if l < least {
			continue
		}
		q := p
		q.Label, q.Length, q.Notches = p.Label+suffixes[side], l, nil
		from := measure.Length(0)
		if side == 1 {
			if q.X = end - l; whole {
				q.X = (o.X + o.Width + cutPlay).Round(mark, measure.Up)
			}
			from = q.X - p.X
		}
		q.Notches = within(p.Notches, from, from+l)
		q.Why = f.whyCut(&q, o)
		if out == nil {
			f.out.Pieces[piece] = q
			out = append(out, piece)
		} else {
			out = append(out, f.add(q))
		}
		o.Cut = append(o.Cut, out[len(out)-1])
		t.loose = append(t.loose, q.Label)
		if whole {
			free := o.X - l
			if side == 1 {
				free = f.wide(o.Bay, &p).most - o.X - o.Width - l
			}
			f.holds(o.Bay, "beside "+o.Name(), l, b.Ends[side].Leg-free)
		}
	}
	if out == nil {
		t.lost = append(t.lost, p.Label)
		return []int{piece}
	}
	t.split = append(t.split, p.Label)
	return out
}

// within are the notches of a board that fall on a part of it.
func within(notches []Notch, from, to measure.Length) []Notch {
	var out []Notch
	for _, n := range notches {
		lo, hi := max(n.X, from), min(n.X+n.Width, to)
		if lo < hi {
			n.X, n.Width = lo-from, hi-lo
			out = append(out, n)
		}
	}
	return out
}
