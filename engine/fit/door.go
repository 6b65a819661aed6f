package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// DoorFit is a door hung in its opening.
type DoorFit struct {
	Door    *kit.Door
	Opening measure.Length
	Leaves  int
	Leaf    measure.Length    // width of one leaf
	Lap     measure.Length    // sliding: how far the closed leaf laps each jamb
	Fall    [2]measure.Length // how much lower than the structure's highest floor the floor at the doorway lies: least and most
	Gap     measure.Length    // under the leaf, above the highest finished floor; to the floor here add Fall
	GapFrom measure.Length    // least gap the roller stems allow
	GapTo   measure.Length    // most gap the roller stems allow
	Stem    measure.Length    // leaf top to running face as set
	Stems   [2]measure.Length // least and most at which everything holds
	Rise    measure.Length    // how far the hung leaf can be lifted
	Latch   measure.Length    // swing: gap at the latch side
	Bands   []Band            // the leaf's make-up, from the bottom up
	Boards  int               // boards in one leaf
	Above   int               // of them loaded from above
	Below   int               // of them loaded from below
	Track   *TrackFit
	Piece   int
	Why     *reason.Reason
}

// Band is one band of a leaf as filled.
type Band struct {
	Panel kit.Panel
	Z     measure.Length // its underside above the leaf's bottom
	Count int            // boards
	Slack measure.Length // room left over its boards
}

// TrackFit is a sliding leaf's track.
type TrackFit struct {
	Length measure.Length
	X      [2]measure.Length // ends, along the wall from the wall's first post's axis
	Parked [2]measure.Length // the parked leaf, along the wall
	Closed [2]measure.Length // the closed leaf, along the wall
	Hand   job.Hand          // the side the leaf parks on
	Piece  int
}

// door hangs a door in its opening and makes up its leaf.
func (f *fitter) door(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	d := b.Door
	fit := &DoorFit{Door: d, Opening: out.Clear, Leaves: 1, Leaf: d.Leaf.Width}
	if d.Kind == kit.TwoLeaf {
		fit.Leaves = 2
	}
	out.Door = fit
	fit.Why = reason.Of(phrase.Of("why.leaf-of", phrase.With("bay", phrase.Name(b.Name))), phrase.Of("amount.by", size("width", d.Leaf.Width), size("height", d.Leaf.Height)), phrase.Of("rule.made-for", phrase.With("opening", phrase.Length(d.Opening))), f.kitSource("doors "+d.ID, d.Pos().Line), out.WhyClear)
	for leaf := range fit.Leaves {
		label := b.Name + "/door"
		if fit.Leaves > 1 {
			label = fmt.Sprintf("%s/door%d", b.Name, leaf+1)
		}
		fit.Piece = f.add(Piece{
			Label: label, Kind: Door, Item: d.ID, Run: b.Run, Bay: i, Length: d.Leaf.Width, Height: d.Leaf.Height, State: out.State, Why: fit.Why,
		})
	}
	f.makeUp(i, fit)
	if d.Kind == kit.Sliding {
		f.hang(i, fit)
	} else {
		f.swing(i, fit)
	}
	f.handle(i, fit)
}

// makeUp fills the leaf's bands with boards.
func (f *fitter) makeUp(i int, fit *DoorFit) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	leaf := &fit.Door.Leaf
	inner := leaf.Width - 2*leaf.Stile
	clear := reason.Of(phrase.Of("why.clear-in-leaf", phrase.With("bay", phrase.Name(b.Name))), phrase.Length(inner), phrase.Of("rule.leaf-less"), f.kitSource("doors "+fit.Door.ID+".leaf", leaf.Pos().Line))
	length, err := f.length(inner)
	if err != nil || length <= 0 {
		f.find(finding.LittleHold, finding.Error, b.Name, "no board fits inside the leaf of "+fit.Door.ID, phrase.Of("way.mend-door"))
		f.say("found.no-board-in-leaf", phrase.With("door", f.kit.Called(fit.Door.ID, fit.Door.ID)))
		return
	}
	out.Board = length
	out.Hold = [2]measure.Length{leaf.Leg - (inner - length), leaf.Leg - (inner - length)}
	f.holds(i, "in the leaf of "+fit.Door.ID, length, out.Hold[0])
	why := f.whyLength(length, clear)
	z := measure.Length(0)
	for _, p := range leaf.Panels {
		band := Band{Panel: p, Z: z}
		if p.Fill == kit.PanelBoards {
			f.fillBand(i, fit, &band, length, why)
		}
		fit.Bands = append(fit.Bands, band)
		z += p.Height
	}
}

