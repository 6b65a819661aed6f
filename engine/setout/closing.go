package setout

import (
	"fmt"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/reason"
	"stallwright/engine/ring"
)

// free is a seat that never binds: a foot on the ground goes along with its pin.
const free = measure.Metre

// closing lays the sections on the piers as measured.
func (m *maker) closing(p *Pen, pen string, r *frame.Ring) {
	var places []ring.Place
	var names, missing []string
	from := []*reason.Reason{p.Play.Why, p.Seat.Why}
	for i := range p.Piers {
		name := p.Piers[i].Name
		names = append(names, name)
		at, ok := m.field.Piers[name]
		if !ok {
			missing = append(missing, name)
			continue
		}
		places = append(places, ring.Place{X: at.At.X, Y: at.At.Y})
		from = append(from, reason.Given("place of "+name+" along and left of the baseline", m.show(at.At.X)+", "+m.show(at.At.Y), at.Source))
	}
	switch {
	case len(places) == 0:
		return
	case len(missing) > 0:
		m.find(finding.PiersMissing, finding.Warning, pen,
			fmt.Sprintf("%d of %d piers are measured; whether the ring closes is known once the others are: %s", len(places), len(names), few(missing)), "",
			"measure the piers that are missing from the centre stake and the baseline")
		m.say("found.piers-measured", count("measured", len(places)), count("all", len(names)))
		return
	}
	allow := ring.Allowance{Play: p.Play.Value, Seat: p.Seat.Value, Show: m.tape}
	if p.Loose {
		allow.Seat = free
	}
	c, err := ring.Close(places, r.Sections, allow)
	if err != nil {
		m.find(finding.RingOpen, finding.Error, pen, err.Error(), "", "measure the piers again")
		return
	}
	p.Closing = &Closing{Closing: c, Piers: names, Seat: allow.Seat, tape: m.tape}
	p.Closing.Why = reason.Of("closing error of "+pen, m.show(c.End), "rigid sections laid one after another, each pointed at the next pier, from the first; pulled together, the pins as near their piers as they can stand", "geometry; least squares", from...)
	message := strings.Join(c.Sentences, " ")
	if len(names) > 0 {
		message += fmt.Sprintf(" Pier 1 is %s; they count on anticlockwise, seen from above.", names[0])
	}
	if c.Fits {
		m.find(finding.RingCloses, finding.Note, pen, message, "")
		m.say("found.ring-closes", m.size("end", c.End), m.size("off", c.Off[c.Worst]), called("pier", names[c.Worst]))
		return
	}
	var choices []string
	for k, mv := range c.Moves {
		if words := m.move(names, mv); k == 0 || len(choices) == 0 {
			choices = append(choices, words)
		} else {
			choices[0] += "; and " + words
		}
	}
	for _, mv := range c.Instead {
		choices = append(choices, m.move(names, mv))
	}
	if len(choices) == 0 {
		choices = []string{"measure the piers and the sections again, then set the ring out anew"}
	}
	m.find(finding.RingOpen, finding.Error, pen, message, "", choices...)
	if c.Off[c.Worst] <= allow.Seat { // it is not even near
		m.say("found.ring-far", m.size("end", c.End))
		return
	}
	m.say("found.ring-open", m.size("end", c.End), called("pier", names[c.Worst]), m.size("most", allow.Seat))
}

// move says which pier goes where.
func (m *maker) move(names []string, mv ring.Move) string {
	n := len(names)
	out, side, toward := "outward", mv.Sideways, names[(mv.Pier+1)%n]
	if mv.Outward < 0 {
		out = "inward"
	}
	if side < 0 {
		side, toward = -side, names[(mv.Pier+n-1)%n]
	}
	return fmt.Sprintf("move %s by %s: %s %s and %s toward %s (to x %s, y %s)", names[mv.Pier], m.show(mv.By),
		m.show(mv.Outward.Abs()), out, m.show(side), toward, m.show(mv.To.X), m.show(mv.To.Y))
}

// few lists names, the middle of many left out.
func few(names []string) string {
	const most = 6
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:most-1], ", ") + " … " + names[len(names)-1]
}
