package plan

import (
	"fmt"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Show writes a length as the job's readers do.
func (p *Plan) Show(l measure.Length) string { return l.In(p.Job.Units) }

// ShowMass writes a mass for loading and lifting, rounded up.
func (p *Plan) ShowMass(m measure.Mass) string { return m.ToLift(p.Job.Units) }

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

// Todo is what is done to a piece besides cutting it to length, each a phrase.
func (p *Plan) Todo(v *fit.Piece) phrase.List {
	var do phrase.List
	if v.Ripped {
		do = append(do, phrase.Of("todo.rip", size("height", v.Height)))
	}
	if v.Made > v.Length {
		do = append(do, phrase.Of("todo.trim", size("made", v.Made)))
	}
	for i := range v.Notches {
		do = append(do, p.notch(v, &v.Notches[i]))
	}
	if v.Below {
		do = append(do, phrase.Of("todo.load-from-below"))
	}
	if v.Fasten {
		do = append(do, phrase.Of("todo.fasten"))
	}
	return do
}

// notch is what is cut out of a board's edge or face.
func (p *Plan) notch(v *fit.Piece, n *fit.Notch) phrase.Phrase {
	deep, over, from := size("depth", n.Depth), size("width", n.Width), size("from", n.X)
	switch {
	case n.Edge == "top" && n.Width == v.Length && n.Depth <= p.Fit.Board.Tongue:
		return phrase.Of("todo.tongue-off")
	case n.Edge == "front face":
		return phrase.Of("todo.house-front", deep, over, from, size("high", n.High))
	case n.Edge == "back face":
		return phrase.Of("todo.house-back", deep, over, from, size("high", n.High))
	case n.Edge == "top" && n.Depth > p.Fit.Board.Tongue:
		return phrase.Of("todo.notch-top", deep, over, from)
	case n.Edge == "top":
		return phrase.Of("todo.tongue-away", over, from)
	}
	return phrase.Of("todo.notch-bottom", deep, over, from)
}

func size(name string, l measure.Length) phrase.Arg { return phrase.With(name, phrase.Length(l)) }

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
