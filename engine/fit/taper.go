package fit

import (
	"fmt"
	"slices"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// TaperFit is what is done about a bay that is wider at one height than at
// another.
type TaperFit struct {
	Heights []measure.Length // above the datum, at which the clear width is known
	Widths  []measure.Length // at those heights
	Lengths []measure.Length // of boards from web to web, shortest first
	Courses []CourseHold     // of those boards, from the bottom up
	Shimmed bool             // one channel is shimmed until the bay is parallel
	Right   bool             // it is the right channel that takes the shims
	Shims   []Shim           // that make it parallel; none where no channel can be shimmed
	ByCut   Cost             // with the courses cut to their own heights
	ByShim  Cost             // with shims
	Why     *reason.Reason
}

// CourseHold is how one board of a tapered bay stands in its channels.
type CourseHold struct {
	Course int
	Clear  [2]measure.Length // clear width at its underside and at its top edge
	Length measure.Length
	Hold   [2]measure.Length // least depth in the left and right channel, pushed fully to the other end
}

// BoardRange is the shortest and the longest of a bay's boards from web to web, and
// the least depth that any of them stands in a channel when pushed fully to the
// other end. All are zero where the bay has no such boards.
func (b *BayFit) BoardRange() (shortest, longest, hold measure.Length) {
	shortest, longest, hold = b.Board, b.Board, min(b.Hold[0], b.Hold[1])
	if t := b.Taper; t != nil && len(t.Courses) > 0 {
		shortest, longest = t.Lengths[0], t.Lengths[len(t.Lengths)-1]
		if len(t.Lengths) > 1 || t.Shimmed {
			for _, c := range t.Courses {
				hold = min(hold, c.Hold[0], c.Hold[1])
			}
		}
	}
	return shortest, longest, hold
}

// whole says whether a course is one board from web to web.
func (c *Course) whole() bool { return c.Kind == "full" || c.Kind == "closing" || c.Kind == "ripped" }

// taper cuts the courses of a bay to their own heights where one length for all
// will not do, or keeps one length where the job has a channel shimmed.
func (f *fitter) taper(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	change := f.job.Bays[b.Name]
	if len(out.profile.z) == 0 || out.profile.even() || out.Board <= 0 || len(out.Courses) == 0 {
		if change.Shim {
			f.find(finding.Taper, finding.Note, b.Name, "it is to be shimmed parallel, but nothing measured says that it tapers", phrase.Of("way.measure-heights"), phrase.Of("way.no-shim", phrase.With("key", phrase.Name("shim"))))
			f.say("found.nothing-tapers")
		}
		return
	}
	t := &TaperFit{Heights: out.profile.z, Widths: out.profile.w, Shimmed: change.Shim}
	out.Taper = t
	spans, whole := f.spans(i)
	t.Lengths = grouped(spans)
	if one := out.Board; !slices.ContainsFunc(spans, func(s lengths) bool { return !s.takes(one) }) {
		t.Lengths = []measure.Length{one} // the narrowest reading's does for all
	}
	f.shims(i, t)
	f.costs(i, t, spans)
	if t.Shimmed {
		t.Lengths = []measure.Length{out.Board}
	}
	t.Why = f.whyTaper(i, t)
	why := map[measure.Length]*reason.Reason{out.Board: f.whyLength(out.Board, out.WhyClear)}
	for k, s := range spans {
		p := &f.out.Pieces[out.Courses[whole[k]].Pieces[0]]
		l := out.Board
		if !t.Shimmed {
			l = s.longest(t.Lengths)
		}
		h := f.holdAt(i, p, l)
		t.Courses = append(t.Courses, h)
		if h.Length == p.Length {
			continue
		}
		if why[h.Length] == nil {
			why[h.Length] = reason.Of(phrase.Of("why.board-length"), phrase.Length(h.Length), phrase.Of("rule.group", phrase.With("mark", phrase.Length(f.kit.Board.Mark))), phrase.Phrase{}, t.Why, f.endPlay)
		}
		p.Length, p.Why = h.Length, why[h.Length]
	}
	f.tellTaper(i, t, spans)
	f.besideHolds(i)
}

// besideHolds checks boards beside a window or a feeder, which are cut to the
// narrowest reading: nobody knows at which of their ends the bay widens, so each is
// held by so much less as the bay is wider beside it.
func (f *fitter) besideHolds(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	worst, label := f.kit.Board.Engage, ""
	for k := range out.Courses {
		c := &out.Courses[k]
		for side, n := range c.Pieces {
			p := &f.out.Pieces[n]
			hold := worst
			switch {
			case c.Kind == "cut" && out.Window != nil:
				hold = out.Window.Hold[side]
			case c.Kind == "short" && out.Feeder != nil:
				hold = out.Feeder.Hold
			}
			if hold -= f.wide(i, p).most - out.Clear; !c.whole() && hold < worst {
				worst, label = hold, p.Label
			}
		}
	}
	if label == "" {
		return
	}
	choices := []phrase.Phrase{phrase.Of("way.boards-by-height", phrase.With("key", phrase.Name("bays: …: {fill: boards}"))), phrase.Of("way.square-again")}
	if f.lay.Runs[b.Run].Channel != nil {
		choices = []phrase.Phrase{phrase.Of("way.shim-bay", called("key", shimKey(b.Name, true))), choices[0]}
	}
	f.find(finding.Taper, finding.Error, b.Name,
		fmt.Sprintf("where the bay is wider, %s, pushed to one end, may stand only %s in the other channel; at least %s is needed", label, f.about(max(worst, 0)), f.show(f.kit.Board.Engage)), choices...)
	f.say("found.taper-hold", called("piece", label), size("hold", max(worst, 0)), size("least", f.kit.Board.Engage))
}

// spans are the lengths that each course from web to web may have: not longer
// than its narrower edge leaves less the end play, and long enough to keep the
// least engagement at its wider one.
func (f *fitter) spans(i int) (spans []lengths, whole []int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	spare := min(b.Ends[0].Leg, b.Ends[1].Leg) - f.kit.Board.Engage
	for k := range out.Courses {
		c := &out.Courses[k]
		if !c.whole() {
			continue
		}
		r := f.roomOf(i, &f.out.Pieces[c.Pieces[0]])
		most, err := f.length(r.least)
		if err != nil {
			most = out.Board
		}
		spans = append(spans, lengths{(r.most - spare).Round(f.kit.Board.Mark, measure.Up), most})
		whole = append(whole, k)
	}
	return spans, whole
}

// roomOf is the clear width over a board's height, its tongue included.
func (f *fitter) roomOf(i int, p *Piece) room {
	top := p.Z + p.Height
	if !p.Ripped {
		top += f.board.Tongue
	}
	return f.out.Bays[i].profile.over(p.Z, top)
}

// holdAt is how a board of a length stands in its channels. Shimmed, the bay is
// parallel but for what the shims lack to the mark.
func (f *fitter) holdAt(i int, p *Piece, l measure.Length) CourseHold {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	h := CourseHold{Course: p.Course, Length: l, Clear: [2]measure.Length{out.profile.at(p.Z).least, out.profile.at(p.Z + p.Height).least}}
	most := f.roomOf(i, p).most
	if out.Taper.Shimmed {
		h.Clear = [2]measure.Length{out.Clear, out.Clear}
		most = out.Clear + f.kit.Board.Mark
	}
	for side, end := range b.Ends {
		h.Hold[side] = end.Leg - (most - l)
	}
	return h
}

// whyTaper tells the widths by height, and what was chosen.
func (f *fitter) whyTaper(i int, t *TaperFit) *reason.Reason {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	var at, shown phrase.List
	for k, z := range t.Heights {
		at = append(at, phrase.Of("amount.at", size("length", t.Widths[k].Round(f.kit.Board.Mark, measure.Nearest)), size("height", z.Round(f.kit.Board.Mark, measure.Nearest))))
	}
	rule := phrase.Of("rule.taper", size("least", f.kit.Board.Engage))
	if t.Shimmed {
		rule = phrase.Of("rule.taper-shimmed")
	}
	for _, l := range t.Lengths {
		shown = append(shown, phrase.Of("amount.length", size("length", l)))
	}
	return reason.Of(phrase.Of("why.board-lengths", phrase.With("bay", phrase.Name(b.Name))), shown, rule, f.kitSource("board.engage", f.kit.Board.Of("engage").Line),
		reason.Given(phrase.Of("why.clear-by-height"), at, phrase.Of("source.three-heights")), out.WhyClear)
}

// tellTaper offers both ways with their numbers, or says which course none suits.
func (f *fitter) tellTaper(i int, t *TaperFit, spans []lengths) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	for k, h := range t.Courses {
		if least := min(h.Hold[0], h.Hold[1]); least < f.kit.Board.Engage {
			f.find(finding.Taper, finding.Error, b.Name,
				fmt.Sprintf("over the height of course %d alone the bay is so much wider at one edge that a board of %s, pushed to one end, stands only %s in the other channel; at least %s is needed", h.Course, f.show(h.Length), f.about(max(least, 0)), f.show(f.kit.Board.Engage)),
				f.shimChoice(t, b.Name), phrase.Of("way.deeper-channels"), phrase.Of("way.widths-again"))
			f.say("found.course-hold", count("course", h.Course), size("board", h.Length), size("hold", max(least, 0)), size("least", f.kit.Board.Engage))
			return
		}
		if !t.Shimmed && !spans[k].takes(h.Length) {
			return // no board fits at all: told before
		}
	}
	if len(t.Lengths) == 1 && t.ByCut.Lengths == 1 {
		return
	}
	wider := f.about(out.Widest - out.Clear)
	cut := fmt.Sprintf("cut to their own heights the courses take %s: %s", several(t.ByCut.Lengths, "length"), f.cutWords(t))
	severity := finding.Warning
	if f.job.Bays[b.Name].Has("shim") {
		severity = finding.Note // somebody has chosen
	}
	if len(t.Shims) == 0 {
		f.find(finding.Taper, severity, b.Name, fmt.Sprintf("the bay is %s wider at one height than at another; %s", wider, cut),
			phrase.Of("way.cut-by-height"), phrase.Of("way.square-again"))
		f.say("found.wider", size("by", out.Widest-out.Clear))
		return
	}
	shim := fmt.Sprintf("shimmed parallel they take 1 length: %s", f.shimWords(t))
	byCut, byShim := called("key", shimKey(b.Name, false)), called("key", shimKey(b.Name, true))
	ways := []phrase.Phrase{phrase.Of("way.cut-planned", byCut), phrase.Of("way.shim-bay", byShim)}
	if t.Shimmed {
		ways = []phrase.Phrase{phrase.Of("way.cut-bay", byCut), phrase.Of("way.shim-planned", byShim)}
	}
	f.find(finding.Taper, severity, b.Name, fmt.Sprintf("the bay is %s wider at one height than at another; %s; %s", wider, cut, shim),
		ways...)
	f.say("found.wider", size("by", out.Widest-out.Clear))
}

// shimChoice is the way out that shims are, where the job can choose them.
func (f *fitter) shimChoice(t *TaperFit, bay string) phrase.Phrase {
	if len(t.Shims) == 0 || t.Shimmed {
		return phrase.Of("way.shim-straight")
	}
	return phrase.Of("way.shim-bay", called("key", shimKey(bay, true)))
}

// shimKey is how a job says whether a bay's channel is shimmed.
func shimKey(bay string, shim bool) string {
	return fmt.Sprintf("bays: {%s: {shim: %t}}", bay, shim)
}