// fillBand puts as many whole courses as go into one band of each leaf. Where
// only the last tongue stands in the way, it is cut off.
func (f *fitter) fillBand(i int, fit *DoorFit, band *Band, length measure.Length, why *reason.Reason) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	c, t := f.board.Coverage, f.board.Tongue
	band.Count = int(band.Panel.Height.DivDown(c))
	top := measure.Length(band.Count) * c
	band.Slack = band.Panel.Height - top
	below := band.Panel.Load == kit.LoadBelow
	for k := range band.Count {
		no := fit.Boards + 1
		course := Course{No: no, Z: band.Z + measure.Length(k)*c, Height: c, Kind: "full"}
		for leaf := range fit.Leaves {
			label := fmt.Sprintf("%s/c%d", b.Name, no)
			if fit.Leaves > 1 {
				label = fmt.Sprintf("%s/c%d.%d", b.Name, no, leaf+1)
			}
			p := Piece{
				Label: label, Kind: Board, Item: Lumber, Run: b.Run, Bay: i, Course: no, Length: length, Height: c,
				X: fit.Door.Leaf.Stile, Z: course.Z, Cut: true, State: out.State, Below: below, Fasten: below && k == 0, Why: why,
			}
			if k == band.Count-1 && band.Slack < t {
				p.Notches = append(p.Notches, Notch{Edge: "top", Width: length, Depth: t, Why: "no room for its tongue under the rail"})
			}
			course.Pieces = append(course.Pieces, f.add(p))
		}
		out.Courses = append(out.Courses, course)
		fit.Boards++
		if below {
			fit.Below++
		} else {
			fit.Above++
		}
	}
}

