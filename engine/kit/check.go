package kit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

func at(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

// checker gathers what is wrong with a kit.
type checker struct {
	k *Kit
	r *document.Reporter
}

// check compiles every rule, resolves every reference and judges every size.
func (k *Kit) check(r *document.Reporter) {
	c := &checker{k: k, r: r}
	k.register(func(it Item, path string) {
		r.Add(it.at, path, it.ID,
			fmt.Sprintf("the id %q is given twice", it.ID), "give each component an id of its own")
	})
	c.board()
	c.components()
	c.doors()
	c.assemblies()
	c.uses()
	c.joints()
	c.labour()
	c.rest()
	c.masses()
	c.cycles()
}

// Facts that rules may name, by where the rule stands.
var (
	frameFacts = []string{"structure", "wall", "door", "clamped", "height"}
	partFacts  = []string{"structure", "wall", "fill", "door", "clamped", "courses", "clear", "height", "zone", "opening", "leaf", "tube", "post", "plate", "board"}
	jointFacts = []string{"structure", "wall", "fill", "door", "clamped", "courses", "bays", "panels", "clear", "height", "zone", "tube", "post", "plate", "web", "board"}
)

func (c *checker) rule(w document.Where, key, path string, rule *Rule, want want, known []string) {
	if !rule.Written() {
		return
	}
	if err := rule.compile(want, known); err != nil {
		c.r.Add(w.Of(key), path+"."+key, rule.text, err.Error(), "a rule is a small expression, such as clear - end_play or up(clear, L(\"24 in\"))")
	}
}

// positive refuses lengths of nothing or less.
func (c *checker) positive(w document.Where, path string, named map[string]measure.Length) {
	keys := make([]string, 0, len(named))
	for key := range named {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	for _, key := range keys {
		if l := named[key]; l <= 0 {
			c.r.Add(w.Of(key), path+"."+key, l.String(), key+" must be more than nothing", "state the size as measured on the part")
		} else if l > 100*measure.Metre {
			c.r.Add(w.Of(key), path+"."+key, l.String(), key+" is over 100 m", "check the unit")
		}
	}
}

func (c *checker) notNegative(w document.Where, path string, named map[string]measure.Length) {
	keys := make([]string, 0, len(named))
	for key := range named {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	for _, key := range keys {
		if l := named[key]; l < 0 || l > 100*measure.Metre {
			c.r.Add(w.Of(key), path+"."+key, l.String(), key+" must lie between nothing and 100 m", "check the sign and the unit")
		}
	}
}

// ref checks that an id names a component of the wanted class.
func (c *checker) ref(w document.Where, key, path, id string, required bool, classes ...Class) {
	if id == "" {
		if required {
			c.r.Add(w.Pos(), path, "", key+" is needed here", "name the component by its id")
		}
		return
	}
	it, ok := c.k.items[id]
	if ok && (len(classes) == 0 || slices.Contains(classes, it.Class)) {
		return
	}
	var ids []string
	for have, it := range c.k.items {
		if len(classes) == 0 || slices.Contains(classes, it.Class) {
			ids = append(ids, have)
		}
	}
	slices.Sort(ids)
	msg := fmt.Sprintf("there is no component %q", id)
	if ok {
		msg = fmt.Sprintf("%q is a %s, which does not belong here", id, it.Class)
	}
	c.r.Add(w.Of(key), path+"."+key, id, msg, didYouMean(id, ids))
}

func didYouMean(id string, ids []string) string {
	if near, ok := document.Nearest(id, ids); ok {
		return "did you mean " + near + "?"
	}
	if len(ids) == 0 {
		return "the kit states none of that kind"
	}
	return "one of: " + strings.Join(ids, ", ")
}

func (c *checker) with(path string, list []With) {
	for i := range list {
		w := &list[i]
		p := path + "." + at("with", i)
		c.ref(w.Where, "use", p, w.Use, true)
		c.rule(w.Where, "count", p, &w.Count, wantCount, partFacts)
		c.rule(w.Where, "when", p, &w.When, wantTruth, partFacts)
		c.rule(w.Where, "length", p, &w.Length, wantLength, partFacts)
		c.rule(w.Where, "grip", p, &w.Grip, wantLength, partFacts)
	}
}

func (c *checker) board() {
	b := &c.k.Board
	c.positive(b.Where, "board", map[string]measure.Length{"engage": b.Engage, "least_rip": b.LeastRip})
	c.notNegative(b.Where, "board", map[string]measure.Length{"end_play": b.EndPlay, "most_gap": b.MostGap, "mark": b.Mark, "least_stub": b.LeastStub})
	if b.Mark == 0 {
		b.Mark = measure.SixteenthInch
		if c.k.Units == measure.Metric {
			b.Mark = measure.Millimetre
		}
	}
	if !b.Length.Written() {
		b.Length.text = "clear - end_play"
	}
	c.rule(b.Where, "length", "board", &b.Length, wantLength, []string{"clear", "end_play"})
}

func (c *checker) components() {
	k := c.k
	for i := range k.Channels {
		x, p := &k.Channels[i], at("channels", i)
		c.positive(x.Where, p, map[string]measure.Length{"inside": x.Inside, "leg": x.Leg, "web": x.Web})
		c.rule(x.Where, "length", p, &x.Length, wantLength, []string{"height", "datum", "zone"})
		c.with(p, x.With)
		c.engages(x.Where, p, x.Leg)
	}
	for i := range k.Posts {
		x, p := &k.Posts[i], at("posts", i)
		c.positive(x.Where, p, map[string]measure.Length{"along": x.Along, "across": x.Across, "inside": x.Inside, "leg": x.Leg})
		c.notNegative(x.Where, p, map[string]measure.Length{"reach": x.Reach})
		c.rule(x.Where, "height", p, &x.Height, wantLength, []string{"height", "datum", "zone"})
		if x.Mass == 0 && x.Per == 0 {
			c.r.Add(x.Pos(), p, x.ID, "a post needs a mass or a mass per length", "add mass: 24 lb or per: 3 lb/ft")
		}
		c.with(p, x.With)
		c.engages(x.Where, p, x.Leg)
	}
	for i := range k.Tubes {
		x := &k.Tubes[i]
		c.positive(x.Where, at("tubes", i), map[string]measure.Length{"depth": x.Depth, "width": x.Width})
	}
	for i := range k.Brackets {
		x := &k.Brackets[i]
		c.positive(x.Where, at("brackets", i), map[string]measure.Length{"plate": x.Plate})
	}
	for i := range k.Clamps {
		x, p := &k.Clamps[i], at("clamps", i)
		c.notNegative(x.Where, p, map[string]measure.Length{"least": x.Least, "reserve": x.Reserve})
		if x.Most-x.Reserve <= x.Least {
			c.r.Add(x.Of("most"), p+".most", x.Most.String(), "the clamp has no travel: most less reserve is not over least", "state most as the most room it takes up and still presses")
		}
	}
	for i := range k.Grilles {
		c.grille(&k.Grilles[i], at("grilles", i))
	}
	for i := range k.Windows {
		x, p := &k.Windows[i], at("windows", i)
		c.positive(x.Where, p, map[string]measure.Length{"width": x.Width, "height": x.Height, "leg": x.Leg})
		c.with(p, x.With)
		c.engages(x.Where, p, x.Leg)
	}
	for i := range k.Feeders {
		x, p := &k.Feeders[i], at("feeders", i)
		c.positive(x.Where, p, map[string]measure.Length{"width": x.Width, "height": x.Height, "leg": x.Leg, "swing": x.Swing})
		c.with(p, x.With)
		c.engages(x.Where, p, x.Leg)
	}
}

// engages refuses a channel too shallow to hold a board that slides its whole
// end play to the other side.
func (c *checker) engages(w document.Where, path string, leg measure.Length) {
	b := c.k.Board
	if leg > 0 && leg < b.Engage+b.EndPlay {
		c.r.Add(w.Of("leg"), path+".leg", leg.String(),
			"a channel this shallow lets a board slide out of its least hold: leg is under engage + end_play",
			fmt.Sprintf("at least %s", (b.Engage+b.EndPlay).In(c.k.Units)))
	}
}

func (c *checker) grille(x *Grille, p string) {
	c.positive(x.Where, p, map[string]measure.Length{"height": x.Height})
	slices.Sort(x.Widths)
	for _, w := range x.Widths {
		if w <= 2*x.Trim || w > 100*measure.Metre {
			c.r.Add(x.Of("widths"), p+".widths", w.String(), "a grille this wide would vanish when trimmed, or the unit is wrong", "widths as made, end to end")
		}
	}
	c.notNegative(x.Where, p, map[string]measure.Length{"lower": x.Lower, "upper": x.Upper, "trim": x.Trim})
	if x.Rails == 0 {
		x.Rails = 2
	}
	if x.Height <= x.Lower+x.Upper {
		c.r.Add(x.Of("height"), p+".height", x.Height.String(), "the grille is no higher than what its two channels swallow", "height is overall, channels included")
	}
	switch {
	case x.Mesh == 0 && (x.Bar == 0 || x.Pitch == 0 || x.Margin == 0):
		c.r.Add(x.Pos(), p, x.ID, "a grille needs either mesh, or bar, pitch and margin", "state bar: 3/4\", pitch: 3\", margin: 2\"; or mesh: 2\"")
	case x.Mesh == 0 && x.Pitch <= x.Bar:
		c.r.Add(x.Of("pitch"), p+".pitch", x.Pitch.String(), "the bars touch: pitch is not over the bar's diameter", "pitch is centre to centre")
	case x.Mesh == 0 && x.Trim > x.Margin-x.Bar/2:
		c.r.Add(x.Of("trim"), p+".trim", x.Trim.String(), "that much trim would cut into the first bar", fmt.Sprintf("at most %s", (x.Margin-x.Bar/2).In(c.k.Units)))
	}
	c.with(p, x.With)
}

func (c *checker) rest() {
	k := c.k
	for i := range k.Bases {
		x, p := &k.Bases[i], at("bases", i)
		c.notNegative(x.Where, p, map[string]measure.Length{"diameter": x.Diameter, "depth": x.Depth, "size": x.Size, "seat": x.Seat})
		if x.Kind == Pier && (x.Diameter == 0 || x.Depth == 0) {
			c.r.Add(x.Pos(), p, x.ID, "a pier needs a diameter and a depth", "the local frost line and code govern the depth")
		}
		c.with(p, x.With)
	}
	for i := range k.Fasteners {
		x, p := &k.Fasteners[i], at("fasteners", i)
		c.positive(x.Where, p, map[string]measure.Length{"diameter": x.Diameter})
		c.notNegative(x.Where, p, map[string]measure.Length{"washer": x.Washer, "nut": x.Nut, "projection": x.Projection, "pilot": x.Pilot})
		if len(x.Lengths) == 0 {
			c.r.Add(x.Of("lengths"), p+".lengths", "", "a fastener needs at least one length", "list the lengths it is bought in")
		}
		slices.Sort(x.Lengths)
		for _, l := range x.Lengths {
			if l <= 0 {
				c.r.Add(x.Of("lengths"), p+".lengths", l.String(), "a fastener's length must be more than nothing", "")
			}
		}
	}
	for i := range k.Parts {
		x, p := &k.Parts[i], at("parts", i)
		if x.Yield < 0 || x.Yield > measure.CubicMetre {
			c.r.Add(x.Of("yield"), p+".yield", x.Yield.String(), "no bag makes that much concrete", "state it as the bag does, such as 0.6 ft3 or 12 litres")
		}
		c.with(p, x.With)
	}
	for i := range k.Treated {
		x := &k.Treated[i]
		c.rule(x.Where, "when", at("treated", i), &x.When, wantTruth, frameFacts)
	}
	kinds := []string{"bolt", "lag", "screw", "pin", "anchor", "board", "part"}
	for i := range k.Spares {
		x, p := &k.Spares[i], at("spares", i)
		if _, ok := k.items[x.For]; !ok && !slices.Contains(kinds, x.For) {
			c.r.Add(x.Of("for"), p+".for", x.For, fmt.Sprintf("%q is neither a component nor a kind", x.For), "an id of the kit, or one of: "+strings.Join(kinds, ", "))
		}
		c.rule(x.Where, "count", p, &x.Count, wantCount, []string{"quantity"})
	}
}

// Bounds on masses. They catch slips of the pen and keep sums inside 64 bits.
const (
	mostMass = 10 * measure.Tonne
	mostPer  = 1000 * measure.KilogramPerMetre
)

// masses refuses masses that no component has.
func (c *checker) masses() {
	for _, id := range c.ids() {
		it := c.k.items[id]
		if it.Mass < 0 || it.Mass > mostMass || it.Per < 0 || it.Per > mostPer {
			c.r.Add(it.at, it.ID, "",
				fmt.Sprintf("the mass of %s must lie between nothing and %s, or %s", it.ID, mostMass.In(c.k.Units), mostPer.In(c.k.Units)), "check the sign and the unit")
		}
	}
}

// ids lists the components in order.
func (c *checker) ids() []string {
	ids := make([]string, 0, len(c.k.items))
	for id := range c.k.items {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// mostWith is how many lines may come with one component, counted through
// everything that comes with what comes with it.
const mostWith = 500

// cycles refuses components that come with themselves, directly or round about,
// and those with which too much comes.
func (c *checker) cycles() {
	const (
		open = 1
		done = 2
	)
	state := map[string]int{}
	lines := map[string]int{} // that come with a component, bounded
	var visit func(id string)
	visit = func(id string) {
		state[id] = open
		for i := range c.k.items[id].With {
			w := &c.k.items[id].With[i]
			switch state[w.Use] {
			case open:
				c.r.Add(w.Of("use"), "with.use", w.Use, fmt.Sprintf("%s comes with %s, which comes with %s again", id, w.Use, id), "break the circle: a part cannot come with itself")
			case 0:
				visit(w.Use)
			}
			lines[id] = min(lines[id]+1+lines[w.Use], mostWith+1)
		}
		if lines[id] > mostWith {
			it := c.k.items[id]
			c.r.Add(it.at, "with", id,
				fmt.Sprintf("more than %d lines come with %s, counting what comes with them", mostWith, id), "fewer parts within parts")
		}
		state[id] = done
	}
	for _, id := range c.ids() {
		if state[id] == 0 {
			visit(id)
		}
	}
}
