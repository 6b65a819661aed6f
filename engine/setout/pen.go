package setout

import (
	"fmt"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/reason"
	"stallwright/engine/ring"
)

// pen sets a ring out from its centre.
func (m *maker) pen(s int, o *Structure) {
	r, pen, use := m.layout.Structures[s].Ring, m.job.Structures[s].Pen, m.kit.Uses.Pen
	if r == nil || pen == nil || use == nil {
		return
	}
	// The gate is section 1 and faces along the baseline.
	plan, err := ring.Layout(ring.Spec{Sides: r.Sections})
	if err != nil {
		return // the layout holds only rings that close
	}
	p := &Pen{Toward: 270 * measure.Degree}
	if pen.Gate != nil && pen.Gate.Toward != nil {
		p.Toward = *pen.Gate.Toward
	}
	o.Pen = p
	sections := m.sections(r, pen)
	m.penSizes(p, s, r, pen, plan, sections)
	m.piers(p, s, plan, sections)
	m.pinPlay(p, s, r, use)
	m.closing(p, o.Name, r)
}

// sections is the reason for the sections of a ring.
func (m *maker) sections(r *frame.Ring, pen *job.Pen) *reason.Reason {
	words := fmt.Sprintf("%d", len(r.Sections))
	alike := true
	for _, l := range r.Sections {
		alike = alike && l == r.Sections[0]
	}
	if alike {
		words += " of " + m.show(r.Sections[0])
	} else {
		words += ", the gate's " + m.show(r.Sections[0]) + ", not all alike"
	}
	return reason.Given("sections, pin to pin", words, "job, pen "+pen.Name+" ("+pen.Pos().String()+")")
}

// penSizes are the pen's size in each sense.
func (m *maker) penSizes(p *Pen, s int, r *frame.Ring, pen *job.Pen, plan ring.Plan, sections *reason.Reason) {
	const inscribed = "the pins of a ring lie on one circle; geometry"
	p.Radius = m.of(r.Radius, "radius of the pin circle", "the radius at which the sections' angles at the centre, 2·asin(L / 2R), add up to a full turn", inscribed, sections)
	p.Pins = m.of(r.PinCircle(), "pin circle, across", "twice the radius", "", p.Radius.Why)
	board := m.job.Lumber.Board().Thickness
	p.Flats = m.of(r.Flats(board), "inside flats", "twice the way from the centre to the middle of a plain section, less a board", "", p.Radius.Why,
		reason.Given("board thickness", m.show(board), "job, lumber"))
	var upright measure.Length
	if first := m.posts[s]; len(first) > 0 {
		upright = m.layout.Posts[first[0]].Across
	}
	p.Corners = m.of(r.Corners(upright), "inside corners", "the pin circle less an upright", "", p.Pins.Why,
		reason.Given("upright, across", m.show(upright), "kit "+m.kit.Kit))
	if pen.Across != 0 {
		p.AskedFor, p.Asked = pen.Across, pen.Measured
		if p.Asked == "" {
			p.Asked = job.AcrossPins
		}
	}
	gate := frame.Point{X: (plan.Piers[0].X + plan.Piers[1].X) / 2, Y: (plan.Piers[0].Y + plan.Piers[1].Y) / 2}
	p.Gate = m.of(frame.Distance(gate, frame.Point{}), "centre stake to the gate's middle", "√(R² − (L/2)²), L the gate section", "", p.Radius.Why, sections)
}

// piers are the pins' places and what checks them.
func (m *maker) piers(p *Pen, s int, plan ring.Plan, sections *reason.Reason) {
	posts := m.posts[s]
	n := len(plan.Piers)
	if len(posts) != n {
		return
	}
	for i := range plan.Piers {
		q, post := &plan.Piers[i], posts[i]
		name := m.name(post)
		to := func(k int) string { return name + " to " + m.name(posts[(i+k)%n]) }
		angle := reason.Of("angle of "+name+" from the baseline", DegMinSec(q.Angle), "the angles of the sections before it, the gate's halved", "", p.Radius.Why)
		x := Pier{
			Post: post, Name: name, Far: m.name(posts[(i+n/2)%n]), Angle: Turn{q.Angle, angle},
			Chord:  m.of(q.Chord, to(1), "the section between them, pin to pin", "", sections),
			Skip:   m.of(q.Skip, to(2), "straight across two sections: 2R·sin of half their angle at the centre", "", p.Radius.Why),
			Across: m.of(q.Opposite, to(n/2), "straight across half the sections: 2R·sin of half their angle at the centre", "", p.Radius.Why),
			X:      m.of(q.X, name+" along the baseline", "R·cos of its angle", "", p.Radius.Why, angle),
			Y:      m.of(q.Y, name+" to the left of the baseline", "R·sin of its angle", "", p.Radius.Why, angle),
		}
		p.Piers = append(p.Piers, x)
	}
}

// pinPlay is what pins and piers forgive.
func (m *maker) pinPlay(p *Pen, s int, r *frame.Ring, use *kit.PenUse) {
	p.Play = m.given(use.Play, "play of a section between its pins, either way", m.kitSource("uses.pen.play", use.Of("play").Line))
	if use.Play == 0 {
		p.Play = m.given(0, "play of a section between its pins", "the kit states none")
	}
	n := measure.Length(len(r.Sections))
	p.TakeUp = m.of(n*use.Play, "what the pins take up round the ring", fmt.Sprintf("%d sections, each its play", len(r.Sections)), "", p.Play.Why)
	var base *kit.Base
	if posts := m.posts[s]; len(posts) > 0 {
		base = m.layout.Posts[posts[0]].Base
	}
	switch {
	case base == nil:
		p.Loose = true
		p.Seat = m.given(0, "seat of a pin", "the joints stand on nothing of the kit")
	case base.Seat != 0:
		p.Seat = m.given(base.Seat, "how far a pin may stand from the middle of its "+base.Name, m.kitSource("bases "+base.ID+".seat", base.Of("seat").Line))
	case base.Kind == kit.Ground:
		p.Loose = true
		p.Seat = m.given(0, "seat of a pin", "a foot on bare ground is set down where its pin comes")
	default:
		p.Seat = m.given(0, "seat of a pin", "the kit states none for "+base.ID)
	}
}

// DegMinSec writes an angle in degrees, minutes and whole seconds, as the circle
// of a transit is read.
func DegMinSec(a measure.Angle) string {
	seconds, _ := measure.MulDiv(int64(a), 3600, int64(measure.Degree), measure.Nearest)
	sign := ""
	if seconds < 0 {
		sign, seconds = "-", -seconds
	}
	return fmt.Sprintf("%s%d° %02d' %02d\"", sign, seconds/3600, seconds/60%60, seconds%60)
}