// hang sets a sliding leaf between floor and track. With the running face at
// height R above the finished floor, a leaf of height H on stems s clears the
// floor by R − s − H and can rise by s − (stop below the running face).
func (f *fitter) hang(i int, fit *DoorFit) {
	b := &f.lay.Bays[i]
	r := &f.lay.Runs[b.Run]
	s, leaf := fit.Door.Slide, &fit.Door.Leaf
	fit.Lap = (leaf.Width - fit.Opening) / 2
	if fit.Lap < s.Overlap {
		f.find(finding.DoorLap, finding.Error, b.Name,
			fmt.Sprintf("the leaf, %s wide, laps each jamb of an opening of %s by only %s; at least %s is needed", f.show(leaf.Width), f.show(fit.Opening), f.show(fit.Lap), f.show(s.Overlap)), phrase.Of("way.door-posts-closer"), phrase.Of("way.wider-door"))
		f.say("found.laps-only", size("width", leaf.Width), size("opening", fit.Opening), size("lap", fit.Lap), size("least", s.Overlap))
	}
	rail := r.Datum + r.Zone + s.Rail
	fit.Fall = f.fall(i)
	spare := rail - leaf.Height // stem plus gap to the structure's highest floor
	// Stem plus gap where the floor at the doorway is highest, and lowest.
	near, far := spare+fit.Fall[0], spare+fit.Fall[1]
	// The leaf must stay under what lets a roller off the track, and hang below
	// the guide's lip: both are kept by a mark.
	mark := f.kit.Board.Mark
	lo := max(s.StemLeast, far-s.FloorTo, s.Stop)
	hi := min(s.StemMost, near-s.FloorFrom, s.Stop+s.Keep-mark)
	guide := far - s.Guide + mark
	fit.Stems = [2]measure.Length{lo, hi}
	switch {
	case lo > hi:
		f.cannotHang(i, fit, near, far)
		return
	case guide > hi:
		f.find(finding.DoorGuide, finding.Error, b.Name,
			fmt.Sprintf("with its stems out as far as they may be, the leaf hangs %s above the floor, not below the guide's lip at %s", f.show(far-hi), f.show(s.Guide)), phrase.Of("way.higher-guide"), phrase.Of("way.lower-track"))
		f.say("found.over-guide", size("height", far-hi), size("guide", s.Guide))
		return
	}
	lo = max(lo, guide)
	fit.Stems[0] = lo
	fit.Stem = (lo + (hi-lo)/2).Round(mark, measure.Nearest)
	if fit.Stem < lo || fit.Stem > hi {
		fit.Stem = hi
	}
	fit.Gap, fit.GapFrom, fit.GapTo = spare-fit.Stem, spare-hi, spare-lo
	fit.Rise = fit.Stem - s.Stop
	fit.Why = reason.Of(phrase.Of("why.gap-under", phrase.With("bay", phrase.Name(b.Name))), phrase.Length(fit.Gap), phrase.Of("rule.gap", phrase.With("least", phrase.Length(lo)), phrase.With("most", phrase.Length(hi))),
		f.kitSource("doors "+fit.Door.ID+".slide", s.Pos().Line),
		reason.Of(phrase.Of("why.running-face"), phrase.Length(rail), phrase.Of("rule.hang"), phrase.Phrase{}, r.WhyZone),
		fit.Why)
}

// fall is how much lower than the floor its datum counts from the floor at a
// doorway lies, at least and at most: by the readings at its two jambs, or, where
// a door post has none, at the posts of its run. Where nothing was read the floor
// counts as the highest, as it does for the datum marks.
func (f *fitter) fall(i int) [2]measure.Length {
	b := &f.lay.Bays[i]
	r := &f.lay.Runs[b.Run]
	if f.levels != nil {
		if u, ok := f.levels.Under[b.Name]; ok {
			top := f.governs(r)
			return [2]measure.Length{top - u[1], top - u[0]}
		}
	}
	var fall [2]measure.Length
	first := true
	at := func(post int) {
		h := f.governs(r) - f.floorUnder(post, r)
		if first {
			fall, first = [2]measure.Length{h, h}, false
		}
		fall[0], fall[1] = min(fall[0], h), max(fall[1], h)
	}
	for _, e := range b.Ends {
		if p := &f.lay.Posts[e.Post]; p.Kind == frame.Door {
			if _, read := f.floor[p.Name]; !read {
				at(r.From)
				at(r.To)
				continue
			}
		}
		at(e.Post)
	}
	return fall
}

