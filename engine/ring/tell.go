package ring

import (
	"fmt"

	"stallwright/engine/measure"
)

func (b *bed) show(l measure.Length) string {
	return b.allow.Show.Show(b.allow.Show.Round(l, measure.Nearest))
}

// tell words a closing for a crew lead; piers and sections count from 1.
func (b *bed) tell(c *Closing, settled bool) {
	say := func(format string, args ...any) { c.Sentences = append(c.Sentences, fmt.Sprintf(format, args...)) }
	switch {
	case c.Sum > 0:
		say("Round the ring the sections are %s shorter than their piers; the play of the pins makes up %s.", b.show(c.Sum), b.show(c.TakeUp))
	case c.Sum < 0:
		say("Round the ring the sections are %s longer than their piers; the play of the pins takes up %s.", b.show(-c.Sum), b.show(c.TakeUp))
	}
	say("Laid one after another from pier 1, the last section ends %s from the first pin.", b.show(c.End))
	if settled && c.Fits {
		say("Pulled together it closes with every pin within %s of the middle of its pier; the farthest is at pier %d.", b.show(c.Off[c.Worst]), c.Worst+1)
		return
	}
	if settled {
		say("Pulled together, the pin at pier %d would stand %s from the middle; %s is allowed.", c.Worst+1, b.show(c.Off[c.Worst]), b.show(b.allow.Seat))
	} else {
		say("The sections cannot be closed near these piers at all.")
	}
	for _, m := range c.Moves {
		say("Move pier %d by %s: %s and %s.", m.Pier+1, b.show(m.By),
			side(b.show(m.Outward.Abs()), m.Outward >= 0, "outward", "inward"),
			side(b.show(m.Sideways.Abs()), m.Sideways >= 0, fmt.Sprintf("toward pier %d", (m.Pier+1)%len(b.pier)+1), fmt.Sprintf("toward pier %d", (m.Pier+len(b.pier)-1)%len(b.pier)+1)))
	}
	for _, m := range c.Instead {
		say("Or move pier %d alone, by %s.", m.Pier+1, b.show(m.By))
	}
	if len(c.Moves) == 0 {
		say("No few piers can be moved to make it close: check the section lengths and set the ring out again.")
	}
}

func side(l string, first bool, yes, no string) string {
	if first {
		return l + " " + yes
	}
	return l + " " + no
}
