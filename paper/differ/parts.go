package differ

import (
	"slices"
	"strings"

	"stallwright/paper/packet"
)

// job compares what the job says of itself, and its boards.
func (c *comparer) job() {
	c.d.Job = c.values(&c.old.Job, &c.new.Job)
	for _, v := range c.values(&c.old.Board, &c.new.Board) {
		v.Field = "board." + v.Field
		c.d.Job = append(c.d.Job, v)
		switch v.Field {
		case "board.thickness", "board.coverage", "board.tongue", "board.nominal":
			list := c.sameWhat("coverage of one board")
			if v.Field != "board.coverage" || len(list) == 0 {
				list = c.add(Cause{What: v.What, Old: v.Old, New: v.New, OldSource: "job lumber", NewSource: "job lumber"})
			}
			c.boards = union(c.boards, list)
		}
	}
}

// part compares one thing. why gives causes for what came and went, or where the
// reasons tell none.
func (c *comparer) part(list *[]Part, p pair, oldName, newName func(int) string, compare func(o, n int) ([]Value, []int), why func(p pair) []int) {
	v := Part{}
	if p.old >= 0 {
		v.Old = oldName(p.old)
	}
	if p.new >= 0 {
		v.New = newName(p.new)
	}
	if p.old >= 0 && p.new >= 0 {
		v.Values, v.Causes = compare(p.old, p.new)
		if len(v.Values) == 0 && len(v.Causes) == 0 && v.Old == v.New {
			return
		}
	}
	if len(v.Causes) == 0 && (len(v.Values) > 0 || p.old < 0 || p.new < 0) && why != nil {
		v.Causes = why(p)
	}
	*list = append(*list, v)
	for _, name := range []string{c.m.names.now(v.Old), v.New} {
		if name != "" {
			c.at[name] = union(c.at[name], v.Causes)
		}
	}
}

// layout compares what stands where.
func (c *comparer) layout() {
	o, n := c.old, c.new
	for _, p := range c.m.structures {
		c.part(&c.d.Structures, p, func(i int) string { return o.Structures[i].Name }, func(i int) string { return n.Structures[i].Name },
			func(a, b int) ([]Value, []int) { return c.values(&o.Structures[a], &n.Structures[b]), nil }, c.structureCause)
	}
	for _, p := range c.m.rooms {
		c.part(&c.d.Rooms, p, func(i int) string { return o.Rooms[i].Name }, func(i int) string { return n.Rooms[i].Name },
			func(a, b int) ([]Value, []int) { return c.values(&o.Rooms[a], &n.Rooms[b]), nil }, c.roomCause)
	}
	c.roomsCame()
	for _, p := range c.m.runs {
		c.part(&c.d.Runs, p, func(i int) string { return o.Runs[i].Name }, func(i int) string { return n.Runs[i].Name },
			func(a, b int) ([]Value, []int) {
				list := c.between(o.Runs[a].Reason, n.Runs[b].Reason)
				if front, ok := c.front(&o.Runs[a], &n.Runs[b]); ok {
					list = union(list, []int{front})
				}
				return c.values(&o.Runs[a], &n.Runs[b]), list
			}, c.runCause)
	}
	for _, p := range c.m.posts {
		c.part(&c.d.Posts, p, func(i int) string { return o.Posts[i].Name }, func(i int) string { return n.Posts[i].Name },
			func(a, b int) ([]Value, []int) { return c.values(&o.Posts[a], &n.Posts[b]), nil }, c.postCause)
	}
	for _, p := range c.m.walls {
		c.part(&c.d.Walls, p, func(i int) string { return o.Walls[i].Name }, func(i int) string { return n.Walls[i].Name },
			func(a, b int) ([]Value, []int) { return c.values(&o.Walls[a], &n.Walls[b]), nil }, nil)
	}
	for _, p := range c.m.aisles {
		c.part(&c.d.Aisles, p, func(i int) string { return o.Aisles[i].Name }, func(i int) string { return n.Aisles[i].Name },
			func(a, b int) ([]Value, []int) { return c.values(&o.Aisles[a], &n.Aisles[b]), nil }, nil)
	}
}

