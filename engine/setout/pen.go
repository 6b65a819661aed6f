package setout

import (
	"fmt"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
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
	alike := true
	for _, l := range r.Sections {
		alike = alike && l == r.Sections[0]
	}
	n := count("count", len(r.Sections))
	what := phrase.Of("amount.sections-unlike", n, m.size("gate", r.Sections[0]))
	if alike {
		what = phrase.Of("amount.sections", n, m.size("length", r.Sections[0]))
	}
	return reason.Given(phrase.Of("why.sections"), what, phrase.Of("source.job-pen", phrase.With("pen", phrase.Name(pen.Name)), phrase.With("at", phrase.Name(pen.Pos().String()))))
}

// penSizes are the pen's size in each sense.
func (m *maker) penSizes(p *Pen, s int, r *frame.Ring, pen *job.Pen, plan ring.Plan, sections *reason.Reason) {
	inscribed := phrase.Of("source.inscribed")
	p.Radius = m.of(r.Radius, phrase.Of("why.radius"), phrase.Of("rule.radius"), inscribed, sections)
	p.Pins = m.of(r.PinCircle(), phrase.Of("why.pin-circle"), phrase.Of("rule.twice"), phrase.Phrase{}, p.Radius.Why)
	board := m.job.Lumber.Board().Thickness
	p.Flats = m.of(r.Flats(board), phrase.Of("why.inside-flats"), phrase.Of("rule.flats"), phrase.Phrase{}, p.Radius.Why,
		reason.Given(phrase.Of("why.board-thickness"), m.near(board), phrase.Of("source.job-lumber")))
	var upright measure.Length
	if first := m.posts[s]; len(first) > 0 {
		upright = m.layout.Posts[first[0]].Across
	}
	p.Corners = m.of(r.Corners(upright), phrase.Of("why.inside-corners"), phrase.Of("rule.less-upright"), phrase.Phrase{}, p.Pins.Why,
		reason.Given(phrase.Of("why.upright"), m.near(upright), phrase.Of("source.kit", phrase.With("kit", phrase.Name(m.kit.Kit)))))
	if pen.Across != 0 {
		p.AskedFor, p.Asked = pen.Across, pen.Measured
		if p.Asked == "" {
			p.Asked = job.AcrossPins
		}
	}
	gate := frame.Point{X: (plan.Piers[0].X + plan.Piers[1].X) / 2, Y: (plan.Piers[0].Y + plan.Piers[1].Y) / 2}
	p.Gate = m.of(frame.Distance(gate, frame.Point{}), phrase.Of("why.centre-to-gate"), phrase.Of("rule.gate-middle"), phrase.Phrase{}, p.Radius.Why, sections)
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
		to := func(k int) phrase.Phrase {
			return phrase.Of("why.from-to", called("from", name), called("to", m.name(posts[(i+k)%n])))
		}
		angle := reason.Of(phrase.Of("why.angle", phrase.With("post", phrase.Name(name))), phrase.Name(DegMinSec(q.Angle)), phrase.Of("rule.angles"), phrase.Phrase{}, p.Radius.Why)
		x := Pier{
			Post: post, Name: name, Far: m.name(posts[(i+n/2)%n]), Angle: Turn{q.Angle, angle},
			Chord:  m.of(q.Chord, to(1), phrase.Of("rule.between-pins"), phrase.Phrase{}, sections),
			Skip:   m.of(q.Skip, to(2), phrase.Of("rule.across-two"), phrase.Phrase{}, p.Radius.Why),
			Across: m.of(q.Opposite, to(n/2), phrase.Of("rule.across-half"), phrase.Phrase{}, p.Radius.Why),
			X:      m.of(q.X, phrase.Of("why.along", phrase.With("post", phrase.Name(name))), phrase.Of("rule.cos"), phrase.Phrase{}, p.Radius.Why, angle),
			Y:      m.of(q.Y, phrase.Of("why.left-of", phrase.With("post", phrase.Name(name))), phrase.Of("rule.sin"), phrase.Phrase{}, p.Radius.Why, angle),
		}
		p.Piers = append(p.Piers, x)
	}
}

// pinPlay is what pins and piers forgive.
func (m *maker) pinPlay(p *Pen, s int, r *frame.Ring, use *kit.PenUse) {
	p.Play = m.given(use.Play, phrase.Of("why.pin-play-ways"), m.kitSource("uses.pen.play", use.Of("play").Line))
	if use.Play == 0 {
		p.Play = m.given(0, phrase.Of("why.pin-play"), phrase.Of("source.none"))
	}
	n := measure.Length(len(r.Sections))
	p.TakeUp = m.of(n*use.Play, phrase.Of("why.take-up"), phrase.Of("rule.play-each", phrase.With("sections", phrase.Count(len(r.Sections)))), phrase.Phrase{}, p.Play.Why)
	var base *kit.Base
	if posts := m.posts[s]; len(posts) > 0 {
		base = m.layout.Posts[posts[0]].Base
	}
	switch {
	case base == nil:
		p.Loose = true
		p.Seat = m.given(0, phrase.Of("why.seat"), phrase.Of("source.no-base"))
	case base.Seat != 0:
		p.Seat = m.given(base.Seat, phrase.Of("why.pin-off", phrase.With("base", m.kit.Called(base.ID, base.Name))), m.kitSource("bases "+base.ID+".seat", base.Of("seat").Line))
	case base.Kind == kit.Ground:
		p.Loose = true
		p.Seat = m.given(0, phrase.Of("why.seat"), phrase.Of("source.bare-ground"))
	default:
		p.Seat = m.given(0, phrase.Of("why.seat"), phrase.Of("source.none-for", phrase.With("base", phrase.Name(base.ID))))
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
