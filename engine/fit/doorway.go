package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// guideReach is how far a floor guide may stand to either side of its jamb (common
// practice, no published source).
const guideReach = 3 * measure.Inch

// inDoors tells of doors whose leaves, tracks or floor guides meet something of
// the building.
func (f *fitter) inDoors() {
	if len(f.out.Obstructions) == 0 {
		return
	}
	for i := range f.lay.Bays {
		b := &f.lay.Bays[i]
		if !b.IsDoor() {
			continue
		}
		for k := range f.out.Obstructions {
			o := &f.out.Obstructions[k]
			switch {
			case b.Door.Kind == kit.Sliding:
				f.inSliding(i, o)
			case o.Bay == i:
				f.inSwing(i, o)
			}
		}
	}
}

// inSliding checks a sliding leaf on its way from closed to parked, its track and
// its floor guide. It hangs before the front of the wall: what stands behind is
// not in its way. Heights run from the finished floor.
func (f *fitter) inSliding(i int, o *ObstructionFit) {
	b, d := &f.lay.Bays[i], f.out.Bays[i].Door
	other := &f.lay.Bays[o.Bay]
	pen := f.lay.Structures[b.Structure].Kind == frame.Pen
	if d.Track == nil || other.Wall != b.Wall || pen && other.Run != b.Run || o.Face == job.WallBackFace && !o.Through {
		return
	}
	t, r := d.Track, &f.lay.Runs[b.Run]
	x := span{f.at(o.Bay) + o.X, f.at(o.Bay) + o.X + o.Width}
	z := span{o.Z + f.lay.Runs[other.Run].Datum, o.Z + o.Height + f.lay.Runs[other.Run].Datum}
	way := span{min(t.Closed[0], t.Parked[0]), max(t.Closed[1], t.Parked[1])}
	top := d.Gap + d.Door.Leaf.Height
	jamb := f.at(i)
	if t.Hand == job.Right {
		jamb += f.out.Bays[i].Clear
	}
	switch {
	case x.meets(way) > 0 && z.meets(span{d.Gap, top}) > 0:
		what, key := "on its way", "found.way-of-leaf"
		if x.meets(span{t.Closed[0], t.Closed[1]}) > 0 {
			what, key = "where it stands closed", "found.way-of-closed-leaf"
		} else if x.meets(span{t.Parked[0], t.Parked[1]}) > 0 {
			what, key = "where it parks", "found.way-of-parked-leaf"
		}
		f.meetsDoor(i, o, "the leaf, "+what, key, phrase.Of("way.slide-other", phrase.With("key", phrase.Name("slides"))), phrase.Of("way.move-doorway"), phrase.Of("way.move-it"))
	case x.meets(span{t.X[0], t.X[1]}) > 0 && z.meets(span{top, r.Datum + r.Zone + d.Door.Slide.Rail}) > 0:
		f.meetsDoor(i, o, "the track", "found.way-of-track", phrase.Of("way.track-lower-wall"), phrase.Of("way.slide-other", phrase.With("key", phrase.Name("slides"))), phrase.Of("way.move-it"))
	case x.meets(span{jamb - guideReach, jamb + guideReach}) > 0 && z.meets(span{0, d.Door.Slide.Guide}) > 0:
		f.meetsDoor(i, o, "the floor guide", "found.way-of-guide", phrase.Of("way.end-short"), phrase.Of("way.guide-on-jamb"))
	}
}

// inSwing checks a leaf in its doorway.
func (f *fitter) inSwing(i int, o *ObstructionFit) {
	b, d := &f.lay.Bays[i], f.out.Bays[i].Door
	datum := f.lay.Runs[b.Run].Datum
	if o.meets(0, d.Opening, d.Gap-datum, d.Door.Leaf.Height) {
		f.meetsDoor(i, o, "the leaf", "found.way-of-leaf", phrase.Of("way.smaller-door"), phrase.Of("way.move-doorway"), phrase.Of("way.move-it"))
	}
}

func (f *fitter) meetsDoor(i int, o *ObstructionFit, what, key string, choices ...phrase.Phrase) {
	at := ""
	if o.Bay != i {
		at = " in " + f.lay.Bays[o.Bay].Name
	}
	f.find(finding.ObstructionMeets, finding.Error, f.lay.Bays[i].Name, fmt.Sprintf("%s%s (%s) stands in the way of %s", o.Name(), at, f.where(o), what), choices...)
	f.say(key, o.thing(), called("bay", f.lay.Bays[o.Bay].Name), f.place(o))
}