// came is the cause that something stands in one plan only.
func (c *comparer) came(p pair, what, old, new string) []int {
	if p.old < 0 {
		return c.add(Cause{What: what + " " + new, New: "added", NewSource: "job"})
	}
	return c.add(Cause{What: what + " " + old, Old: "there", New: "taken out", OldSource: "job", NewSource: "job"})
}

func (c *comparer) structureCause(p pair) []int {
	switch {
	case p.old < 0:
		return c.came(p, "structure", "", c.new.Structures[p.new].Name)
	case p.new < 0:
		return c.came(p, "structure", c.old.Structures[p.old].Name, "")
	}
	var list []int
	values := c.values(&c.old.Structures[p.old], &c.new.Structures[p.new])
	sections := slices.ContainsFunc(values, func(v Value) bool { return v.Field == "ring.sections" })
	for _, v := range values {
		if strings.HasPrefix(v.Field, "ring.") && v.Field != "ring.sections" && (sections || v.Field != "ring.pin_circle") {
			continue // follows from the sections
		}
		list = union(list, c.add(Cause{What: v.What + " of " + c.new.Structures[p.new].Name, Old: v.Old, New: v.New, OldSource: "job or kit", NewSource: "job or kit"}))
	}
	return list
}

// structureOf finds a structure's causes by name, if it came, went or changed.
func (c *comparer) structureOf(name string, old bool) []int {
	for i := range c.d.Structures {
		if s := &c.d.Structures[i]; (old && s.Old == name) || (!old && s.New == name) {
			return s.Causes
		}
	}
	return nil
}

func (c *comparer) roomCause(p pair) []int {
	switch {
	case p.old < 0:
		r := &c.new.Rooms[p.new]
		if list := c.structureOf(c.structureOfCorner(c.new, r.Corners), false); len(list) > 0 {
			return list
		}
		return c.came(p, r.Kind, "", r.Name)
	case p.new < 0:
		r := &c.old.Rooms[p.old]
		if list := c.structureOf(c.structureOfCorner(c.old, r.Corners), true); len(list) > 0 {
			return list
		}
		return c.came(p, r.Kind, r.Name, "")
	}
	var list []int
	for _, v := range c.values(&c.old.Rooms[p.old], &c.new.Rooms[p.new]) {
		if (v.Field == "kind" || v.Field == "width" || v.Field == "depth") && v.Old != v.New {
			list = union(list, c.add(Cause{What: v.What + " of " + c.new.Rooms[p.new].Name, Old: v.Old, New: v.New, OldSource: "job", NewSource: "job"}))
		}
	}
	return list
}

func (c *comparer) structureOfCorner(d *packet.Document, corners []string) string {
	if len(corners) == 0 {
		return ""
	}
	for i := range d.Posts {
		if d.Posts[i].Name == corners[0] {
			return d.Posts[i].Structure
		}
	}
	return ""
}

// roomsCame notes which runs and posts belong to rooms that came or went, with
// the causes of that.
func (c *comparer) roomsCame() {
	note := func(d *packet.Document, name func(p *Part) string) map[string][]int {
		causes := map[string][]int{}
		for i := range c.d.Rooms {
			if p := &c.d.Rooms[i]; p.Old == "" || p.New == "" {
				causes[name(p)] = p.Causes
			}
		}
		with := map[string][]int{}
		for i := range d.Rooms {
			r := &d.Rooms[i]
			list, ok := causes[r.Name]
			if !ok {
				continue
			}
			for _, s := range r.Runs {
				with["run "+s] = union(with["run "+s], list)
			}
			for _, s := range r.Corners {
				with["post "+s] = union(with["post "+s], list)
			}
		}
		return with
	}
	c.cameWith = note(c.new, func(p *Part) string { return p.New })
	c.wentWith = note(c.old, func(p *Part) string { return p.Old })
}

