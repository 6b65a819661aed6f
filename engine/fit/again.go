package fit

import (
	"fmt"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// again compares the frozen pieces of a bay with what was measured of it since,
// and tells exactly which no longer fit and what can be done with each.
func (f *fitter) again(i int, r *job.State) {
	m, _ := f.counting(r.Bay)
	if m == nil || r.Width != nil && m.Width.Same(*r.Width) {
		return
	}
	now := f.thawed(i)
	a := &comparison{f: f, bay: i, since: m, now: now}
	for _, k := range f.out.Bays[i].Pieces {
		a.piece(&f.out.Pieces[k])
	}
	a.tell()
	for _, v := range now.out.Findings {
		if v.Severity == finding.Error && (!ofPieces[v.Code] || len(a.lost) > 0) {
			f.find(v.Code, v.Severity, v.Place, fmt.Sprintf("as measured since its release (%s): %s", f.show(m.Width.Least()), v.Message), v.Choices...)
			f.say("found.since-release", size("width", m.Width.Least()), phrase.With("what", heard(&v)))
		}
	}
}

// ofPieces are findings that the comparison tells piece by piece.
var ofPieces = map[finding.Code]bool{finding.LittleHold: true, finding.Taper: true}

// thawed is the bay fitted anew to its latest measurement.
func (f *fitter) thawed(i int) *fitter {
	now := newFitter(f.job, f.kit, f.lay)
	now.levels, now.thaw, now.out.progress = f.levels, true, f.out.progress
	now.floors()
	now.out.Bays[i] = BayFit{Bay: i}
	now.bay(i)
	return now
}

// comparison gathers what no longer fits, alike pieces together.
type comparison struct {
	f      *fitter
	bay    int
	since  *job.Measurement
	now    *fitter
	misfit []misfit
	lost   []string       // labels of pieces without a place in the bay as measured
	least  measure.Length // least hold of the boards that still fit
	fits   int
	held   bool
}

// misfit is pieces of one length that no longer fit in the same way.
type misfit struct {
	long         bool
	was, to      measure.Length // as frozen; as it would be made now
	by           measure.Length // too long by; or how much of the least engagement is missing
	hold         measure.Length // too short: what is left of it
	cannot, what string         // why it cannot be cut again, if it cannot; what is too short about it
	labels       []string
}

func (a *comparison) add(m misfit, p *Piece) {
	p.Misfit = true
	label := p.Label
	for k := range a.misfit {
		v := &a.misfit[k]
		if v.long == m.long && v.was == m.was && v.to == m.to && v.by == m.by && v.hold == m.hold && v.cannot == m.cannot && v.what == m.what {
			v.labels = append(v.labels, label)
			return
		}
	}
	m.labels = []string{label}
	a.misfit = append(a.misfit, m)
}

// piece compares one frozen piece that runs from web to web, or beside a window
// or feeder, with its place as measured since.
func (a *comparison) piece(p *Piece) {
	if p.Kind != Board && p.Kind != Grille && p.Kind != Packing || !p.State.MayCut() || p.Misfit || a.f.lay.Bays[a.bay].IsDoor() {
		return
	}
	q := a.place(p.Label)
	if q == nil { // the bay as measured cannot be filled so; why is told
		p.Misfit = true
		a.lost = append(a.lost, p.Label)
		return
	}
	w := a.widths(p)
	clear := a.now.out.Bays[a.bay].Clear
	// Sized to the narrowest reading, a piece could be longer by what its own
	// height is wider.
	may := (q.Length + w.least - clear).Round(a.f.kit.Board.Mark, measure.Down)
	switch {
	case p.Kind == Grille:
		may = a.now.grilleWidth(w.least - a.now.clearBeside(a.bay))
	case a.whole(q):
		if l, err := a.now.length(w.least); err == nil {
			may = l
		}
	}
	if p.Length > may {
		a.add(misfit{long: true, was: p.Length, to: may, by: p.Length - may, cannot: a.cannot(p, may)}, p)
		return
	}
	if p.Kind == Packing || p.Kind == Skirt {
		a.fits++
		return
	}
	if p.Kind == Grille && a.bars(p, q, w) {
		return
	}
	hold := a.hold(q) - (q.Length - p.Length) - (w.most - clear)
	if a.whole(q) {
		b := &a.f.lay.Bays[a.bay]
		hold = min(b.Ends[0].Leg, b.Ends[1].Leg) - (w.most - p.Length)
	}
	if hold < a.f.kit.Board.Engage {
		a.add(misfit{was: p.Length, to: may, by: a.f.kit.Board.Engage - hold, hold: hold, what: "hold"}, p)
		return
	}
	if !a.held || hold < a.least {
		a.least, a.held = hold, true
	}
	a.fits++
}

// whole says whether a board runs from web to web.
func (a *comparison) whole(q *Piece) bool {
	return q.Kind == Board && a.now.out.Bays[a.bay].Courses[q.Course-1].whole()
}

// widths is the bay's clear width over a piece's height, as measured since.
func (a *comparison) widths(p *Piece) room {
	return a.now.out.Bays[a.bay].profile.over(p.Z, p.Z+p.Height)
}

// place is the piece as it would be made now; nil where there is none.
func (a *comparison) place(label string) *Piece {
	for _, k := range a.now.out.Bays[a.bay].Pieces {
		if p := &a.now.out.Pieces[k]; p.Label == label {
			return p
		}
	}
	return nil
}

// cannot says why a piece that is too long cannot be made shorter; empty where it
// can.
func (a *comparison) cannot(p *Piece, to measure.Length) string {
	switch g := a.f.out.Bays[a.bay].Grille; {
	case to < a.f.kit.Board.LeastStub:
		return "too little of it would be left"
	case p.Kind == Grille && g != nil && g.Made-to > 2*g.Grille.Trim:
		return "its ends cannot be trimmed that far"
	}
	return ""
}

// hold is the least depth in a channel of a piece as it would be made now.
func (a *comparison) hold(q *Piece) measure.Length {
	out := &a.now.out.Bays[a.bay]
	switch {
	case q.Kind == Grille:
		legs := a.now.legs(a.bay)
		return min(legs[0], legs[1]) - a.play(q)
	case out.Window != nil && strings.HasSuffix(q.Label, "L"):
		return out.Window.Hold[0]
	case out.Window != nil && strings.HasSuffix(q.Label, "R"):
		return out.Window.Hold[1]
	case out.Feeder != nil && out.Courses[q.Course-1].Kind == "short":
		return out.Feeder.Hold
	}
	return min(out.Hold[0], out.Hold[1])
}

// play is how far a grille can move between its channels.
func (a *comparison) play(g *Piece) measure.Length {
	out := &a.now.out.Bays[a.bay]
	clear := out.Clear
	if out.Feeder != nil {
		clear -= out.Feeder.Feeder.Width
	}
	return clear - g.Length
}

// bars says whether a grille has become so narrow that a gap beside its bars can
// open too wide.
func (a *comparison) bars(p, q *Piece, w room) bool {
	was := a.f.out.Bays[a.bay].Grille
	if was == nil || was.Grille.Mesh != 0 {
		return false
	}
	between := was.Grille.Pitch - was.Grille.Bar
	legs := a.now.legs(a.bay)
	play := a.play(p) + w.most - a.now.out.Bays[a.bay].Clear
	for side, gap := range was.Gap {
		if open := gap + play - legs[side]; open > between {
			a.add(misfit{was: p.Length, to: q.Length, by: open - between, hold: open, what: "gap"}, p)
			return true
		}
	}
	return false
}

// legs are how deep the channels are that hold a bay's grille; beside a feeder it
// stands in the feeder's own side channel.
func (f *fitter) legs(i int) [2]measure.Length {
	b := &f.lay.Bays[i]
	legs := [2]measure.Length{b.Ends[0].Leg, b.Ends[1].Leg}
	if fd := f.out.Bays[i].Feeder; fd != nil {
		if fd.Left {
			legs[0] = fd.Feeder.Leg
		} else {
			legs[1] = fd.Feeder.Leg
		}
	}
	return legs
}

// tell turns what was compared into findings.
func (a *comparison) tell() {
	f, name := a.f, a.f.lay.Bays[a.bay].Name
	since := fmt.Sprintf("%s since its release", a.since.Source())
	for _, m := range a.misfit {
		what := fmt.Sprintf("%s: %s", names(m.labels), f.show(m.was))
		switch {
		case m.long && m.cannot != "":
			f.find(finding.FrozenLong, finding.Error, name, fmt.Sprintf("%s is %s too long for what was %s, and %s", what, f.show(m.by), since, m.cannot),
				phrase.Of("way.make-anew", phrase.With("length", phrase.Length(m.to))), phrase.Of("way.release-again"))
			f.say("found.frozen-long", pieces(m.labels), size("length", m.was), size("by", m.by))
		case m.long:
			f.find(finding.FrozenLong, finding.Error, name, fmt.Sprintf("%s is %s too long for what was %s", what, f.show(m.by), since),
				phrase.Of("way.cut-again", phrase.With("length", phrase.Length(m.to))), phrase.Of("way.release-again"))
			f.say("found.frozen-cut-again", pieces(m.labels), size("length", m.was), size("by", m.by), size("to", m.to))
		case m.what == "gap":
			f.find(finding.FrozenShort, finding.Error, name, fmt.Sprintf("%s is too narrow for what was %s: the gap beside its outermost bar can open to %s, %s more than between bars", what, since, f.show(m.hold), f.show(m.by)),
				phrase.Of("way.grille-wide", phrase.With("width", phrase.Length(m.to))), phrase.Of("way.shim-inward"))
			f.say("found.frozen-narrow", pieces(m.labels), size("length", m.was), size("gap", m.hold), size("by", m.by))
		default:
			f.find(finding.FrozenShort, finding.Error, name, fmt.Sprintf("%s is too short for what was %s: pushed to one end, %s in the other channel; at least %s is needed", what, since, a.stands(m.hold), f.show(f.kit.Board.Engage)),
				phrase.Of("way.make-anew-short", phrase.With("length", phrase.Length(m.to))),
				phrase.Of("way.shim-by", phrase.With("by", phrase.Length(m.by.Round(f.kit.Board.Mark, measure.Up)))), phrase.Of("way.release-again"))
			f.say("found.frozen-short", pieces(m.labels), size("length", m.was), size("hold", max(m.hold, 0).Round(f.kit.Board.Mark, measure.Down)), size("least", f.kit.Board.Engage))
		}
	}
	if len(a.lost) > 0 {
		f.find(finding.FrozenLong, finding.Error, name, fmt.Sprintf("%s: without a place in the bay as %s", names(a.lost), since), phrase.Of("way.tape-again"), phrase.Of("way.release-again"))
		f.say("found.frozen-lost", pieces(a.lost))
	}
	if a.fits > 0 {
		message := fmt.Sprintf("as %s, its other %d frozen pieces still fit", since, a.fits)
		if len(a.misfit)+len(a.lost) == 0 {
			message = fmt.Sprintf("as %s, all its %d frozen pieces still fit", since, a.fits)
		}
		if a.held {
			message += fmt.Sprintf("; pushed to one end, the least of them stands %s in the other channel", f.show(a.least.Round(f.kit.Board.Mark, measure.Down)))
		}
		f.find(finding.FrozenFits, finding.Note, name, message)
		if a.held {
			f.say("found.frozen-held", count("n", a.fits), size("hold", a.least.Round(f.kit.Board.Mark, measure.Down)))
		} else {
			f.say("found.frozen-fits", count("n", a.fits))
		}
	}
}

func (a *comparison) stands(hold measure.Length) string {
	if hold <= 0 {
		return "it does not stand"
	}
	return "only " + a.f.show(hold.Round(a.f.kit.Board.Mark, measure.Down)) + " stands"
}
