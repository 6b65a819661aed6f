package packet

import (
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
)

// liftOne is the most one person should lift under ideal conditions: the load
// constant of 51 lb (23 kg) in the NIOSH lifting equation (Applications Manual
// for the Revised NIOSH Lifting Equation, DHHS 94-110; from memory).
const liftOne = 23 * measure.Kilogram

// Cautions are the usual ones that apply to a plan. Local codes govern, and
// structure is a licensed engineer's work.
func Cautions(p *plan.Plan) []phrase.Phrase {
	out := []phrase.Phrase{phrase.Of("caution.codes"), phrase.Of("caution.protection")}
	for i := range p.Layout.Structures {
		name := label("structure", p.Layout.Structures[i].Name)
		switch p.Layout.Structures[i].Kind {
		case frame.FreeBarn:
			out = append(out, phrase.Of("caution.engineer", name))
		case frame.BarnRow:
			out = append(out, phrase.Of("caution.sound-posts", name))
		case frame.Pen:
			out = append(out, phrase.Of("caution.brace-sections", name))
		}
	}
	if heavy := heaviest(p); heavy.mass > liftOne {
		out = append(out, heavy.caution())
	}
	if cutZinc(p) {
		out = append(out, phrase.Of("caution.zinc"))
	}
	out = append(out, phrase.Of("caution.before-a-horse"))
	return out
}

// weighed is a piece with its mass.
type weighed struct {
	label  string
	boards bool // it is a door, weighed with its boards
	mass   measure.Mass
}

// caution says that it is a lift for two.
func (v weighed) caution() phrase.Phrase {
	key := "caution.heavy"
	if v.boards {
		key = "caution.heavy-door"
	}
	return phrase.Of(key, label("piece", v.label), phrase.With("mass", phrase.Mass(v.mass)), phrase.With("limit", phrase.Mass(liftOne)))
}

// heaviest finds the heaviest single piece; a door counts with its boards.
func heaviest(p *plan.Plan) weighed {
	var most weighed
	bay := map[int]measure.Mass{}
	for i := range p.Takeoff.Needs {
		n := &p.Takeoff.Needs[i]
		if n.Piece < 0 || n.Count != 1 {
			continue
		}
		v := &p.Fit.Pieces[n.Piece]
		m := n.Mass
		if v.Bay >= 0 && p.Layout.Bays[v.Bay].IsDoor() && (v.Kind == fit.Door || v.Kind == fit.Board) {
			bay[v.Bay] += m
			m = bay[v.Bay]
		}
		if m > most.mass {
			most = weighed{label: v.Label, mass: m}
			if v.Bay >= 0 && p.Layout.Bays[v.Bay].IsDoor() {
				most.label, most.boards = p.Layout.Bays[v.Bay].Name, true
			}
		}
	}
	return most
}

// cutZinc says whether any galvanised piece is cut.
func cutZinc(p *plan.Plan) bool {
	for i := range p.Fit.Pieces {
		if v := &p.Fit.Pieces[i]; v.Cut && v.Item != fit.Lumber {
			return true
		}
	}
	return false
}
