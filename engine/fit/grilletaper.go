package fit

import (
	"stallwright/engine/finding"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// grilleCut is how a grille is trimmed to its bay.
type grilleCut struct {
	made, width measure.Length
	left        measure.Length // cut from its left end; the rest from its right
	play        measure.Length // most it can move, where the bay is widest beside it
}

// parallel says whether a bay is as wide at every height, or shimmed to be.
func (f *fitter) parallel(i int) bool {
	p := f.out.Bays[i].profile
	return len(p.z) == 0 || p.even() || f.job.Bays[f.lay.Bays[i].Name].Shim
}

// clearBeside is what a feeder takes of the clear width beside a bay's grille.
func (f *fitter) clearBeside(i int) measure.Length {
	if fd := f.out.Bays[i].Feeder; fd != nil {
		return fd.Feeder.Width
	}
	return 0
}

// cutGrille trims a grille to a clear width, its underside at z. In a bay that
// tapers it is cut to the narrowest reading where its ends are held and its gaps
// small all the same, else to the narrowest width over its own height.
func (f *fitter) cutGrille(i int, g *kit.Grille, made, clear, z measure.Length) grilleCut {
	first := f.trimmed(i, g, made, f.grilleWidth(clear), clear)
	if f.parallel(i) {
		return first
	}
	beside := f.out.Bays[i].profile.over(z, z+g.Height)
	taken := f.out.Bays[i].Clear - clear // what a feeder takes
	first = f.trimmed(i, g, made, first.width, beside.most-taken)
	if f.held(i, g, first) {
		return first
	}
	width := f.grilleWidth(beside.least - taken)
	for _, w := range g.Widths {
		if d := w - width; d >= 0 && d <= 2*g.Trim {
			return f.trimmed(i, g, w, width, beside.most-taken)
		}
	}
	return first
}

// trimmed trims half off each end, the left one down to the mark; what that adds to
// the right must not cut into its bar. In a bay that tapers, where a gap beside a bar
// would open wider than between bars, as much more comes off that end as the other
// allows.
func (f *fitter) trimmed(i int, g *kit.Grille, made, width, most measure.Length) grilleCut {
	c := grilleCut{made: made, width: width, play: most - width}
	trim := made - width
	c.left = max((trim/2).Round(f.kit.Board.Mark, measure.Down), trim-g.Trim)
	if g.Mesh != 0 || f.parallel(i) {
		return c
	}
	legs := f.legs(i)
	needs := func(side int) measure.Length { // least to trim for the gap to be small enough
		return g.Margin - g.Bar/2 + c.play - legs[side] - (g.Pitch - g.Bar)
	}
	lo := max(needs(0), trim-g.Trim, 0).Round(f.kit.Board.Mark, measure.Up)
	hi := min(trim-needs(1), g.Trim, trim).Round(f.kit.Board.Mark, measure.Down)
	if lo <= hi {
		c.left = min(max(c.left, lo), hi)
	}
	return c
}

// held says whether a trimmed grille is held at both ends and opens no gap
// wider than between its bars, wherever it is pushed to.
func (f *fitter) held(i int, g *kit.Grille, c grilleCut) bool {
	legs := f.legs(i)
	if min(legs[0], legs[1])-c.play < f.kit.Board.Engage {
		return false
	}
	trims := [2]measure.Length{c.left, c.made - c.width - c.left}
	for side, trim := range trims {
		if g.Mesh == 0 && g.Margin-g.Bar/2-trim+c.play-legs[side] > g.Pitch-g.Bar {
			return false
		}
	}
	return true
}

func (f *fitter) grilleTaper(i int, message, key string, args ...phrase.Arg) {
	b := &f.lay.Bays[i]
	choices := []phrase.Phrase{phrase.Of("way.boards-by-height", phrase.With("key", phrase.Name("bays: …: {fill: boards}"))), phrase.Of("way.mesh"), phrase.Of("way.grille-wedge")}
	if f.lay.Runs[b.Run].Channel != nil {
		choices = append([]phrase.Phrase{phrase.Of("way.shim-bay", called("key", shimKey(b.Name, true)))}, choices...)
	}
	f.find(finding.GrilleTaper, finding.Error, b.Name, message, choices...)
	f.say(key, args...)
}
