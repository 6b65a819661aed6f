package frame

import (
	"errors"
	"fmt"
	"math"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// pen frames a round pen.
func (b *builder) pen(p *job.Pen, path string) {
	path += ".pen"
	use := b.kit.Uses.Pen
	if use == nil {
		b.problem(p.Pos(), path, p.Name, fmt.Sprintf("the kit %s makes no pens", b.kit.Kit), "another kit, or uses.pen in this one")
		return
	}
	height := b.height(p.Height, use.Height)
	s := b.structure(p.Name, Pen, height)
	sections := b.penSections(p, use, path)
	if sections == nil {
		return
	}
	toward := 270 * measure.Degree
	if p.Gate != nil && p.Gate.Toward != nil {
		toward = *p.Gate.Toward
	}
	ring, err := SolveRing(sections, toward)
	if err != nil {
		hint := "change the number or the lengths of the sections"
		if errors.Is(err, ErrFewSections) {
			hint = "at least three; a horse turns well from about twelve"
		}
		b.problem(p.Pos(), path, p.Name, err.Error(), hint)
		return
	}
	if ring.Outside {
		b.problem(p.Pos(), path, p.Name, "one section is so long that it spans more than half the circle: this is no pen", "shorter sections, or more of them")
		return
	}
	b.out.Structures[s].Ring = ring
	b.penRuns(p, use, s, ring, height, path)
	b.penSize(p, s, ring)
	b.penJoints(p, s, ring)
}

// penRuns sets the pins and frames the sections between them.
func (b *builder) penRuns(p *job.Pen, use *kit.PenUse, s int, ring *Ring, height measure.Length, path string) {
	base := b.base(p.Base, use.Base, p.Where, path)
	wall := b.wall(p.Name+" ring", s, job.WallSection)
	upright := b.upright(use.Section)
	first := len(b.out.Posts)
	for i, at := range ring.Pins() {
		b.post(Post{Name: fmt.Sprintf("%s.p%d", p.Name, i+1), Structure: s, Kind: Joint, At: at,
			Along: upright, Across: upright, Turn: ring.Bearings[i], Base: base}, p.Pos(), path)
	}
	n := len(ring.Sections)
	for i := range ring.Sections {
		w := wish{
			name: fmt.Sprintf("%s-%d", p.Name, i+1), wall: wall, role: job.WallSection,
			from: first + i, to: first + (i+1)%n, centres: ring.Sections[i], assembly: use.Section, fill: p.Fill,
			room: -1, height: height, pos: p.Pos(), path: path,
		}
		for k := range p.Different {
			if d := &p.Different[k]; d.At == i+1 && d.Fill != nil {
				w.fill, w.pos = d.Fill, d.Pos()
			}
		}
		if i == 0 {
			w.name, w.role, w.assembly, w.door = p.Name+"-gate", job.WallGate, use.Gate, use.Door
			w.fill, w.front = nil, &job.Front{Panels: p.Fill}
			if p.Gate != nil {
				w.pos, w.path = p.Gate.Pos(), path+".gate"
				if p.Gate.Front != nil {
					w.front = p.Gate.Front
				}
			}
			if w.front.Panels == nil {
				f := *w.front
				f.Panels = p.Fill
				if f.Panels == nil {
					f.Panels = &job.Fill{Kind: job.FillBoards}
				}
				w.front = &f
			}
		}
		b.run(w)
	}
}

// upright is the size of a section's upright across the joint.
func (b *builder) upright(assembly string) measure.Length {
	if a := b.kit.Assembly(assembly); a != nil {
		if p := b.kit.Post(a.End); p != nil {
			return p.Across
		}
	}
	return 0
}

// penSections works out how many sections of which length, gate first.
func (b *builder) penSections(p *job.Pen, use *kit.PenUse, path string) []measure.Length {
	plain := p.Section
	sections := p.Sections
	switch {
	case p.Across == 0:
		if plain == 0 {
			plain = longest(use.Sections)
		}
	case sections != 0:
		plain = b.sectionFor(p, use, sections)
	default:
		try := use.Sections
		if plain != 0 {
			try = []measure.Length{plain}
		}
		plain, sections = b.nearestRing(p, use, try)
	}
	if sections < 3 || plain <= 0 {
		b.problem(p.Pos(), path, p.Name, "no ring of these sections comes near the size asked for", "a larger size, or shorter sections")
		return nil
	}
	if sections > 400 {
		b.problem(p.Pos(), path, p.Name, fmt.Sprintf("this pen would take %d sections", sections), "a smaller size or longer sections; at most 400")
		return nil
	}
	for _, d := range p.Different {
		if d.At > sections {
			b.problem(d.Of("at"), path+".different", fmt.Sprint(d.At), fmt.Sprintf("the pen comes out at %d sections", sections), "a number from 2 to that")
			return nil
		}
	}
	return penLengths(p, plain, sections)
}

// penLengths lists the sections, gate first.
func penLengths(p *job.Pen, plain measure.Length, n int) []measure.Length {
	out := make([]measure.Length, n)
	for i := range out {
		out[i] = plain
	}
	for _, d := range p.Different {
		if d.At <= n {
			out[d.At-1] = d.Length
		}
	}
	if p.Gate != nil && p.Gate.Length != 0 {
		out[0] = p.Gate.Length
	}
	return out
}

// size is what a ring is across, in the sense the job asks for.
func (b *builder) size(p *job.Pen, use *kit.PenUse, r *Ring) measure.Length {
	switch p.Measured {
	case job.AcrossFlats:
		board := b.job.Lumber.Board()
		return r.Flats(board.Thickness)
	case job.AcrossCorners:
		return r.Corners(b.upright(use.Section))
	}
	return r.PinCircle()
}

// nearEnough is how far a ring may lie from the nearest one, as a part of its
// size, for its fewer sections to be preferred: each section costs a joint
// (common practice, no published source).
const nearEnough = 100

// nearestRing tries the section lengths made and takes the ring of the fewest
// sections among those as near to the size asked for as any, within a hundredth
// of the size; of two with as many, the nearer.
func (b *builder) nearestRing(p *job.Pen, use *kit.PenUse, try []measure.Length) (plain measure.Length, n int) {
	type ring struct {
		plain measure.Length
		n     int
		off   measure.Length
	}
	var rings []ring
	best := measure.Length(-1)
	for _, l := range try {
		if l <= 0 {
			continue
		}
		guess := int(math.Round(math.Pi * math.Min(1e6, p.Across.Metres()/l.Metres())))
		if guess > 400 && best < 0 && (n == 0 || guess < n) {
			plain, n = l, guess // too many: told with their number
		}
		for k := max(3, guess-2); k <= min(401, guess+3); k++ {
			r, err := SolveRing(penLengths(p, l, k), 0)
			if err != nil || r.Outside {
				continue
			}
			off := (b.size(p, use, r) - p.Across).Abs()
			rings = append(rings, ring{l, k, off})
			if best < 0 || off < best {
				best = off
			}
		}
	}
	if len(rings) == 0 {
		return plain, n
	}
	var pick ring
	for _, r := range rings {
		if r.off > best+p.Across/nearEnough {
			continue
		}
		if pick.n == 0 || r.n < pick.n || (r.n == pick.n && r.off < pick.off) {
			pick = r
		}
	}
	return pick.plain, pick.n
}

// sectionFor finds the plain section length at which n sections come out at the
// size asked for, by bisection on whole nanometres, then rounds it down to the
// shop's mark.
func (b *builder) sectionFor(p *job.Pen, use *kit.PenUse, n int) measure.Length {
	lo, hi := measure.Length(1), p.Across+measure.Metre
	for lo+1 < hi {
		mid := lo + (hi-lo)/2
		r, err := SolveRing(penLengths(p, mid, n), 0)
		if errors.Is(err, ErrFewSections) {
			return 0
		}
		if err != nil || r.Outside || b.size(p, use, r) <= p.Across {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo.Round(b.kit.Board.Mark, measure.Down)
}

func longest(list []measure.Length) measure.Length {
	var l measure.Length
	for _, v := range list {
		l = max(l, v)
	}
	return l
}

// penSize tells what the pen comes out at, where that is not what was asked.
func (b *builder) penSize(p *job.Pen, s int, r *Ring) {
	use := b.kit.Uses.Pen
	got := b.size(p, use, r)
	board := b.job.Lumber.Board()
	msg := fmt.Sprintf("%d sections; pin circle %s, inside flats %s, inside corners %s",
		len(r.Sections), b.show(r.PinCircle()), b.show(r.Flats(board.Thickness)), b.show(r.Corners(b.upright(use.Section))))
	sizes := []phrase.Arg{
		phrase.With("n", phrase.Count(len(r.Sections))), phrase.With("pins", phrase.Length(r.PinCircle())),
		phrase.With("flats", phrase.Length(r.Flats(board.Thickness))), phrase.With("corners", phrase.Length(r.Corners(b.upright(use.Section)))),
	}
	f := finding.Finding{Code: finding.PenSize, Severity: finding.Note, Place: p.Name, Message: msg, Say: phrase.Of("found.pen-size", sizes...)}
	if p.Across != 0 && (got-p.Across).Abs() > measure.Millimetre {
		f.Message = fmt.Sprintf("asked for %s; whole sections come out at %s (%s)", b.show(p.Across), b.show(got), msg)
		f.Say = phrase.Of("found.pen-asked", append(sizes, phrase.With("asked", phrase.Length(p.Across)), phrase.With("got", phrase.Length(got)))...)
		f.Choices = []phrase.Phrase{phrase.Of("way.take-size"), phrase.Of("way.sections-to-size", phrase.With("key", phrase.Name("sections, across"))), phrase.Of("way.section-length")}
	}
	if p.Across != 0 && 3*(got-p.Across).Abs() > r.plain() {
		f.Severity = finding.Warning // one section more or fewer comes nearer, or the size is out of reach
	}
	b.out.Findings = append(b.out.Findings, f)
}
