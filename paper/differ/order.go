package differ

import (
	"slices"

	"stallwright/paper/packet"
)

// lineKey is what makes two lines of two orders the same line.
type lineKey struct {
	item    string
	length  int64
	treated bool
}

func keyOf(l *packet.TakeoffDoc) lineKey { return lineKey{l.Item, l.LengthNM, l.Treated} }

// order compares the take-offs, line by line.
func (c *comparer) order() {
	old := map[lineKey]*packet.TakeoffDoc{}
	for i := range c.old.Takeoff {
		old[keyOf(&c.old.Takeoff[i])] = &c.old.Takeoff[i]
	}
	seen := map[lineKey]bool{}
	none := &packet.TakeoffDoc{Reason: -1}
	for i := range c.new.Takeoff {
		n := &c.new.Takeoff[i]
		o := old[keyOf(n)]
		seen[keyOf(n)] = true
		if o == nil {
			o = none
		}
		c.line(o, n, n)
	}
	for i := range c.old.Takeoff {
		if o := &c.old.Takeoff[i]; !seen[keyOf(o)] {
			c.line(o, none, o)
		}
	}
}

// line compares one line; is is the one that is there.
func (c *comparer) line(o, n, is *packet.TakeoffDoc) {
	v := Line{
		Item: is.Item, Name: is.Name, LengthNM: is.LengthNM, Treated: is.Treated,
		OldOrder: o.Order, NewOrder: n.Order, OldCount: o.Count, NewCount: n.Count, OldMassUG: o.MassUG, NewMassUG: n.MassUG,
	}
	c.places(&v, o, n)
	if o.Item != "" && n.Item != "" {
		if o.Name != n.Name {
			v.Values = append(v.Values, Value{Field: "name", What: "name", Old: o.Name, New: n.Name})
		}
		for _, w := range c.values(o, n) {
			switch w.Field {
			case "count", "order", "mass", "places":
			default:
				v.Values = append(v.Values, w)
			}
		}
	}
	if o.Order == n.Order && o.Count == n.Count && o.MassUG == n.MassUG && len(v.Values) == 0 && len(v.Places) == 0 {
		return
	}
	var causes []int
	for i := range v.Places {
		causes = append(causes, c.at[v.Places[i].Name]...)
	}
	slices.Sort(causes)
	v.Causes = slices.Compact(causes)
	if len(v.Causes) == 0 {
		// A line's reason goes on with that of the first place that takes it, so
		// it tells of a change only where no place did.
		v.Causes = c.between(o.Reason, n.Reason)
	}
	c.d.Order = append(c.d.Order, v)
}

// places tells where another number goes now.
func (c *comparer) places(v *Line, o, n *packet.TakeoffDoc) {
	was, is := map[string]int{}, map[string]int{}
	var names []string
	note := func(name string) {
		if was[name] == 0 && is[name] == 0 {
			names = append(names, name)
		}
	}
	for _, p := range n.Places {
		note(p.Name)
		is[p.Name] += p.Count
	}
	for _, p := range o.Places {
		name := c.m.names.now(p.Name)
		note(name)
		was[name] += p.Count
	}
	for _, name := range names {
		if was[name] != is[name] {
			v.Places = append(v.Places, Place{name, was[name], is[name]})
		}
	}
}

// findings compares what was found; the same said of a renamed place is the same.
func (c *comparer) findings() {
	type key struct{ code, severity, place, message, choices, source string }
	of := func(f *packet.FindingDoc, now func(string) string) key {
		k := key{code: f.Code, severity: f.Severity, place: now(f.Place), message: now(said(f.Message)), source: now(unplaced(f.Source))}
		for _, s := range f.Choices {
			k.choices += now(said(s)) + "\n"
		}
		return k
	}
	left := map[key]int{}
	for i := range c.old.Findings {
		left[of(&c.old.Findings[i], c.findingNow)]++
	}
	for i := range c.new.Findings {
		f := &c.new.Findings[i]
		if k := of(f, func(s string) string { return s }); left[k] > 0 {
			left[k]--
			continue
		}
		c.d.Findings = append(c.d.Findings, Finding{"new", f.Code, f.Severity, f.Place, f.Message, f.Choices, f.Source})
	}
	for i := range c.old.Findings {
		f := &c.old.Findings[i]
		if k := of(f, c.findingNow); left[k] > 0 {
			left[k]--
			c.d.Findings = append(c.d.Findings, Finding{"gone", f.Code, f.Severity, c.findingNow(f.Place), c.findingNow(f.Message), mapped(f.Choices, c.findingNow), c.findingNow(f.Source)})
		}
	}
}

func (c *comparer) findingNow(s string) string {
	if t, ok := c.m.names.to[s]; ok {
		return t
	}
	return c.m.names.text(s)
}
