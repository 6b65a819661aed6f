package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// inSteel tells of something of the building that stands where a bay's steel must:
// in the tube over or under its boards, or in the channel or post at its end. What
// runs on past a bay's end is stated without a width.
func (f *fitter) inSteel(o *ObstructionFit, v *job.Obstruction) {
	if !o.enters() {
		return
	}
	b := &f.lay.Bays[o.Bay]
	r := &f.lay.Runs[b.Run]
	z := span{o.Z, o.Z + o.Height}
	clash := func(what, key string, arg phrase.Arg, choices ...phrase.Phrase) {
		f.find(finding.ObstructionMeets, finding.Error, b.Name, fmt.Sprintf("%s (%s) stands where %s does", o.Name(), f.where(o), what), choices...)
		f.say(key, o.thing(), f.place(o), arg)
	}
	move := phrase.Of("way.move-it")
	if t := f.kit.Tube(r.Assembly.Top); t != nil && z.meets(span{r.Zone, r.Zone + t.Depth}) > 0 {
		clash("the top tube of "+r.Name, "found.meets-top-tube", called("run", r.Name), move, phrase.Of("way.wall-height"))
	}
	if t := f.kit.Tube(r.Assembly.Bottom); t != nil && z.meets(span{-t.Depth, 0}) > 0 {
		clash("the bottom tube of "+r.Name, "found.meets-bottom-tube", called("run", r.Name), move, phrase.Of("way.higher-bottom"))
	}
	if v.Width == 0 || v.What == "brace" || v.What == "girt" {
		return // braces and girts are fixed to the posts they end at
	}
	for side, leg := range [2]span{{-measure.MaxLength, b.Ends[0].Leg}, {f.out.Bays[o.Bay].Clear - b.Ends[1].Leg, measure.MaxLength}} {
		if leg.meets(span{o.X, o.X + o.Width}) > 0 {
			post := f.lay.Posts[b.Ends[side].Post].Name
			clash("the steel at "+post, "found.meets-post", called("post", post), move, phrase.Of("way.move-post"))
		}
	}
}
