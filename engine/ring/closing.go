package ring

import (
	"cmp"
	"fmt"
	"slices"

	"stallwright/engine/measure"
)

// Place is a point in plan.
type Place struct{ X, Y measure.Length }

// Allowance is what a ring's joints and seats forgive.
type Allowance struct {
	// Play is how much longer or shorter, pin to pin, the clearance of pin and
	// hole lets a section become.
	Play measure.Length
	// Seat is how far a pin may stand from the middle of its pier.
	Seat measure.Length
	// Show is how lengths are written in sentences; feet and 1/16 in when zero.
	Show measure.Tape
}

// Closing is how a chain of rigid sections comes out on measured piers.
type Closing struct {
	Sections []Section
	Sum      measure.Length // of all Lacks: how much the sections are short round the ring
	TakeUp   measure.Length // what the play of all joints can make up of Sum

	// Laid one after another from the first pier, each section pointed at the
	// next pier, the last one ends here, counted from the first pin.
	EndX, EndY measure.Length
	End        measure.Length // the closing error: length of that

	// Pulled together so that the pins stand as near their piers as they can,
	// closed and within play.
	Pins  []Place
	Off   []measure.Length // of each pin from the middle of its pier
	Worst int              // pier with the greatest Off
	Fits  bool             // every Off is within Seat

	Moves     []Move   // the fewest piers found to move so that it fits
	Instead   []Move   // where one move suffices: other single piers that would do as well
	Sentences []string // all this for a crew lead
}

// Section is one section against its piers.
type Section struct {
	Piers measure.Length // measured between its piers' middles
	Lacks measure.Length // Piers − the section's length: positive when it is short
}

// Move is a pier to move, and where to.
type Move struct {
	Pier     int
	To       Place
	By       measure.Length
	Outward  measure.Length // away from the middle of the piers; negative inward
	Sideways measure.Length // toward the next pier; negative toward the one before
}

// freedPier is how much more freely a pier to be moved lets go of its pin.
const freedPier = 1e4

// Close lays sections on measured piers. Side i runs from pier i to pier i+1.
func Close(piers []Place, sides []measure.Length, a Allowance) (Closing, error) {
	if len(piers) != len(sides) {
		return Closing{}, fmt.Errorf("there are %d piers for %d sections; a ring has as many of one as of the other", len(piers), len(sides))
	}
	if err := checkSides(sides); err != nil {
		return Closing{}, err
	}
	if a.Play < 0 || a.Seat < 0 {
		return Closing{}, fmt.Errorf("the play (%s) and the seat (%s) of the pins cannot be less than nothing", a.Play, a.Seat)
	}
	if a.Show == (measure.Tape{}) {
		a.Show = measure.TapeSixteenth
	}
	b := newBed(piers, sides, a)
	c := Closing{}
	if err := b.compare(&c); err != nil {
		return Closing{}, err
	}
	b.layDown(&c)
	free := make([]bool, len(piers))
	pins, settled := b.pull(free)
	if settled {
		b.standing(&c, pins)
	}
	if !settled || !c.Fits {
		b.findMoves(&c, pins)
	}
	b.tell(&c, settled)
	return c, nil
}

// bed is the measured piers in metres from the first one.
type bed struct {
	piers []Place
	sides []measure.Length
	allow Allowance
	pier  []vec
	side  []float64
}

func newBed(piers []Place, sides []measure.Length, a Allowance) *bed {
	b := &bed{piers: piers, sides: sides, allow: a}
	for i, p := range piers {
		b.pier = append(b.pier, vec{(p.X - piers[0].X).Metres(), (p.Y - piers[0].Y).Metres()})
		b.side = append(b.side, sides[i].Metres())
	}
	return b
}

// back is a computed number of metres as a length; the numbers here are all of
// the size of the ring.
func back(m float64) measure.Length {
	l, err := measure.LengthFromMetres(m)
	if err != nil {
		return 0
	}
	return l
}

func (b *bed) place(v vec) Place {
	return Place{b.piers[0].X + back(v[0]), b.piers[0].Y + back(v[1])}
}

func (b *bed) compare(c *Closing) error {
	n := len(b.pier)
	for i := range b.pier {
		j := (i + 1) % n
		d := back(b.pier[j].minus(b.pier[i]).length())
		if d == 0 {
			return fmt.Errorf("piers %d and %d are at the same place", i+1, j+1)
		}
		c.Sections = append(c.Sections, Section{Piers: d, Lacks: d - b.sides[i]})
		c.Sum += d - b.sides[i]
	}
	c.TakeUp = measure.Length(n) * b.allow.Play
	return nil
}

func (b *bed) layDown(c *Closing) {
	pins := lay(b.pier, b.side)
	end := pins[len(pins)-1].minus(pins[0])
	c.EndX, c.EndY, c.End = back(end[0]), back(end[1]), back(end.length())
}

