package packet

import (
	"fmt"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// liftOne is the most one person should lift under ideal conditions: the load
// constant of 51 lb (23 kg) in the NIOSH lifting equation (Applications Manual
// for the Revised NIOSH Lifting Equation, DHHS 94-110; from memory).
const liftOne = 23 * measure.Kilogram

// Cautions are the usual ones that apply to a plan. Local codes govern, and
// structure is a licensed engineer's work.
func Cautions(p *plan.Plan) []string {
	out := []string{
		"Local building codes govern. This plan is no structural design.",
		"Wear eye and hearing protection at the saw, gloves at galvanised edges, a hard hat under standing frames.",
	}
	for i := range p.Layout.Structures {
		switch p.Layout.Structures[i].Kind {
		case frame.FreeBarn:
			out = append(out, p.Layout.Structures[i].Name+": posts, footings, uplift and roof must be designed by a licensed engineer; footings go below the local frost line.")
		case frame.BarnRow:
			out = append(out, p.Layout.Structures[i].Name+": have standing posts and braces judged sound before anything is lagged to them; never cut a brace.")
		case frame.Pen:
			out = append(out, p.Layout.Structures[i].Name+": brace each section until the ring is closed; a free-standing section tips.")
		}
	}
	if heavy := heaviest(p); heavy.mass > liftOne {
		out = append(out, fmt.Sprintf("The heaviest single piece is %s, %s: over %s is two people's lift or more (NIOSH lifting equation, from memory).", heavy.label, p.ShowMass(heavy.mass), p.ShowMass(liftOne)))
	}
	if cutZinc(p) {
		out = append(out, "Cut galvanised steel outdoors or with extraction: zinc fume makes ill. Deburr every cut end and repair the zinc before a horse comes near.")
	}
	out = append(out, "Before a horse goes in: run a hand along every edge, pull every board, try every latch with one hand.")
	return out
}

// weighed is a piece with its mass.
type weighed struct {
	label string
	mass  measure.Mass
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
			most = weighed{v.Label, m}
			if v.Bay >= 0 && p.Layout.Bays[v.Bay].IsDoor() {
				most.label = p.Layout.Bays[v.Bay].Name + " with its boards"
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
