package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// GrilleFit is a grille cut to its bay.
type GrilleFit struct {
	Grille  *kit.Grille
	Made    measure.Length    // width as delivered
	X       measure.Length    // from the bay's left web to its left end
	Width   measure.Length    // as set
	Trim    [2]measure.Length // cut from the left and right end
	Gap     [2]measure.Length // clear gap from each end to the outermost bar; zero for mesh
	Z       measure.Length    // underside of its lower channel's legs above the datum
	Swallow [2]measure.Length // face of the course below and above that its channels cover
	Ends    int               // cut ends to deburr and repair with zinc
	Play    measure.Length    // most it can move between its channels, where the bay is widest beside it
	Piece   int
	Why     *reason.Reason
}

// layers is how many full courses stand below and above a grille: by the fill,
// else by the assembly.
func (f *fitter) layers(i int) (below, above int) {
	b := &f.lay.Bays[i]
	a := f.lay.Runs[b.Run].Assembly
	below, above = b.Fill.Below, b.Fill.Above
	if below == 0 {
		below = a.Below
	}
	if above == 0 {
		above = a.Above
	}
	return below, above
}

// pickGrille takes the grille asked for, or the first of the kit's that can be
// trimmed to this width, in the width that leaves the least to trim. Of beside-feeder grilles and plain ones
// it takes only the kind wanted.
func (f *fitter) pickGrille(i int, clear measure.Length, beside bool) (*kit.Grille, measure.Length) {
	b := &f.lay.Bays[i]
	want := f.grilleWidth(clear)
	var best *kit.Grille
	var made measure.Length
	asked := b.Fill.Grille
	for k := range f.kit.Grilles {
		g := &f.kit.Grilles[k]
		if best != nil {
			break
		}
		if (asked == "" && g.Beside != beside) || (asked != "" && g.ID != asked) {
			continue
		}
		for _, w := range g.Widths {
			if d := w - want; d >= 0 && d <= 2*g.Trim && (best == nil || w < made) {
				best, made = g, w
			}
		}
	}
	switch {
	case best != nil:
		return best, made
	case asked != "" && f.kit.Grille(asked) == nil:
		f.noGrille(i, fmt.Sprintf("the kit %s has no grille %q", f.kit.Kit, asked), "found.no-such-grille", called("kit", f.kit.Kit), called("grille", asked))
	case asked != "":
		f.noGrille(i, fmt.Sprintf("the grille %s is made in no width that can be trimmed to %s", asked, f.show(want)), "found.grille-widths", called("grille", asked), size("width", want))
	default:
		f.noGrille(i, fmt.Sprintf("no grille of the kit %s can be trimmed to %s", f.kit.Kit, f.show(want)), "found.no-grille-for", called("kit", f.kit.Kit), size("width", want))
	}
	return nil, 0
}

// grilleWidth is how wide a grille may stand in a clear width, down to the mark.
func (f *fitter) grilleWidth(clear measure.Length) measure.Length {
	return (clear - f.kit.Board.EndPlay).Round(f.kit.Board.Mark, measure.Down)
}

func (f *fitter) noGrille(i int, message, key string, args ...phrase.Arg) {
	f.find(finding.NoGrille, finding.Error, f.lay.Bays[i].Name, message, phrase.Of("way.solid-boards", phrase.With("key", phrase.Name("bays: …: {fill: boards}"))), phrase.Of("way.grille-to-size"), phrase.Of("way.move-doorway-made"))
	f.say(key, args...)
}

// grilleBay fills a bay with courses, a grille captured between them, and
// closing courses.
func (f *fitter) grilleBay(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	if out.Board <= 0 {
		return
	}
	below, above := f.layers(i)
	if below == 0 {
		f.noGrille(i, fmt.Sprintf("a grille stands on a course, but neither the fill nor the assembly %s says on how many", f.lay.Runs[b.Run].Assembly.ID), "found.grille-on-none", called("assembly", f.lay.Runs[b.Run].Assembly.ID))
		return
	}
	g, made := f.pickGrille(i, out.Clear, false)
	if g == nil {
		return
	}
	r := &f.lay.Runs[b.Run]
	clamp := f.clampOf(r)
	mid := &band{after: below, height: g.Height - g.Lower - g.Upper}
	if above == 0 {
		above = max(f.fullCourses(r.Zone, mid, clamp)-below, 1)
	}
	p := f.stack(r.Zone, below+above, mid, clamp)
	why := f.whyLength(out.Board, out.WhyClear)
	for k, z := range p.z {
		if k == below {
			f.setGrille(i, g, made, 0, out.Clear, p.z[below-1])
		}
		f.course(i, "full", z, f.board.Coverage, why)
	}
	f.close(i, p, why)
	f.settle(i, p, clamp, fmt.Sprintf("%d + grille + %d courses", below, above), phrase.Of("rule.courses-grille", count("below", below), count("above", above)))
}