// pull closes the chain with the freed piers letting go of their pins.
func (b *bed) pull(free []bool) ([]vec, bool) {
	give := make([]float64, len(b.pier))
	for i := range give {
		give[i] = 1
		if free[i] {
			give[i] = freedPier
		}
	}
	return closed(b.pier, b.side, b.allow.Play.Metres(), give)
}

func (b *bed) standing(c *Closing, pins []vec) {
	c.Fits = true
	c.Pins, c.Off, c.Worst = nil, nil, 0
	for i, p := range pins {
		off := back(p.minus(b.pier[i]).length())
		c.Pins = append(c.Pins, b.place(p))
		c.Off = append(c.Off, off)
		if off > c.Off[c.Worst] {
			c.Worst = i
		}
		c.Fits = c.Fits && off <= b.allow.Seat
	}
}

// Limits of the search for piers to move.
const (
	// mostMoves: where more piers are wrong, setting out again is quicker than
	// moving one after the other.
	mostMoves = 8
	// mostTried: piers whose pins stand farthest off are tried; a pier out of place
	// pulls its own pin and its neighbours'.
	mostTried = 32
)

// findMoves frees one pier after another, each time the one whose freedom
// makes the others fit, or else leaves their pins nearest to their piers. pins are
// those with no pier freed.
func (b *bed) findMoves(c *Closing, pins []vec) {
	n := len(b.pier)
	free := make([]bool, n)
	for freed := 0; freed < min(n-2, mostMoves); freed++ {
		best, at, fits := 0.0, -1, false
		tried := b.farthest(pins, free)
		pins = nil
		fitting := map[int][]vec{} // pins with pier k freed, where that suffices
		for _, k := range tried {
			free[k] = true
			p, ok := b.pull(free)
			s, f := b.squares(p, free), b.others(p, free)
			free[k] = false
			if ok && f {
				fitting[k] = p
			}
			if ok && (at < 0 || f && !fits || f == fits && s < float64(best*(1-1e-9))) {
				best, at, fits, pins = s, k, f, p
			}
		}
		if at < 0 {
			return
		}
		free[at] = true
		if !fits {
			continue
		}
		c.Moves = b.moves(pins, free)
		for k := range free {
			if p, ok := fitting[k]; ok && freed == 0 && k != at {
				alone := make([]bool, n)
				alone[k] = true
				c.Instead = append(c.Instead, b.moves(p, alone)...)
			}
		}
		return
	}
}

// farthest lists the piers whose pins stand farthest off, in the ring's order.
func (b *bed) farthest(pins []vec, free []bool) []int {
	var out []int
	for k := range free {
		if !free[k] {
			out = append(out, k)
		}
	}
	if len(out) <= mostTried {
		return out
	}
	off := make([]float64, len(pins))
	for i, p := range pins {
		off[i] = p.minus(b.pier[i]).length()
	}
	slices.SortStableFunc(out, func(i, k int) int { return cmp.Compare(off[k], off[i]) })
	out = out[:mostTried]
	slices.Sort(out)
	return out
}

// squares is Σ|pin − pier|² of the piers that stay.
func (b *bed) squares(pins []vec, free []bool) float64 {
	sum := 0.0
	for i, p := range pins {
		if !free[i] {
			d := p.minus(b.pier[i])
			sum += dot(d, d)
		}
	}
	return sum
}

// others reports whether all pins but those of freed piers are within seat.
func (b *bed) others(pins []vec, free []bool) bool {
	for i, p := range pins {
		if !free[i] && back(p.minus(b.pier[i]).length()) > b.allow.Seat {
			return false
		}
	}
	return true
}

// moves says where the freed piers go to stand under their pins.
func (b *bed) moves(pins []vec, free []bool) []Move {
	n := len(b.pier)
	var middle vec
	for i, p := range b.pier {
		if !free[i] {
			middle = middle.plus(p, 1)
		}
	}
	stay := 0
	for _, f := range free {
		if !f {
			stay++
		}
	}
	middle = vec{middle[0] / float64(stay), middle[1] / float64(stay)}
	var out []Move
	for i, f := range free {
		if !f {
			continue
		}
		shift := pins[i].minus(b.pier[i])
		away := b.pier[i].minus(middle).along()
		next := b.pier[(i+1)%n].minus(b.pier[(i+n-1)%n])
		side := vec{-away[1], away[0]}
		if dot(side, next) < 0 {
			side = vec{away[1], -away[0]}
		}
		out = append(out, Move{Pier: i, To: b.place(pins[i]), By: back(shift.length()), Outward: back(dot(shift, away)), Sideways: back(dot(shift, side))})
	}
	return out
}
