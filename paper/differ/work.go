package differ

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/paper/packet"
)

// setout compares what is set out, structure by structure.
func (c *comparer) setout() {
	was := map[string]*packet.SetoutDoc{}
	for i := range c.old.Setout {
		s := &c.old.Setout[i]
		was[c.m.names.now(s.Structure)] = s
	}
	for i := range c.new.Setout {
		n := &c.new.Setout[i]
		o := was[n.Structure]
		delete(was, n.Structure)
		if o == nil {
			c.d.Setout = append(c.d.Setout, Part{New: n.Structure})
			continue
		}
		if values, causes := c.trees(o, n, nothing); len(values) > 0 {
			for k := range c.d.Structures {
				if s := &c.d.Structures[k]; s.New == n.Structure {
					causes = union(causes, s.Causes)
				}
			}
			c.d.Setout = append(c.d.Setout, Part{Old: o.Structure, New: n.Structure, Values: values, Causes: causes})
		}
	}
	for i := range c.old.Setout {
		if s := &c.old.Setout[i]; was[c.m.names.now(s.Structure)] == s {
			c.d.Setout = append(c.d.Setout, Part{Old: s.Structure})
		}
	}
}

// cuts compares what is bought and cut, and what it costs: a line for boards or
// bars of one kind, drawn sizes apart from final ones.
func (c *comparer) cuts() {
	key := func(v *packet.CutDoc) string {
		s := v.Item
		if v.Treated {
			s += ", treated"
		}
		if v.Final {
			return s + ", final sizes"
		}
		return s + ", drawn sizes"
	}
	was := map[string]*packet.CutDoc{}
	for i := range c.old.Cuts {
		v := &c.old.Cuts[i]
		was[key(v)] = v
		c.d.OldCost += v.Cost
	}
	// The tickets say how, and follow from the pieces.
	skip := func(path string) bool { return strings.HasPrefix(path, "tickets") }
	for i := range c.new.Cuts {
		n := &c.new.Cuts[i]
		c.d.NewCost += n.Cost
		o := was[key(n)]
		delete(was, key(n))
		if o == nil {
			o = &packet.CutDoc{Item: n.Item, Treated: n.Treated, Final: n.Final}
		}
		if values, _ := c.trees(o, n, skip); len(values) > 0 {
			c.d.Cuts = append(c.d.Cuts, Part{Old: key(o), New: key(n), Values: values})
		}
	}
	for i := range c.old.Cuts {
		if v := &c.old.Cuts[i]; was[key(v)] == v {
			values, _ := c.trees(v, &packet.CutDoc{Item: v.Item, Treated: v.Treated, Final: v.Final}, skip)
			c.d.Cuts = append(c.d.Cuts, Part{Old: key(v), Values: values})
		}
	}
}

// order numbers that move along whenever something is put in before them.
var moved = []string{"step", "no", "from", "operations", "operation"}

// work compares the order of work: operations by what they are, then the pages
// that show them. Where one came or went, the numbers behind it are no change.
func (c *comparer) work() {
	o, n := c.old.Work, c.new.Work
	if o == nil {
		o = &packet.WorkDoc{}
	}
	if n == nil {
		n = &packet.WorkDoc{}
	}
	ids := func(w *packet.WorkDoc, now func(string) string) (ops, pages []string) {
		for i := range w.Operations {
			ops = append(ops, now(w.Operations[i].ID))
			c.minutes(w, i)
		}
		for i := range w.Steps {
			pages = append(pages, now(w.Steps[i].Title+" "+w.Steps[i].Place))
		}
		return ops, pages
	}
	oldOps, oldPages := ids(o, c.m.names.text)
	newOps, newPages := ids(n, func(s string) string { return s })
	alike := slices.Equal(oldOps, newOps) && slices.Equal(oldPages, newPages)
	skip := func(path string) bool {
		if strings.HasSuffix(path, ".after") {
			return true
		}
		last := path[strings.LastIndexByte(path, '.')+1:]
		return !alike && slices.Contains(moved, last)
	}
	c.operations(o, n, skip)
	c.d.Work = append(c.d.Work, c.parted(pagesOf(o), pagesOf(n), skip)...)
	if values, _ := c.trees(&packet.WorkDoc{Rules: o.Rules, Aside: o.Aside}, &packet.WorkDoc{Rules: n.Rules, Aside: n.Aside}, nothing); len(values) > 0 {
		c.d.Work = append(c.d.Work, Part{Old: "rules of the work", New: "rules of the work", Values: values})
	}
	if !alike && sameSet(oldOps, newOps) {
		c.d.Work = append(c.d.Work, Part{Old: "order of work", New: "order of work", Values: []Value{{Field: "work.operations", What: "comes in another order", Old: strings.Join(oldOps, " "), New: strings.Join(newOps, " ")}}})
	}
}

