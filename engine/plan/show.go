package plan

import (
	"fmt"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/measure"
)

// Show writes a length as the job's readers do.
func (p *Plan) Show(l measure.Length) string { return l.In(p.Job.Units) }

// ShowMass writes a mass for loading and lifting: whole pounds, or kilograms to
// a tenth under a hundred; rounded up, the safe side for whoever lifts.
func (p *Plan) ShowMass(m measure.Mass) string {
	if p.Job.Units == measure.Metric {
		tenths, _ := measure.MulDiv(int64(m), 10, int64(measure.Kilogram), measure.Up)
		if tenths >= 1000 {
			return fmt.Sprintf("%d kg", (tenths+9)/10)
		}
		return fmt.Sprintf("%d.%d kg", tenths/10, tenths%10)
	}
	tenths, _ := measure.MulDiv(int64(m), 10, int64(measure.Pound), measure.Up)
	if tenths >= 1000 {
		return fmt.Sprintf("%d lb", (tenths+9)/10)
	}
	return fmt.Sprintf("%d.%d lb", tenths/10, tenths%10)
}

// Place names where a piece goes: its bay, its run, or the post itself.
func (p *Plan) Place(v *fit.Piece) string {
	switch {
	case v.Bay >= 0:
		return p.Layout.Bays[v.Bay].Name
	case v.Run >= 0:
		return p.Layout.Runs[v.Run].Name
	}
	return v.Label
}

// Work says what is done to a piece besides cutting it to length.
func (p *Plan) Work(v *fit.Piece) string {
	var do []string
	if v.Ripped {
		do = append(do, "rip to "+p.Show(v.Height))
	}
	if v.Made > v.Length {
		do = append(do, "trim from "+p.Show(v.Made))
	}
	for _, n := range v.Notches {
		switch {
		case n.Edge == "top" && n.Width == v.Length && n.Depth <= p.Fit.Board.Tongue:
			do = append(do, "cut the tongue off")
		case strings.HasSuffix(n.Edge, " face"):
			do = append(do, fmt.Sprintf("house the %s %s deep over %s from %s, %s high from its lower edge", n.Edge, p.Show(n.Depth), p.Show(n.Width), p.Show(n.X), p.Show(n.High)))
		case n.Edge == "top" && n.Depth > p.Fit.Board.Tongue:
			do = append(do, fmt.Sprintf("notch the top edge %s deep, tongue included, over %s from %s", p.Show(n.Depth), p.Show(n.Width), p.Show(n.X)))
		case n.Edge == "top":
			do = append(do, fmt.Sprintf("cut the tongue away over %s from %s", p.Show(n.Width), p.Show(n.X)))
		default:
			do = append(do, fmt.Sprintf("notch the bottom edge %s deep over %s from %s", p.Show(n.Depth), p.Show(n.Width), p.Show(n.X)))
		}
	}
	if v.Below {
		do = append(do, "load from below")
	}
	if v.Fasten {
		do = append(do, "fasten")
	}
	return strings.Join(do, "; ")
}
