package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// farOff is how far a measured width may lie from the drawn one before it is
// looked at again: posts in barns are off by an inch or two (common practice,
// no published source).
const farOff = 3 * measure.Inch

// readAgain is how far two measurements of one bay may lie apart.
const readAgain = measure.Inch / 8

func (f *fitter) kitSource(what string, line int) phrase.Phrase { return f.kit.Line(what, line) }

// clear settles the clear width a bay is fitted to: the latest measurement, or
// the drawn width.
func (f *fitter) clear(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	m, before := f.counting(b.Name)
	if f.frozenClear(i) {
		return
	}
	if m == nil {
		out.State, out.Clear, out.Widest, out.WhyClear = Drawn, b.Clear, b.Clear, b.Why
		return
	}
	out.State = Measured
	f.widths(i, m.Width, phrase.Of("rule.narrowest"), m.Cite())
	f.early(i)
	f.doubt(i, m, before)
}

// widths counts on readings of a bay's clear width.
func (f *fitter) widths(i int, w job.Width, rule, source phrase.Phrase, more ...*reason.Reason) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	lean := f.leaning(i)
	p := f.widened(i, w, lean)
	all := p.all()
	out.Width, out.Clear, out.Widest, out.profile = &w, all.least, all.most, p
	from := make([]*reason.Reason, 0, 4)
	for k, l := range w.Readings() {
		what := []string{"why.clear-bottom", "why.clear-middle", "why.clear-top"}[k]
		if len(w.Readings()) == 2 && k == 1 && w.Middle == 0 {
			what = "why.clear-top"
		}
		from = append(from, reason.Given(phrase.Of(what), phrase.Length(l), source))
	}
	if last := len(p.w) - 1; lean != nil && w.Top == 0 && p.z[last] == f.lay.Runs[b.Run].Zone {
		rule = phrase.Of("rule.narrowest-leans", phrase.With("rule", rule))
		from = append(from, reason.Of(phrase.Of("why.clear-top-leans"), phrase.Length(p.w[last].Round(f.kit.Board.Mark, measure.Nearest)), phrase.Of("rule.clear-leans"), phrase.Phrase{}, lean.why...))
	}
	out.WhyClear = reason.Of(phrase.Of("why.clear-of", phrase.With("place", phrase.Name(b.Name))), phrase.Length(out.Clear), rule, phrase.Phrase{}, append(from, more...)...)
}

// about writes a length that was worked out, to the mark of a tape.
func (f *fitter) about(l measure.Length) string {
	return f.show(l.Round(f.kit.Board.Mark, measure.Nearest))
}

// doubt tells of a measurement that lies far from the one before it, or from what
// was drawn.
func (f *fitter) doubt(i int, m, last *job.Measurement) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	if last != nil {
		before := last.Width
		if d := (before.Least() - out.Clear).Abs(); d > readAgain {
			f.find(finding.ReadingsDiffer, finding.Warning, b.Name,
				fmt.Sprintf("measured %s and later %s, %s apart; the later one counts", f.show(before.Least()), f.show(out.Clear), f.show(d)), phrase.Of("way.tape-once-more"))
			f.say("found.differ", size("before", before.Least()), size("now", out.Clear), size("by", d))
		}
	}
	if d := out.Clear - b.Clear; d.Abs() > farOff {
		f.find(finding.MeasuredFarOff, finding.Warning, b.Name,
			fmt.Sprintf("measured %s, drawn %s: %s off", f.show(out.Clear), f.show(b.Clear), f.show(d.Abs())), phrase.Of("way.tape-again"), phrase.Of("way.correct-places"))
		f.say("found.far-off", size("measured", out.Clear), size("drawn", b.Clear), size("by", d.Abs()))
	}
}

// length is a board's length in a clear width, down to the mark.
func (f *fitter) length(clear measure.Length) (measure.Length, error) {
	l, err := f.kit.Board.Length.Length(&kit.Facts{Clear: clear, EndPlay: f.kit.Board.EndPlay})
	if err != nil {
		return 0, err
	}
	if most := clear - f.kit.Board.EndPlay; l > most {
		return 0, fmt.Errorf("the kit's board.length, %s, comes to %s, over the clear width less the end play", f.kit.Board.Length, f.show(l))
	}
	return l.Round(f.kit.Board.Mark, measure.Down), nil
}

// whyLength is the reason for a board's length.
func (f *fitter) whyLength(l measure.Length, clear *reason.Reason) *reason.Reason {
	return reason.Of(phrase.Of("why.board-length"), phrase.Length(l), phrase.Of("rule.formula-down", phrase.With("formula", phrase.Formula(f.kit.Board.Length.String())), phrase.With("mark", phrase.Length(f.kit.Board.Mark))),
		f.kitSource("board.length", f.kit.Board.Of("length").Line), clear, f.endPlay)
}

// hold works out the full board at the narrowest reading, how deep it stands in
// each channel when pushed fully to the other end, and whether its thickness goes
// in.
func (f *fitter) hold(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	l, err := f.length(out.Clear)
	switch {
	case err != nil:
		f.find(finding.LittleHold, finding.Error, b.Name, err.Error(), phrase.Of("way.mend-length", phrase.With("key", phrase.Name("board.length"))))
		f.say("found.mend-rule", called("rule", "board.length"))
		return
	case l <= 0:
		f.find(finding.LittleHold, finding.Error, b.Name, fmt.Sprintf("no board fits a clear width of %s", f.show(out.Clear)), phrase.Of("way.wider-bay"))
		f.say("found.no-board", size("clear", out.Clear))
		return
	}
	out.Board = l
	// Pushed fully against one web, a board stands its channel's whole depth in
	// that one, and the depth less the free length in the other.
	loose := out.Clear - l
	for side := range out.Hold {
		out.Hold[side] = b.Ends[side].Leg - loose
	}
	least := min(out.Hold[0], out.Hold[1])
	if least < f.kit.Board.Engage {
		f.find(finding.LittleHold, finding.Error, b.Name,
			fmt.Sprintf("a board of %s pushed to one end stands only %s in the other channel; at least %s is needed", f.show(l), f.show(least), f.show(f.kit.Board.Engage)),
			phrase.Of("way.shim-inward"), phrase.Of("way.deeper-channels"))
		f.say("found.hold-only", size("board", l), size("hold", least), size("least", f.kit.Board.Engage))
	}
	f.thickness(i)
}

// holds tells of boards that, pushed to one end, stand too little in the other of
// their channels.
func (f *fitter) holds(i int, what string, l, least measure.Length) {
	if least < f.kit.Board.Engage {
		f.find(finding.LittleHold, finding.Error, f.lay.Bays[i].Name,
			fmt.Sprintf("a board of %s %s, pushed to one end, stands only %s in the other channel; at least %s is needed", f.show(l), what, f.show(least), f.show(f.kit.Board.Engage)),
			phrase.Of("way.deeper-channels"), phrase.Of("way.finer-mark"))
		f.say("found.hold-only", size("board", l), size("hold", least), size("least", f.kit.Board.Engage))
	}
}
