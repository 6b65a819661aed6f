package kit

import (
	"fmt"
	"slices"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

func (c *checker) assemblies() {
	k := c.k
	seen := map[string]bool{}
	for i := range k.Assemblies {
		x, p := &k.Assemblies[i], at("assemblies", i)
		if seen[x.ID] {
			c.r.Add(x.Of("id"), p+".id", x.ID, fmt.Sprintf("the assembly %q is given twice", x.ID), "give each assembly an id of its own")
		}
		seen[x.ID] = true
		c.assemblyEnds(x, p)
		c.ref(x.Where, "door_post", p, x.DoorPost, false, ClassPost)
		c.ref(x.Where, "top", p, x.Top, x.Restraint == Clamped, ClassTube)
		c.ref(x.Where, "bottom", p, x.Bottom, false, ClassTube)
		c.ref(x.Where, "bracket", p, x.Bracket, false, ClassBracket)
		c.ref(x.Where, "clamp", p, x.Clamp, x.Restraint == Clamped, ClassClamp)
		if x.Restraint == Screwed && x.Clamp != "" {
			c.r.Add(x.Of("clamp"), p+".clamp", x.Clamp, "a screwed wall has no tube above it to clamp from", "leave clamp out, or make it clamped")
		}
		if x.Top != "" && !x.TopCut.Written() {
			c.r.Add(x.Pos(), p, x.ID, "top_length is needed where there is a top tube", "such as top_length: clear + L(\"1 in\")")
		}
		if x.Bottom != "" && !x.BottomCut.Written() {
			c.r.Add(x.Pos(), p, x.ID, "bottom_length is needed where there is a bottom tube", "such as bottom_length: clear + L(\"1 in\")")
		}
		c.rule(x.Where, "top_length", p, &x.TopCut, wantLength, []string{"clear", "centres", "door"})
		c.rule(x.Where, "bottom_length", p, &x.BottomCut, wantLength, []string{"clear", "centres", "door"})
		c.rule(x.Where, "datum", p, &x.Datum, wantLength, []string{"height"})
		c.rule(x.Where, "zone", p, &x.Zone, wantLength, []string{"height", "datum"})
		c.notNegative(x.Where, p, map[string]measure.Length{"front_face": x.Lap})
	}
}

func (c *checker) assemblyEnds(x *Assembly, p string) {
	switch x.Ends {
	case EndsChannel:
		c.ref(x.Where, "end", p, x.End, true, ClassChannel)
	case EndsMounted, EndsOwn:
		c.ref(x.Where, "end", p, x.End, true, ClassPost)
	case EndsShared:
		if x.End != "" {
			c.r.Add(x.Of("end"), p+".end", x.End, "a run between shared posts has no end of its own", "leave end out; the posts are named under uses")
		}
	}
	if x.Ends == EndsChannel && x.Restraint == Clamped {
		c.r.Add(x.Of("restraint"), p+".restraint", string(x.Restraint), "channels on timber carry no tube above to clamp from", "screwed")
	}
}

func (c *checker) assembly(w document.Where, key, path, id string, ends ...Ends) {
	if id == "" {
		return
	}
	a := c.k.Assembly(id)
	if a == nil {
		var ids []string
		for _, a := range c.k.Assemblies {
			ids = append(ids, a.ID)
		}
		c.r.Add(w.Of(key), path+"."+key, id, fmt.Sprintf("there is no assembly %q", id), didYouMean(id, ids))
		return
	}
	if len(ends) > 0 && !slices.Contains(ends, a.Ends) {
		c.r.Add(w.Of(key), path+"."+key, id, fmt.Sprintf("the assembly %q has %s ends, which do not suit here", id, a.Ends), fmt.Sprintf("one with ends: %v", ends))
	}
}

func (c *checker) post(w document.Where, key, path, id string, roles ...Role) {
	c.ref(w, key, path, id, true, ClassPost)
	if p := c.k.Post(id); p != nil && !slices.Contains(roles, p.Role) {
		c.r.Add(w.Of(key), path+"."+key, id, fmt.Sprintf("%q is a %s post, which does not suit here", id, p.Role), fmt.Sprintf("a post of role: %v", roles))
	}
}

func (c *checker) uses() {
	u := &c.k.Uses
	if u.Pen != nil {
		c.assembly(u.Pen.Where, "section", "uses.pen", u.Pen.Section, EndsOwn)
		c.assembly(u.Pen.Where, "gate", "uses.pen", u.Pen.Gate, EndsOwn)
		c.ref(u.Pen.Where, "door", "uses.pen", u.Pen.Door, true, ClassDoor)
		c.ref(u.Pen.Where, "base", "uses.pen", u.Pen.Base, false, ClassBase)
		c.positive(u.Pen.Where, "uses.pen", map[string]measure.Length{"height": u.Pen.Height})
		c.notNegative(u.Pen.Where, "uses.pen", map[string]measure.Length{"play": u.Pen.Play})
		if len(u.Pen.Sections) == 0 {
			c.r.Add(u.Pen.Of("sections"), "uses.pen.sections", "", "a pen needs at least one section length", "list the lengths the shop makes, pin to pin")
		}
		for _, l := range u.Pen.Sections {
			if l <= 0 {
				c.r.Add(u.Pen.Of("sections"), "uses.pen.sections", l.String(), "a section's length must be more than nothing", "")
			}
		}
	}
	rows := []struct {
		name string
		use  *RowUse
		ends []Ends
	}{
		{"uses.barn-row", u.BarnRow, []Ends{EndsChannel, EndsMounted}},
		{"uses.free-row", u.FreeRow, []Ends{EndsShared}},
		{"uses.free-barn", u.FreeBarn, []Ends{EndsShared}},
	}
	for _, row := range rows {
		if row.use == nil {
			continue
		}
		x := row.use
		c.assembly(x.Where, "front", row.name, x.Front, row.ends...)
		c.assembly(x.Where, "divider", row.name, x.Divider, row.ends...)
		c.assembly(x.Where, "side", row.name, x.Side, row.ends...)
		c.assembly(x.Where, "back", row.name, x.Back, row.ends...)
		c.ref(x.Where, "door", row.name, x.Door, true, ClassDoor)
		c.ref(x.Where, "base", row.name, x.Base, false, ClassBase)
		c.positive(x.Where, row.name, map[string]measure.Length{"height": x.Height})
		if f := c.k.Assembly(x.Front); f != nil && f.DoorPost == "" {
			c.r.Add(f.Pos(), row.name+".front", x.Front, "a front needs a door post", "add door_post to the assembly")
		}
		switch row.name {
		case "uses.free-row":
			c.post(x.Where, "corner", row.name, x.Corner, CornerPost, LinePost)
			c.post(x.Where, "line", row.name, x.Line, LinePost, CornerPost)
		case "uses.free-barn":
			c.post(x.Where, "corner", row.name, x.Corner, RoofPost)
			c.post(x.Where, "line", row.name, x.Line, RoofPost)
		}
	}
}

func (c *checker) joints() {
	for i := range c.k.Joints {
		x, p := &c.k.Joints[i], at("joints", i)
		c.ref(x.Where, "use", p, x.Use, true)
		c.rule(x.Where, "count", p, &x.Count, wantCount, jointFacts)
		c.rule(x.Where, "when", p, &x.When, wantTruth, jointFacts)
		c.rule(x.Where, "grip", p, &x.Grip, wantLength, jointFacts)
		c.rule(x.Where, "length", p, &x.Length, wantLength, jointFacts)
		if f := c.k.Fastener(x.Use); f != nil && len(f.Lengths) > 1 && !x.Grip.Written() && !x.Length.Written() {
			c.r.Add(x.Pos(), p, x.Use, fmt.Sprintf("%q is bought in %d lengths; say which", x.Use, len(f.Lengths)), "add grip (bolts) or length (lags, screws, pins)")
		}
	}
}

func (c *checker) doors() {
	k := c.k
	for i := range k.Doors {
		x, p := &k.Doors[i], at("doors", i)
		c.positive(x.Where, p, map[string]measure.Length{"opening": x.Opening})
		l := &x.Leaf
		c.positive(l.Where, p+".leaf", map[string]measure.Length{"width": l.Width, "height": l.Height, "depth": l.Depth, "stile": l.Stile, "leg": l.Leg})
		c.engages(l.Where, p+".leaf", l.Leg)
		var sum measure.Length
		for j := range l.Panels {
			pn, pp := &l.Panels[j], p+".leaf."+at("panels", j)
			if pn.Load == "" {
				pn.Load = LoadAbove
			}
			c.positive(pn.Where, pp, map[string]measure.Length{"height": pn.Height})
			c.ref(pn.Where, "use", pp, pn.Use, false, ClassPart)
			sum += pn.Height
		}
		if sum > l.Height {
			c.r.Add(l.Of("panels"), p+".leaf.panels", "", fmt.Sprintf("the panels add up to %s, more than the leaf's height of %s", sum.In(k.Units), l.Height.In(k.Units)), "heights of the bands, rails included, must fit the leaf")
		}
		c.with(p, x.With)
		c.hanging(x, p)
	}
}

func (c *checker) hanging(x *Door, p string) {
	if h := x.Handle; h != nil {
		c.positive(h.Where, p+".handle", map[string]measure.Length{"height": h.Height, "setback": h.Setback, "slot": h.Slot, "finger": h.Finger})
	}
	if x.Kind != Sliding {
		if x.Hinge == nil {
			c.r.Add(x.Pos(), p, x.ID, "a "+string(x.Kind)+" door needs hinge", "add hinge with its gaps")
			return
		}
		c.notNegative(x.Hinge.Where, p+".hinge", map[string]measure.Length{"hinge_gap": x.Hinge.HingeGap, "latch_gap": x.Hinge.LatchGap, "latch_most": x.Hinge.LatchMost, "floor_gap": x.Hinge.FloorGap})
		return
	}
	s := x.Slide
	if s == nil {
		c.r.Add(x.Pos(), p, x.ID, "a sliding door needs slide", "add slide with its track, rollers and gaps")
		return
	}
	c.ref(s.Where, "track", p+".slide", s.Track, true, ClassPart)
	c.rule(s.Where, "length", p+".slide", &s.Length, wantLength, []string{"opening", "leaf"})
	c.notNegative(s.Where, p+".slide", map[string]measure.Length{
		"overlap": s.Overlap, "rail": s.Rail, "stem_least": s.StemLeast, "stem_most": s.StemMost,
		"anti_lift": s.Stop, "keep": s.Keep, "floor_least": s.FloorFrom, "floor_most": s.FloorTo, "guide": s.Guide, "stop_width": s.StopWidth,
	})
	if s.StemMost <= s.StemLeast {
		c.r.Add(s.Of("stem_most"), p+".slide.stem_most", s.StemMost.String(), "the roller stems have no range", "stem_most is over stem_least")
	}
	if s.Stop > s.StemMost {
		c.r.Add(s.Of("anti_lift"), p+".slide.anti_lift", s.Stop.String(), "the anti-lift stop hangs lower than the leaf can: there is no room for the leaf", "at most stem_most")
	}
	if x.Leaf.Width < x.Opening+2*s.Overlap {
		c.r.Add(x.Leaf.Of("width"), p+".leaf.width", x.Leaf.Width.String(), "the leaf cannot lap both jambs of its own opening", fmt.Sprintf("at least %s", (x.Opening+2*s.Overlap).In(c.k.Units)))
	}
}