// minutes adds up the labour of a side.
func (c *comparer) minutes(w *packet.WorkDoc, i int) {
	op := &w.Operations[i]
	if w == c.old.Work {
		c.d.OldMinutes += int64(op.Minutes) * int64(max(op.People, 1))
	} else {
		c.d.NewMinutes += int64(op.Minutes) * int64(max(op.People, 1))
	}
}

func sameSet(a, b []string) bool {
	a, b = slices.Clone(a), slices.Clone(b)
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(a, b)
}

// entry is one operation or page, by what it is known by.
type entry struct {
	name  string
	value any
}

// operations compares operations, with what each waits for by name.
func (c *comparer) operations(o, n *packet.WorkDoc, skip func(string) bool) {
	list := func(w *packet.WorkDoc) []entry {
		var out []entry
		for i := range w.Operations {
			op := w.Operations[i]
			waits := struct {
				Operation packet.OperationDoc `json:"operation"`
				Waits     []string            `json:"waits_for"`
			}{Operation: op}
			for _, a := range op.After {
				name := fmt.Sprint(a.Operation)
				if a.Operation >= 0 && a.Operation < len(w.Operations) {
					name = w.Operations[a.Operation].ID
				}
				waits.Waits = append(waits.Waits, name+" ("+a.Rule+")")
			}
			slices.Sort(waits.Waits)
			out = append(out, entry{op.ID, &waits})
		}
		return out
	}
	c.d.Work = append(c.d.Work, c.parted(list(o), list(n), func(path string) bool { return path != "operation" && skip(path) })...)
}

func pagesOf(w *packet.WorkDoc) []entry {
	var out []entry
	for i := range w.Steps {
		p := &w.Steps[i]
		out = append(out, entry{"step: " + p.Title + ", " + p.Place, p})
	}
	return out
}

// parted compares two lists of entries by name; several of one name are counted.
func (c *comparer) parted(old, new []entry, skip func(string) bool) []Part {
	number := func(list []entry, now func(string) string) []entry {
		seen := map[string]int{}
		out := slices.Clone(list)
		for i := range out {
			name := now(out[i].name)
			if seen[name]++; seen[name] > 1 {
				name += fmt.Sprintf(" (%d)", seen[name])
			}
			out[i].name = name
		}
		return out
	}
	old, new = number(old, c.m.names.text), number(new, func(s string) string { return s })
	was := map[string]any{}
	for _, e := range old {
		was[e.name] = e.value
	}
	var out []Part
	for _, e := range new {
		o, ok := was[e.name]
		delete(was, e.name)
		if !ok {
			out = append(out, Part{New: e.name})
			continue
		}
		if values, causes := c.trees(o, e.value, skip); len(values) > 0 {
			out = append(out, Part{Old: e.name, New: e.name, Values: values, Causes: causes})
		}
	}
	for _, e := range old {
		if _, gone := was[e.name]; gone {
			out = append(out, Part{Old: e.name})
		}
	}
	return out
}
