package setout

import (
	"fmt"
	"math/big"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// ground works out the site under a structure, where the ground was levelled at
// every post that is still to be set.
func (m *maker) ground(s int, o *Structure) {
	var missing []string
	for _, p := range m.posts[s] {
		if _, ok := m.field.Ground[m.name(p)]; !ok {
			missing = append(missing, m.name(p))
		}
	}
	switch {
	case len(missing) == len(m.posts[s]):
		return
	case len(missing) > 0:
		m.find(finding.GroundMissing, finding.Warning, o.Name,
			fmt.Sprintf("the ground is levelled at %d of %d posts; heights follow once the others are: %s", len(m.posts[s])-len(missing), len(m.posts[s]), few(missing)), "",
			phrase.Of("way.level-missing"))
		m.say("found.ground-missing", count("read", len(m.posts[s])-len(missing)), count("all", len(m.posts[s])))
		return
	}
	site := &Site{Bench: m.field.Bench}
	o.Site = site
	m.extremes(site, s)
	cells := m.cells(s, o)
	m.levels(site, s, cells)
	m.steps(site, s, o)
	m.tellSite(site, o)
}

// extremes are the highest and lowest ground at a post.
func (m *maker) extremes(site *Site, s int) {
	for i, p := range m.posts[s] {
		name := m.name(p)
		h := m.groundAt(name)
		if i == 0 || h.Value > site.High.Value {
			site.High, site.HighAt = h, name
		}
		if i == 0 || h.Value < site.Low.Value {
			site.Low, site.LowAt = h, name
		}
	}
	site.Fall = m.of(site.High.Value-site.Low.Value, phrase.Of("why.fall"), phrase.Of("rule.high-low"), phrase.Phrase{}, site.High.Why, site.Low.Why)
}

// corner is a post with the ground there; ok is false where that was not read.
func (m *maker) corner(post int) (corner, bool) {
	p := &m.layout.Posts[post]
	h, ok := m.field.Ground[p.Name]
	return corner{p.Name, p.At, heightOf(h.Above)}, ok
}

// cells are the parts of a structure's plan: a pen's sectors from its middle,
// rooms, and the aisle from post to post.
func (m *maker) cells(s int, o *Structure) []cell {
	if o.Kind == frame.Pen {
		return m.sectors(s, o)
	}
	var out []cell
	for _, r := range m.rooms[s] {
		room := &m.layout.Rooms[r]
		if c, ok := m.cell(Part{Kind: PartRoom, Name: room.Name}, room.Corners); ok {
			out = append(out, c)
		}
	}
	if o.Kind == frame.FreeForm {
		return out
	}
	lines := m.postLines(s)
	if len(lines) < 4 {
		return out
	}
	north, south := lines[1], lines[2]
	for i := 1; i < min(len(north), len(south)); i++ {
		if c, ok := m.cell(Part{Kind: PartAisle, No: i}, []int{south[i-1], south[i], north[i], north[i-1]}); ok {
			out = append(out, c)
		}
	}
	return out
}

func (m *maker) cell(part Part, posts []int) (cell, bool) {
	c := cell{part: part}
	for _, p := range posts {
		k, ok := m.corner(p)
		if !ok {
			return c, false
		}
		c.corners = append(c.corners, k)
	}
	return c, len(c.corners) >= 3
}

// sectors are a pen's triangles from its middle to each section. Where the
// middle was not read, it is taken at the piers' mean.
func (m *maker) sectors(s int, o *Structure) []cell {
	posts := m.posts[s]
	name := o.Name + CentreSuffix
	mid := corner{name: name, h: new(big.Rat)}
	if h, ok := m.field.Ground[name]; ok {
		mid.h, o.Site.Read = heightOf(h.Above), true
		o.Site.Centre = m.groundAt(name)
	} else {
		for _, p := range posts {
			mid.h.Add(mid.h, heightOf(m.field.Ground[m.name(p)].Above))
		}
		mid.h.Quo(mid.h, ratio(int64(len(posts))))
		o.Site.Centre = m.of(lengthOf(mid.h), phrase.Of("why.ground-above", called("post", name), m.bench()), phrase.Of("rule.mean-piers"), phrase.Phrase{})
	}
	out := make([]cell, 0, len(posts))
	for i, p := range posts {
		a, _ := m.corner(p)
		b, _ := m.corner(posts[(i+1)%len(posts)])
		out = append(out, cell{Part{Kind: PartSection, No: i + 1}, []corner{mid, a, b}})
	}
	return out
}

// levels makes the whole site level at the mean height, and at the highest post.
func (m *maker) levels(site *Site, s int, cells []cell) {
	if len(cells) == 0 {
		return
	}
	at := m.tape.Round(lengthOf(mean(cells)), measure.Nearest)
	alike := m.of(at, phrase.Of("why.level-alike"), phrase.Of("rule.mean"), phrase.Phrase{})
	site.Levels = append(site.Levels,
		m.level(LevelAlike, alike, s, cells),
		m.level(LevelFill, Number{site.High.Value, reason.Of(phrase.Of("why.level-highest"), m.near(site.High.Value), phrase.Of("rule.highest-ground"), phrase.Phrase{}, site.High.Why)}, s, cells))
}

func (m *maker) level(kind LevelKind, at Number, s int, cells []cell) Level {
	l := Level{Kind: kind, At: at}
	whats := [2]string{"why.cut-alike", "why.fill-alike"}
	if kind == LevelFill {
		whats = [2]string{"why.cut-highest", "why.fill-highest"}
	}
	all := newSums()
	for _, c := range cells {
		e := c.earth(heightOf(at.Value))
		all.add(e)
		p := Prism{Part: c.part, Shape: c.shape(), Area: areaOf(e.area), Cut: volume(e.cut), Fill: volume(e.fill)}
		for _, k := range c.corners {
			p.Corners = append(p.Corners, k.name)
		}
		p.Why = reason.Of(phrase.Of("why.earth", phrase.With("part", c.part.Phrase())), phrase.Of("amount.cut-fill", called("cut", m.showEarth(p.Cut)), called("fill", m.showEarth(p.Fill))), phrase.Of("rule.prisms"), phrase.Of("source.geometry"), at.Why,
			reason.Given(phrase.Of("why.area"), phrase.Name(p.Area.In(m.job.Units)), phrase.Of("source.layout")))
		l.Prisms = append(l.Prisms, p)
	}
	cut, fill := volume(all.cut), volume(all.fill)
	l.Cut = Bulk{cut, reason.Of(phrase.Of(whats[0]), phrase.Name(m.showEarth(cut)), phrase.Of("rule.sum-cut"), phrase.Phrase{}, at.Why)}
	l.Fill = Bulk{fill, reason.Of(phrase.Of(whats[1]), phrase.Name(m.showEarth(fill)), phrase.Of("rule.sum-fill"), phrase.Phrase{}, at.Why)}
	for _, p := range m.posts[s] {
		h := m.groundAt(m.name(p))
		l.Stakes = append(l.Stakes, Depth{m.name(p), m.of(h.Value-at.Value, phrase.Of("why.dig-at", phrase.With("post", phrase.Name(m.name(p)))), phrase.Of("rule.dig"), phrase.Phrase{}, h.Why, at.Why)})
	}
	return l
}

// steps makes each bay level by itself, and finds the greatest step where bays
// meet at a post.
func (m *maker) steps(site *Site, s int, o *Structure) {
	type span struct{ low, high measure.Length }
	at := map[int]*span{} // levels that meet at a post
	fill := new(big.Rat)
	bay := func(part Part, posts []int, c *cell) {
		name := phrase.With("part", part.Phrase())
		high, low := measure.Length(0), measure.Length(0)
		highest := ""
		for i, p := range posts {
			h := m.field.Ground[m.name(p)].Above
			if i == 0 || h > high {
				high, highest = h, m.name(p)
			}
			if i == 0 || h < low {
				low = h
			}
		}
		step := Step{Part: part, At: m.of(high, phrase.Of("why.level-of", name), phrase.Of("rule.highest-own", phrase.With("post", phrase.Name(highest))), phrase.Phrase{})}
		step.Gap = m.of(high-low, phrase.Of("why.under", name), phrase.Of("rule.level-less"), phrase.Phrase{}, step.At.Why)
		if c != nil {
			e := c.earth(heightOf(high))
			fill.Add(fill, e.fill)
			step.Fill = volume(e.fill)
		}
		site.Stepped.Bays = append(site.Stepped.Bays, step)
		for _, p := range posts {
			if v := at[p]; v == nil {
				at[p] = &span{high, high}
			} else {
				v.low, v.high = min(v.low, high), max(v.high, high)
			}
		}
	}
	if o.Kind == frame.Pen {
		posts := m.posts[s]
		for i, p := range posts {
			bay(Part{Kind: PartSection, No: i + 1}, []int{p, posts[(i+1)%len(posts)]}, nil)
		}
	}
	for _, r := range m.rooms[s] {
		room := &m.layout.Rooms[r]
		part := Part{Kind: PartRoom, Name: room.Name}
		if c, ok := m.cell(part, room.Corners); ok {
			bay(part, room.Corners, &c)
		}
	}
	var most measure.Length
	for _, p := range m.posts[s] {
		if v := at[p]; v != nil && v.high-v.low > most {
			most, site.Stepped.At = v.high-v.low, m.name(p)
		}
	}
	site.Stepped.Most = m.of(most, phrase.Of("why.greatest-step"), phrase.Of("rule.levels-meet"), phrase.Phrase{}, site.Fall.Why)
	site.Stepped.Fill = Bulk{volume(fill), reason.Of(phrase.Of("why.fill-under-bays"), phrase.Name(m.showEarth(volume(fill))), phrase.Of("rule.sum-own"), phrase.Phrase{})}
}

// asLevel is a fall that a rod hardly tells from level: twice two readings of
// 1/16 in each (common practice, no published source).
const asLevel = measure.Inch / 4

// tellSite says what the fall of the ground means.
func (m *maker) tellSite(site *Site, o *Structure) {
	if site.Fall.Value <= asLevel {
		return
	}
	msg := fmt.Sprintf("the ground falls %s from %s to %s.", m.show(site.Fall.Value), site.HighAt, site.LowAt)
	for i := range site.Levels {
		l := &site.Levels[i]
		msg += fmt.Sprintf(" Level at %s above %s: cut %s, fill %s.", m.show(l.At.Value), site.Bench, m.showEarth(l.Cut.Value), m.showEarth(l.Fill.Value))
	}
	choices := []phrase.Phrase{phrase.Of("way.level-site"), phrase.Of("way.bases-level")}
	if len(site.Stepped.Bays) > 1 {
		msg += fmt.Sprintf(" In steps: the greatest is %s", m.show(site.Stepped.Most.Value))
		if site.Stepped.At != "" {
			msg += ", at " + site.Stepped.At
		}
		msg += "."
		choices = append(choices, phrase.Of("way.step-bays"))
	}
	m.find(finding.GroundFalls, finding.Note, o.Name, msg, "", choices...)
	m.say("found.ground-falls", m.size("by", site.Fall.Value), called("high", site.HighAt), called("low", site.LowAt))
	if site.Stepped.At != "" {
		m.say("found.ground-steps", m.size("by", site.Fall.Value), called("high", site.HighAt), called("low", site.LowAt), m.size("step", site.Stepped.Most.Value), called("at", site.Stepped.At))
	}
}

func (m *maker) showEarth(v measure.Volume) string { return ShowEarth(v, m.job.Units) }

// ShowEarth writes a volume of earth: cubic yards to a tenth, or cubic metres to
// a hundredth; rounded up, since it is dug and carted.
func ShowEarth(v measure.Volume, sys measure.System) string {
	if sys == measure.Metric {
		n, _ := measure.MulDiv(int64(v), 100, int64(measure.CubicMetre), measure.Up)
		return fmt.Sprintf("%d.%02d m³", n/100, n%100)
	}
	n, _ := measure.MulDiv(int64(v), 10, int64(measure.CubicYard), measure.Up)
	return fmt.Sprintf("%d.%d yd³", n/10, n%10)
}