func (c *comparer) runCause(p pair) []int {
	switch {
	case p.old < 0:
		r := &c.new.Runs[p.new]
		if list := c.cameWith["run "+r.Name]; len(list) > 0 {
			return list
		}
		if list := c.structureOf(c.structureOfCorner(c.new, []string{r.From}), false); len(list) > 0 {
			return list
		}
		return c.came(p, "wall", "", r.Name)
	case p.new < 0:
		r := &c.old.Runs[p.old]
		if list := c.wentWith["run "+r.Name]; len(list) > 0 {
			return list
		}
		if list := c.structureOf(c.structureOfCorner(c.old, []string{r.From}), true); len(list) > 0 {
			return list
		}
		return c.came(p, "wall", r.Name, "")
	}
	o, n := &c.old.Runs[p.old], &c.new.Runs[p.new]
	// A wall that came to stand between two rooms, or at the end, does so because
	// a room came or went.
	list := union(c.cameWith["run "+n.Name], c.wentWith["run "+o.Name])
	if len(list) > 0 {
		return list
	}
	for _, v := range c.values(o, n) {
		switch v.Field {
		case "role", "assembly", "datum", "zone":
			list = union(list, c.add(Cause{What: v.What + " of " + n.Name, Old: v.Old, New: v.New, OldSource: "job or kit", NewSource: "job or kit"}))
		}
	}
	return list
}

// front finds whether a run is divided into other bays now, which is a cause of
// its own.
func (c *comparer) front(o, n *packet.RunDoc) (int, bool) {
	if slices.Equal(mapped(o.Bays, c.m.names.now), n.Bays) {
		return 0, false
	}
	list := c.add(Cause{What: "front of " + n.Name, Old: c.frontWords(c.old, o), New: c.frontWords(c.new, n), OldSource: "job", NewSource: "job"})
	c.fronts[n.Name] = list[0]
	return list[0], true
}

// frontWords tells what a run's bays are, left to right.
func (c *comparer) frontWords(d *packet.Document, r *packet.RunDoc) string {
	var out []string
	for _, name := range r.Bays {
		for i := range d.Bays {
			if b := &d.Bays[i]; b.Name == name {
				w := b.Fill
				if b.Door != nil {
					w = b.Door.Item
				}
				out = append(out, w)
			}
		}
	}
	return strings.Join(out, " + ")
}

func (c *comparer) postCause(p pair) []int {
	d, name, old := c.new, "", false
	structure := ""
	switch {
	case p.new >= 0:
		name, structure = c.new.Posts[p.new].Name, c.new.Posts[p.new].Structure
	default:
		d, name, old = c.old, c.old.Posts[p.old].Name, true
		structure = c.old.Posts[p.old].Structure
	}
	with := c.cameWith
	if old {
		with = c.wentWith
	}
	if list := with["post "+name]; len(list) > 0 && (p.old < 0 || p.new < 0) {
		return list
	}
	var list []int
	for i := range d.Runs {
		r := &d.Runs[i]
		if !slices.Contains(r.DoorPosts, name) && ((p.old >= 0 && p.new >= 0) || r.From != name && r.To != name) {
			continue
		}
		run := r.Name
		if old {
			run = c.m.names.now(run)
		}
		list = union(list, c.at[run])
	}
	if len(list) > 0 {
		return list
	}
	if list := c.structureOf(structure, old); len(list) > 0 || p.old < 0 || p.new < 0 {
		return list
	}
	// A post that moved: the runs that stand on it tell why.
	for i := range d.Runs {
		if r := &d.Runs[i]; r.From == name || r.To == name {
			list = union(list, c.at[r.Name])
		}
	}
	return list
}

func mapped(list []string, by func(string) string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = by(v)
	}
	return out
}
