package setout

import (
	"fmt"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
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
		from = append(from, reason.Given(phrase.Of("why.place-along", phrase.With("post", phrase.Name(name))), phrase.Of("amount.place", m.size("x", at.At.X), m.size("y", at.At.Y)), at.Source))
	}
	switch {
	case len(places) == 0:
		return
	case len(missing) > 0:
		m.find(finding.PiersMissing, finding.Warning, pen,
			fmt.Sprintf("%d of %d piers are measured; whether the ring closes is known once the others are: %s", len(places), len(names), few(missing)), "",
			phrase.Of("way.piers-missing"))
		m.say("found.piers-measured", count("measured", len(places)), count("all", len(names)))
		return
	}
	allow := ring.Allowance{Play: p.Play.Value, Seat: p.Seat.Value, Show: m.tape}
	if p.Loose {
		allow.Seat = free
	}
	c, err := ring.Close(places, r.Sections, allow)
	if err != nil {
		m.find(finding.RingOpen, finding.Error, pen, err.Error(), "", phrase.Of("way.piers-again"))
		m.say("found.ring-unfit")
		return
	}
	p.Closing = &Closing{Closing: c, Piers: names, Seat: allow.Seat, tape: m.tape}
	p.Closing.Why = reason.Of(phrase.Of("why.closing", phrase.With("pen", phrase.Name(pen))), m.near(c.End), phrase.Of("rule.closing"), phrase.Of("source.least-squares"), from...)
	message := strings.Join(c.Sentences, " ")
	if len(names) > 0 {
		message += fmt.Sprintf(" Pier 1 is %s; they count on anticlockwise, seen from above.", names[0])
	}
	if c.Fits {
		m.find(finding.RingCloses, finding.Note, pen, message, "")
		m.say("found.ring-closes", m.size("end", c.End), m.size("off", c.Off[c.Worst]), called("pier", names[c.Worst]))
		return
	}
	var choices []phrase.Phrase
	for k, mv := range c.Moves {
		if words := m.move(names, mv); k == 0 || len(choices) == 0 {
			choices = append(choices, words)
		} else {
			choices[0] = phrase.Of("way.and-move", phrase.With("first", choices[0]), phrase.With("then", words))
		}
	}
	for _, mv := range c.Instead {
		choices = append(choices, m.move(names, mv))
	}
	if len(choices) == 0 {
		choices = []phrase.Phrase{phrase.Of("way.ring-anew")}
	}
	m.find(finding.RingOpen, finding.Error, pen, message, "", choices...)
	if c.Off[c.Worst] <= allow.Seat { // it is not even near
		m.say("found.ring-far", m.size("end", c.End))
		return
	}
	m.say("found.ring-open", m.size("end", c.End), called("pier", names[c.Worst]), m.size("most", allow.Seat))
}

// move says which pier goes where.
func (m *maker) move(names []string, mv ring.Move) phrase.Phrase {
	n := len(names)
	way, side, toward := "way.move-pier-out-next", mv.Sideways, names[(mv.Pier+1)%n]
	if mv.Outward < 0 {
		way = "way.move-pier-in-next"
	}
	if side < 0 {
		side, toward = -side, names[(mv.Pier+n-1)%n]
	}
	return phrase.Of(way, called("pier", names[mv.Pier]), m.size("by", mv.By), m.size("out", mv.Outward.Abs()), m.size("side", side),
		called("toward", toward), m.size("x", mv.To.X), m.size("y", mv.To.Y))
}

// few lists names, the middle of many left out.
func few(names []string) string {
	const most = 6
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:most-1], ", ") + " … " + names[len(names)-1]
}