// setGrille trims a grille to a clear width and sets it on the course whose
// underside is at z.
func (f *fitter) setGrille(i int, g *kit.Grille, made, x, clear, z measure.Length) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	z += f.board.Coverage + f.board.Tongue - g.Lower
	cut := f.cutGrille(i, g, made, clear, z)
	width, made := cut.width, cut.made
	trim, left := made-width, cut.left
	fit := &GrilleFit{
		Grille: g, Made: made, X: x + (clear-width)/2, Width: width, Trim: [2]measure.Length{left, trim - left},
		Z: z, Play: cut.play,
		Swallow: [2]measure.Length{max(g.Lower-f.board.Tongue, 0), g.Upper},
	}
	for side := range fit.Trim {
		if fit.Trim[side] > 0 {
			fit.Ends += g.Rails
		}
		if g.Mesh == 0 {
			fit.Gap[side] = g.Margin - g.Bar/2 - fit.Trim[side]
		}
	}
	fit.Why = reason.Of(phrase.Of("why.grille-width", phrase.With("bay", phrase.Name(b.Name))), phrase.Length(width),
		phrase.Of("rule.grille", phrase.With("mark", phrase.Length(f.kit.Board.Mark)), phrase.With("left", phrase.Length(left)), phrase.With("right", phrase.Length(trim-left)), phrase.With("made", phrase.Length(made))),
		f.kitSource("grilles "+g.ID, g.Pos().Line), out.WhyClear, f.endPlay)
	fit.Piece = f.add(Piece{
		Label: b.Name + "/grille", Kind: Grille, Item: g.ID, Run: b.Run, Bay: i, Length: width, Made: made, Height: g.Height,
		X: fit.X, Z: fit.Z, Cut: trim > 0, State: out.State, Why: fit.Why,
	})
	out.Grille = fit
	f.bars(i, fit)
}

// bars checks the clear gap beside the outermost bars, and in a bay that tapers how
// deep its ends stand in their channels, with the grille pushed fully to the other
// end where the bay is widest.
func (f *fitter) bars(i int, fit *GrilleFit) {
	g, b := fit.Grille, &f.lay.Bays[i]
	between := g.Pitch - g.Bar
	legs := f.legs(i)
	tapered := !f.parallel(i)
	lost := false
	if hold := min(legs[0], legs[1]) - fit.Play; tapered && hold < f.kit.Board.Engage {
		f.grilleTaper(i, fmt.Sprintf("cut to go in at its narrow height, the grille pushed to one end stands only %s in the other channel where the bay is wider; at least %s is needed", f.about(max(hold, 0)), f.show(f.kit.Board.Engage)),
			"found.grille-hold", size("hold", max(hold, 0).Round(f.kit.Board.Mark, measure.Nearest)), size("least", f.kit.Board.Engage))
		lost = true
	}
	for side, gap := range fit.Gap {
		if g.Mesh != 0 || lost {
			break
		}
		open := gap + fit.Play - legs[side]
		if open <= between {
			continue
		}
		if tapered {
			f.grilleTaper(i, fmt.Sprintf("however its ends are trimmed, where the bay is widest beside it the gap beside the %s bar can open to %s; between bars it is %s", []string{"left", "right"}[side], f.about(open), f.show(between)),
				[]string{"found.grille-gap-left", "found.grille-gap-right"}[side], size("gap", open.Round(f.kit.Board.Mark, measure.Nearest)), size("between", between))
			break
		}
		f.find(finding.BarGap, finding.Warning, b.Name,
			fmt.Sprintf("the gap beside the %s bar can open to %s; between bars it is %s", []string{"left", "right"}[side], f.show(open), f.show(between)), phrase.Of("way.another-grille"), phrase.Of("way.trim-unequally"))
		f.say([]string{"found.gap-left", "found.gap-right"}[side], size("gap", open), size("between", between))
	}
	if fit.Ends > 0 {
		f.find(finding.ZincRepair, finding.Note, b.Name,
			fmt.Sprintf("trim the grille %s left and %s right; deburr %d cut ends and repair the zinc", f.show(fit.Trim[0]), f.show(fit.Trim[1]), fit.Ends))
		f.say("found.trim", size("left", fit.Trim[0]), size("right", fit.Trim[1]), count("n", fit.Ends))
	}
}