// cannotHang says which two demands on the stems exclude each other. near and far
// are stem plus gap where the floor at the doorway is highest and lowest.
func (f *fitter) cannotHang(i int, fit *DoorFit, near, far measure.Length) {
	b := &f.lay.Bays[i]
	s := fit.Door.Slide
	switch {
	case near-s.FloorFrom < max(s.StemLeast, s.Stop):
		f.find(finding.DoorHeight, finding.Error, b.Name,
			fmt.Sprintf("with its stems screwed fully in the leaf clears the floor by only %s; at least %s is needed", f.show(near-max(s.StemLeast, s.Stop)), f.show(s.FloorFrom)), phrase.Of("way.lower-leaf"), phrase.Of("way.higher-track"), phrase.Of("way.higher-wall"))
		f.say("found.clears-only", size("gap", near-max(s.StemLeast, s.Stop)), size("least", s.FloorFrom))
	case far-s.FloorTo > s.StemMost:
		f.find(finding.DoorHeight, finding.Error, b.Name,
			fmt.Sprintf("with its stems fully out the leaf still hangs %s above the floor; at most %s keeps a hoof out", f.show(far-s.StemMost), f.show(s.FloorTo)), phrase.Of("way.higher-leaf"), phrase.Of("way.lower-track"), phrase.Of("way.door-sill"))
		f.say("found.hangs-over", size("gap", far-s.StemMost), size("most", s.FloorTo))
	case far-s.FloorTo > near-s.FloorFrom:
		f.find(finding.DoorHeight, finding.Error, b.Name,
			fmt.Sprintf("the floor under the leaf differs by %s; the gap under it may only lie between %s and %s", f.show(far-near), f.show(s.FloorFrom), f.show(s.FloorTo)), phrase.Of("way.level-doorway"), phrase.Of("way.door-sill"))
		f.say("found.floor-differs", size("by", far-near), size("least", s.FloorFrom), size("most", s.FloorTo))
	default:
		f.find(finding.DoorLift, finding.Error, b.Name,
			fmt.Sprintf("hung as low as the floor gap asks for, the leaf could be lifted %s and leave its track; the stop must keep it under %s", f.show(max(s.StemLeast, far-s.FloorTo)-s.Stop), f.show(s.Keep)), phrase.Of("way.lower-stop"), phrase.Of("way.higher-leaf"))
		f.say("found.lifts", size("lift", max(s.StemLeast, far-s.FloorTo)-s.Stop), size("most", s.Keep))
	}
}

// swing hangs one leaf, or two, on hinges.
func (f *fitter) swing(i int, fit *DoorFit) {
	b := &f.lay.Bays[i]
	h, n := fit.Door.Hinge, measure.Length(fit.Leaves)
	fit.Gap, fit.GapFrom, fit.GapTo = h.FloorGap, h.FloorGap, h.FloorGap
	fit.Latch = fit.Opening - n*fit.Door.Leaf.Width - n*h.HingeGap
	if fit.Latch < h.LatchGap || fit.Latch > h.LatchMost {
		f.find(finding.DoorGap, finding.Error, b.Name,
			fmt.Sprintf("in an opening of %s the leaf leaves %s at the latch; it must lie between %s and %s", f.show(fit.Opening), f.show(fit.Latch), f.show(h.LatchGap), f.show(h.LatchMost)), phrase.Of("way.move-door-post"), phrase.Of("way.door-to-size"))
		f.say("found.at-latch", size("opening", fit.Opening), size("gap", fit.Latch), size("least", h.LatchGap), size("most", h.LatchMost))
	}
	r := &f.lay.Runs[b.Run]
	if top := h.FloorGap + fit.Door.Leaf.Height; top > r.Datum+r.Zone {
		f.find(finding.DoorHeight, finding.Error, b.Name,
			fmt.Sprintf("the leaf reaches %s above the floor, past the tube at %s", f.show(top), f.show(r.Datum+r.Zone)), phrase.Of("way.lower-leaf"), phrase.Of("way.higher-wall"))
		f.say("found.past-tube", size("height", top), size("tube", r.Datum+r.Zone))
	}
}

// handle checks that a hand in a glove gets between handle and jamb when the
// door is closed.
func (f *fitter) handle(i int, fit *DoorFit) {
	b := &f.lay.Bays[i]
	h := fit.Door.Handle
	if h == nil {
		return
	}
	free := h.Setback - h.Slot/2 - fit.Lap
	if free < h.Finger {
		f.find(finding.HandleCovered, finding.Error, b.Name,
			fmt.Sprintf("closed, the handle's slot stands only %s clear of the jamb; a gloved hand needs %s", f.show(free), f.show(h.Finger)), phrase.Of("way.handle-in"), phrase.Of("way.wider-opening"))
		f.say("found.hand-room", size("room", free), size("least", h.Finger))
	}
}
