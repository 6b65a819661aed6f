package differ

import "stallwright/paper/packet"

// bays compares what fills the walls.
func (c *comparer) bays() {
	o, n := c.old, c.new
	for _, p := range c.m.bays {
		c.part(&c.d.Bays, p, func(i int) string { return o.Bays[i].Name }, func(i int) string { return n.Bays[i].Name },
			func(a, b int) ([]Value, []int) { return c.bay(&o.Bays[a], &n.Bays[b]) }, c.bayCause)
	}
}

// bay compares one bay. Where its fill changed, that is a cause of its own.
func (c *comparer) bay(o, n *packet.BayDoc) ([]Value, []int) {
	values := c.values(o, n)
	if front, ok := c.fronts[n.Run]; ok {
		return values, c.behind(front, c.between(o.Reason, n.Reason))
	}
	list := c.between(o.Reason, n.Reason)
	if o.Fill != n.Fill {
		return values, union(list, c.add(Cause{What: "fill of " + n.Name, Old: o.Fill, New: n.Fill, OldSource: "job", NewSource: "job"}))
	}
	if o.Stack != nil && n.Stack != nil {
		list = union(list, c.between(o.Stack.Reason, n.Stack.Reason))
	}
	if o.Grille != nil && n.Grille != nil {
		list = union(list, c.between(o.Grille.Reason, n.Grille.Reason))
	}
	if o.Door != nil && n.Door != nil {
		list = union(list, c.between(o.Door.Reason, n.Door.Reason))
		if o.Door.Item != n.Door.Item {
			list = union(list, c.add(Cause{What: "door of " + n.Name, Old: o.Door.Item, New: n.Door.Item, OldSource: "job", NewSource: "job"}))
		}
	}
	for _, v := range values {
		switch v.Field {
		case "feeder.hand", "feeder.item", "window.item":
			list = union(list, c.add(Cause{What: what(v.Field) + " in " + n.Name, Old: v.Old, New: v.New, OldSource: "job or kit", NewSource: "job or kit"}))
		}
	}
	for i := range min(len(o.Courses), len(n.Courses)) {
		list = union(list, c.courseCause(o.Courses[i].Pieces, n.Courses[i].Pieces))
	}
	return values, list
}

// behind are the causes of something in a run that is divided otherwise: that
// front, and the tape where it was used; what else differs follows from the front.
func (c *comparer) behind(front int, list []int) []int {
	out := []int{front}
	for _, n := range list {
		if measured(c.list[n]) {
			out = union(out, []int{n})
		}
	}
	return out
}

// courseCause walks the reasons of a course's boards.
func (c *comparer) courseCause(old, new []string) []int {
	var list []int
	for i := range min(len(old), len(new)) {
		a, ok := c.oldPiece[old[i]]
		b, also := c.newPiece[new[i]]
		if ok && also {
			list = union(list, c.between(c.old.Pieces[a].Reason, c.new.Pieces[b].Reason))
		}
	}
	return list
}

func (c *comparer) bayCause(p pair) []int {
	run, old := "", false
	if p.new >= 0 {
		run = c.new.Bays[p.new].Run
	} else {
		run, old = c.m.names.now(c.old.Bays[p.old].Run), true
	}
	if list := c.at[run]; len(list) > 0 {
		return list
	}
	if p.old < 0 || p.new < 0 {
		return c.came(p, "bay", c.nameOf(c.old, p.old, old), c.nameOf(c.new, p.new, !old))
	}
	return c.boards
}

func (c *comparer) nameOf(d *packet.Document, i int, there bool) string {
	if !there || i < 0 {
		return ""
	}
	return d.Bays[i].Name
}

// marks compares the datum line's marks.
func (c *comparer) marks() {
	o, n := c.old, c.new
	for _, p := range c.m.marks {
		c.part(&c.d.Marks, p, func(i int) string { return o.Marks[i].Post }, func(i int) string { return n.Marks[i].Post },
			func(a, b int) ([]Value, []int) {
				values := c.values(&o.Marks[a], &n.Marks[b])
				for i := range values {
					if values[i].Field == "height" {
						values[i].What = "datum mark"
					}
				}
				return values, c.between(o.Marks[a].Reason, n.Marks[b].Reason)
			}, func(p pair) []int {
				if p.new >= 0 {
					return c.at[c.new.Marks[p.new].Post]
				}
				return c.at[c.m.names.now(c.old.Marks[p.old].Post)]
			})
	}
}
