package setout

import (
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/ring"
)

// taped is a length for a phrase, as the tape shows it.
func (c *Closing) taped(l measure.Length) phrase.Length {
	return phrase.Length(c.tape.Round(l, measure.Nearest))
}

// Tell says how the sections close on their piers, for a crew lead: the sum, the
// closing error, where the pins come to stand, and what to move.
func (c *Closing) Tell() []phrase.Phrase {
	var out []phrase.Phrase
	switch {
	case c.Sum > 0:
		out = append(out, phrase.Of("setout.sections-shorter", phrase.With("by", c.taped(c.Sum)), phrase.With("play", c.taped(c.TakeUp))))
	case c.Sum < 0:
		out = append(out, phrase.Of("setout.sections-longer", phrase.With("by", c.taped(-c.Sum)), phrase.With("play", c.taped(c.TakeUp))))
	}
	out = append(out, phrase.Of("setout.last-section-ends", phrase.With("pier", c.name(0)), phrase.With("off", c.taped(c.End))))
	if len(c.Off) == 0 {
		out = append(out, phrase.Of("setout.cannot-close"))
	} else {
		worst := []phrase.Arg{phrase.With("off", c.taped(c.Off[c.Worst])), phrase.With("pier", c.name(c.Worst)), phrase.With("seat", c.taped(c.Seat))}
		if c.Fits {
			return append(out, phrase.Of("setout.closes", worst[:2]...))
		}
		out = append(out, phrase.Of("setout.does-not-close", worst...))
	}
	for i := range c.Moves {
		out = append(out, c.tellMove(&c.Moves[i]))
	}
	for i := range c.Instead {
		m := &c.Instead[i]
		out = append(out, phrase.Of("setout.or-move", phrase.With("pier", c.name(m.Pier)), phrase.With("by", c.taped(m.By))))
	}
	if len(c.Moves) == 0 {
		out = append(out, phrase.Of("setout.no-move-helps"))
	}
	return out
}

func (c *Closing) name(pier int) phrase.Name { return phrase.Name(c.Piers[pier]) }

// tellMove says how far a pier is moved which way, and to where.
func (c *Closing) tellMove(m *ring.Move) phrase.Phrase {
	n := len(c.Piers)
	out := phrase.Of("setout.outward", phrase.With("by", c.taped(m.Outward)))
	if m.Outward < 0 {
		out = phrase.Of("setout.inward", phrase.With("by", c.taped(-m.Outward)))
	}
	toward := (m.Pier + 1) % n
	if m.Sideways < 0 {
		toward = (m.Pier + n - 1) % n
	}
	return phrase.Of("setout.move-pier", phrase.With("pier", c.name(m.Pier)), phrase.With("by", c.taped(m.By)), phrase.With("out", out),
		phrase.With("side", c.taped(m.Sideways.Abs())), phrase.With("toward", c.name(toward)),
		phrase.With("along", c.taped(m.To.X.Abs())), phrase.With("along-way", AlongWay(m.To.X)),
		phrase.With("off", c.taped(m.To.Y.Abs())), phrase.With("off-way", OffWay(m.To.Y)))
}

// AlongWay says which way along a baseline a length lies.
func AlongWay(l measure.Length) phrase.Phrase {
	switch {
	case l > 0:
		return phrase.Of("setout.forward")
	case l < 0:
		return phrase.Of("setout.back")
	}
	return phrase.Of("setout.at-the-stake")
}

// OffWay says to which side of a baseline a length lies.
func OffWay(l measure.Length) phrase.Phrase {
	switch {
	case l > 0:
		return phrase.Of("setout.left")
	case l < 0:
		return phrase.Of("setout.right")
	}
	return phrase.Of("setout.on-the-line")
}

// Above says how a height lies to what heights count from, on a tape.
func Above(l measure.Length, tape measure.Tape) phrase.Phrase {
	at := tape.Round(l, measure.Nearest)
	if at < 0 {
		return phrase.Of("setout.below-zero", phrase.With("by", phrase.Length(-at)))
	}
	return phrase.Of("setout.above-zero", phrase.With("by", phrase.Length(at)))
}
