package fit

import (
	"fmt"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// ObstructionFit is something of the building where it crosses a bay, or stands
// close before it.
type ObstructionFit struct {
	Bay     int
	What    job.ObstructionKind
	X       measure.Length // from the bay's left web (a doorway: left jamb) to its left side
	Width   measure.Length
	Z       measure.Length // its underside above the datum
	Height  measure.Length
	Face    job.WallFace   // the face it stands in or against; empty: it goes right through
	Into    measure.Length // how far it stands into the boards from that face
	Through bool           // boards are cut right through for it
	Cut     []int          // pieces cut for it, into Result.Pieces
	Why     *reason.Reason
}

// cutPlay is the room left all round an obstruction where boards are cut for it:
// a saw's width (common practice, no published source).
const cutPlay = measure.Inch / 8

// Name is what the obstruction is called in sentences.
func (o *ObstructionFit) Name() string {
	switch o.What {
	case "other":
		return "something in the way"
	case "track":
		return "a door track"
	}
	return "a " + string(o.What)
}

// enters says whether it stands in the wall's own plane.
func (o *ObstructionFit) enters() bool { return o.Through || o.Into > 0 }

// meets says whether it overlaps a rectangle of its bay.
func (o *ObstructionFit) meets(x, width, z, height measure.Length) bool {
	return span{o.X, o.X + o.Width}.meets(span{x, x + width}) > 0 && span{o.Z, o.Z + o.Height}.meets(span{z, z + height}) > 0
}

// obstructions places what crosses a bay, tells what it meets there, and cuts the
// bay's boards for it.
func (f *fitter) obstructions(i int) {
	b := &f.lay.Bays[i]
	for k := range f.job.Obstructions {
		if v := &f.job.Obstructions[k]; v.Bay == b.Name {
			o := f.placed(i, v)
			if !b.IsDoor() && !b.IsOpen() {
				f.inBay(&o)
				f.inSteel(&o, v)
				f.cutFor(&o, v.Holds)
			}
			f.out.Obstructions = append(f.out.Obstructions, o)
		}
	}
}

// placed is where an obstruction stands in its bay.
func (f *fitter) placed(i int, v *job.Obstruction) ObstructionFit {
	out := &f.out.Bays[i]
	o := ObstructionFit{Bay: i, What: v.What, X: v.Left, Width: v.Width, Height: v.Height, Face: v.Face}
	if o.Width == 0 {
		o.Width = max(out.Widest-o.X, 0)
	}
	if v.Into != nil {
		o.Into = *v.Into
	}
	// Of a board of which more than half the thickness is gone, nothing holds
	// (common practice, no published source).
	o.Through = v.Face == "" || o.Into > f.board.Thickness/2
	from := reason.Given(phrase.Of("why.thing-in", o.kind(), called("bay", v.Bay)), phrase.Of("amount.high", size("height", v.Height)), v.Cite())
	if v.AboveDatum != nil {
		o.Z = *v.AboveDatum
		o.Why = reason.Of(phrase.Of("why.underside", o.thing()), phrase.Length(o.Z), phrase.Of("rule.as-read"), phrase.Phrase{}, from)
		return o
	}
	under := f.datumAbove(i, o.X+o.Width/2)
	o.Z = *v.AboveFloor - under
	o.Why = reason.Of(phrase.Of("why.underside", o.thing()), phrase.Length(o.Z.Round(f.kit.Board.Mark, measure.Nearest)), phrase.Of("rule.above-floor", phrase.With("height", phrase.Length(*v.AboveFloor)), phrase.With("under", phrase.Length(under.Round(f.kit.Board.Mark, measure.Nearest)))), phrase.Phrase{}, from)
	return o
}

// datumAbove is how high the datum stands above the finished floor at a place of a
// bay, straight between the two posts' marks.
func (f *fitter) datumAbove(i int, x measure.Length) measure.Length {
	b := &f.lay.Bays[i]
	r := &f.lay.Runs[b.Run]
	at := func(post int) measure.Length {
		return r.Datum + f.governs(r) - f.floorUnder(post, r)
	}
	left, right := at(r.From), at(r.To)
	x = min(max(r.Ends[0].Reach+b.Start+x, 0), r.Centres)
	rise, _ := measure.MulDiv(int64(right-left), int64(x), int64(r.Centres), measure.Nearest)
	return left + measure.Length(rise)
}

// inBay tells of a grille, window or feeder that stands where the obstruction does.
func (f *fitter) inBay(o *ObstructionFit) {
	b, out := &f.lay.Bays[o.Bay], &f.out.Bays[o.Bay]
	clash := func(what, key string, choices ...phrase.Phrase) {
		f.find(finding.ObstructionMeets, finding.Error, b.Name, fmt.Sprintf("%s (%s) stands where %s does", o.Name(), f.where(o), what), choices...)
		f.say(key, o.thing(), f.place(o))
	}
	if g := out.Grille; g != nil && o.enters() && o.meets(g.X, g.Width, g.Z, g.Grille.Height) {
		clash("the grille", "found.meets-grille", phrase.Of("way.boards-cut-out", phrase.With("key", phrase.Name("bays: …: {fill: boards}"))), phrase.Of("way.grille-clear", phrase.With("key", phrase.Name("below"))), phrase.Of("way.move-it"))
	}
	if w := out.Window; w != nil && o.enters() && o.meets(w.X, w.Window.Width, w.Sill, w.Window.Height) {
		clash("the window", "found.meets-window", phrase.Of("way.window-place", phrase.With("key", phrase.Name("from, sill"))), phrase.Of("way.move-it"))
	}
	if fd := out.Feeder; fd != nil && (o.enters() || o.Face == job.WallFrontFace) && o.meets(fd.X, fd.Feeder.Width, fd.Z, fd.Feeder.Height) {
		clash("the feeder stands or swings out", "found.meets-feeder", phrase.Of("way.feeder-hand", phrase.With("key", phrase.Name("hand"))), phrase.Of("way.move-it"))
	}
}

// where says where an obstruction stands.
func (f *fitter) where(o *ObstructionFit) string {
	return fmt.Sprintf("%s to %s from the left, %s to %s above the datum", f.show(o.X), f.about(o.X+o.Width), f.about(o.Z), f.about(o.Z+o.Height))
}

// cutFor cuts the boards of a bay for an obstruction and tells what was cut.
func (f *fitter) cutFor(o *ObstructionFit, holds bool) {
	b, out := &f.lay.Bays[o.Bay], &f.out.Bays[o.Bay]
	if !o.enters() || len(out.Courses) == 0 {
		return
	}
	t := &told{}
	for k := range out.Courses {
		c := &out.Courses[k]
		pieces := c.Pieces
		c.Pieces = nil
		notched, split := len(t.notched), len(t.split)
		for _, p := range pieces {
			c.Pieces = append(c.Pieces, f.cutPiece(o, p, t)...)
		}
		if notched == len(t.notched) && split == len(t.split) && c.Z+c.Height <= o.Z-cutPlay {
			t.under = k + 1
		}
		if split < len(t.split) && c.whole() {
			c.Kind = "split"
		}
	}
	f.tellCut(o, t, b.Name, holds)
}

// told gathers what is cut for one obstruction, by label.
type told struct {
	notched, split, lost, loose []string
	under                       int // courses that lie wholly under it
}

func (f *fitter) tellCut(o *ObstructionFit, t *told, bay string, holds bool) {
	if len(t.notched)+len(t.split)+len(t.lost) == 0 {
		f.find(finding.Obstructed, finding.Note, bay, fmt.Sprintf("%s (%s) stands clear of its boards", o.Name(), f.where(o)))
		f.say("found.stands-clear", o.thing(), f.place(o))
		return
	}
	if len(t.lost) > 0 {
		f.find(finding.Obstructed, finding.Error, bay, fmt.Sprintf("%s (%s) leaves nothing that holds of %s", o.Name(), f.where(o), names(t.lost)), phrase.Of("way.move-it"), phrase.Of("way.start-above"), phrase.Of("way.leave-bay-open"))
		f.say("found.leaves-nothing", o.thing(), f.place(o), pieces(t.lost))
		return
	}
	var parts []string
	var cut phrase.List
	if len(t.notched) > 0 {
		cut = append(cut, phrase.Of("found.with-cut-out", pieces(t.notched)))
		parts = append(parts, names(t.notched)+" with a cut-out")
	}
	if len(t.split) > 0 {
		cut = append(cut, phrase.Of("found.cut-in-two", pieces(t.split)))
		parts = append(parts, names(t.split)+" cut in two")
	}
	message := fmt.Sprintf("%s (%s) crosses its boards: %s", o.Name(), f.where(o), strings.Join(parts, "; "))
	var choices []phrase.Phrase
	if t.under > 0 {
		message += fmt.Sprintf("; the lowest %s cannot be dropped in past it", courses(t.under))
		choices = []phrase.Phrase{phrase.Of("way.set-before")}
	}
	f.find(finding.Obstructed, finding.Note, bay, message, choices...)
	how := phrase.With("how", cut)
	if f.say("found.crosses", o.thing(), f.place(o), how); t.under > 0 {
		f.say("found.crosses-over", o.thing(), f.place(o), how, count("n", t.under))
	}
	if len(t.loose) > 0 && !holds {
		f.find(finding.EndsLoose, finding.Warning, bay, fmt.Sprintf("beside %s nothing holds the free ends of %s", o.Name(), names(t.loose)),
			phrase.Of("way.fix-ends", phrase.With("key", phrase.Name("holds: true"))), phrase.Of("way.cleats", phrase.With("key", phrase.Name("holds: true"))))
		f.say("found.ends-loose", o.thing(), pieces(t.loose))
	}
}
