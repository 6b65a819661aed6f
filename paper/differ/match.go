package differ

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"stallwright/paper/packet"
)

// pair is one thing in the old and the new plan, by index; -1 where it is not.
type pair struct{ old, new int }

// matches says which old things are which new ones. Pairs follow the new plan's
// order; what is gone comes last, in the old plan's.
type matches struct {
	old, new                                                           *packet.Document
	structures, posts, walls, runs, rooms, aisles, bays, pieces, marks []pair
	names                                                              *names
	runNew                                                             map[int]int // old run to new
	postNew                                                            map[int]int
}

// match finds the same places in both plans: structures by name, posts by name
// within their structure, runs by the posts they stand between, bays by their
// run, rooms by their corners.
func match(old, new *packet.Document) *matches {
	m := &matches{old: old, new: new, names: newNames()}
	m.matchStructures()
	m.matchPosts()
	m.matchRuns()
	m.matchBays()
	m.matchRooms()
	m.matchWalls()
	m.matchAisles()
	m.settleNames()
	m.matchPieces()
	m.matchMarks()
	return m
}

// matcher pairs two lists by one rule after another; what one rule pairs, the
// next leaves alone.
type matcher struct {
	newOf, oldOf []int // of each old thing its new one and the other way; -1 for none
}

func newMatcher(olds, news int) *matcher {
	m := &matcher{make([]int, olds), make([]int, news)}
	for i := range m.newOf {
		m.newOf[i] = -1
	}
	for i := range m.oldOf {
		m.oldOf[i] = -1
	}
	return m
}

func (m *matcher) join(o, n int) { m.newOf[o], m.oldOf[n] = n, o }

// by pairs things whose keys are equal and not empty, in order.
func (m *matcher) by(old, new func(int) string) {
	free := map[string][]int{}
	for o := range m.newOf {
		if m.newOf[o] < 0 {
			if k := old(o); k != "" {
				free[k] = append(free[k], o)
			}
		}
	}
	for n := range m.oldOf {
		if m.oldOf[n] >= 0 {
			continue
		}
		if list := free[new(n)]; len(list) > 0 {
			m.join(list[0], n)
			free[new(n)] = list[1:]
		}
	}
}

func (m *matcher) pairs() []pair {
	var out []pair
	for n, o := range m.oldOf {
		out = append(out, pair{o, n})
	}
	for o, n := range m.newOf {
		if n < 0 {
			out = append(out, pair{o, -1})
		}
	}
	return out
}

func (m *matcher) forward() map[int]int {
	f := map[int]int{}
	for o, n := range m.newOf {
		if n >= 0 {
			f[o] = n
		}
	}
	return f
}

func (m *matches) matchStructures() {
	k := newMatcher(len(m.old.Structures), len(m.new.Structures))
	k.by(func(i int) string { return m.old.Structures[i].Name }, func(i int) string { return m.new.Structures[i].Name })
	k.by(func(i int) string { return m.old.Structures[i].Kind }, func(i int) string { return m.new.Structures[i].Kind })
	m.structures = k.pairs()
	for o, n := range k.newOf {
		if n >= 0 {
			m.names.set(m.old.Structures[o].Name, m.new.Structures[n].Name)
		}
	}
}

// local is a post's place in its structure: A.b2 is b2.
func local(p *packet.PostDoc) string {
	if s, ok := strings.CutPrefix(p.Name, p.Structure+"."); ok {
		return "." + s
	}
	return p.Name
}

// matchPosts pairs the principal posts; door posts go with their runs.
func (m *matches) matchPosts() {
	k := newMatcher(len(m.old.Posts), len(m.new.Posts))
	key := func(p *packet.PostDoc, structure string) string {
		if p.Kind == "door" {
			return ""
		}
		return structure + "\x00" + local(p)
	}
	k.by(func(i int) string { return key(&m.old.Posts[i], m.names.now(m.old.Posts[i].Structure)) },
		func(i int) string { return key(&m.new.Posts[i], m.new.Posts[i].Structure) })
	m.postNew = k.forward()
	m.posts = k.pairs()
}

// between is the two posts a run stands between, whichever way it looks.
func between(from, to int) string {
	return fmt.Sprintf("%d-%d", min(from, to), max(from, to))
}

// byPlace says whether a run's name only follows from its place in the row, as
// A3-A4 and P-7 do: then its place says more than its name.
func byPlace(run, structure string) bool {
	rest, ok := strings.CutPrefix(run, structure)
	rest = strings.TrimPrefix(rest, "-")
	return ok && rest != "" && unicode.IsDigit(rune(rest[0]))
}

func (m *matches) matchRuns() {
	old, new := m.old, m.new
	oldPost, newPost := postsByName(old), postsByName(new)
	place := func(r *packet.RunDoc, post func(string) int) string {
		from, to := post(r.From), post(r.To)
		if from < 0 || to < 0 {
			return ""
		}
		return between(from, to)
	}
	oldPlace := func(i int) string {
		return place(&old.Runs[i], func(name string) int {
			if n, ok := m.postNew[oldPost[name]]; ok {
				return n
			}
			return -1
		})
	}
	newPlace := func(i int) string { return place(&new.Runs[i], func(name string) int { return newPost[name] }) }
	oldName, newName := func(i int) string { return old.Runs[i].Name }, func(i int) string { return new.Runs[i].Name }
	both := func(name, place func(int) string) func(int) string {
		return func(i int) string {
			if place(i) == "" {
				return ""
			}
			return name(i) + "\x00" + place(i)
		}
	}
	given := func(name func(int) string, d *packet.Document, posts map[string]int) func(int) string {
		return func(i int) string {
			if byPlace(name(i), d.Posts[posts[d.Runs[i].From]].Structure) {
				return ""
			}
			return name(i)
		}
	}
	k := newMatcher(len(old.Runs), len(new.Runs))
	k.by(both(oldName, oldPlace), both(newName, newPlace))
	k.by(given(oldName, old, oldPost), given(newName, new, newPost))
	k.by(oldPlace, newPlace)
	k.by(oldName, newName)
	m.runs, m.runNew = k.pairs(), k.forward()
	m.matchDoorPosts(oldPost, newPost)
}

func postsByName(d *packet.Document) map[string]int {
	at := make(map[string]int, len(d.Posts))
	for i := range d.Posts {
		at[d.Posts[i].Name] = i
	}
	return at
}

// matchDoorPosts pairs door posts by their run and what follows its name: .l
// and .r.
func (m *matches) matchDoorPosts(oldPost, newPost map[string]int) {
	k := newMatcher(len(m.old.Posts), len(m.new.Posts))
	for o, n := range m.postNew {
		k.join(o, n)
	}
	oldKey, newKey := map[int]string{}, map[int]string{}
	for _, p := range m.runs {
		if p.old < 0 || p.new < 0 {
			continue
		}
		o, n := &m.old.Runs[p.old], &m.new.Runs[p.new]
		for _, name := range o.DoorPosts {
			oldKey[oldPost[name]] = n.Name + "\x00" + strings.TrimPrefix(name, o.Name)
		}
		for _, name := range n.DoorPosts {
			newKey[newPost[name]] = n.Name + "\x00" + strings.TrimPrefix(name, n.Name)
		}
	}
	k.by(func(i int) string { return oldKey[i] }, func(i int) string { return newKey[i] })
	m.posts, m.postNew = k.pairs(), k.forward()
}

func (m *matches) matchBays() {
	k := newMatcher(len(m.old.Bays), len(m.new.Bays))
	run := map[string]string{} // old run to the new one's name
	for o, n := range m.runNew {
		run[m.old.Runs[o].Name] = m.new.Runs[n].Name
	}
	k.by(func(i int) string {
		b := &m.old.Bays[i]
		if r, ok := run[b.Run]; ok {
			return r + "\x00" + strings.TrimPrefix(b.Name, b.Run)
		}
		return ""
	}, func(i int) string {
		b := &m.new.Bays[i]
		return b.Run + "\x00" + strings.TrimPrefix(b.Name, b.Run)
	})
	m.bays = k.pairs()
}

func (m *matches) matchRooms() {
	k := newMatcher(len(m.old.Rooms), len(m.new.Rooms))
	post := map[string]string{}
	for o, n := range m.postNew {
		post[m.old.Posts[o].Name] = m.new.Posts[n].Name
	}
	corners := func(list []string, now func(string) string) string {
		var out []string
		for _, c := range list {
			out = append(out, now(c))
		}
		slices.Sort(out)
		return strings.Join(out, "\x00")
	}
	oldPlace := func(i int) string {
		return corners(m.old.Rooms[i].Corners, func(s string) string {
			if n, ok := post[s]; ok {
				return n
			}
			return s + "\x01"
		})
	}
	newPlace := func(i int) string { return corners(m.new.Rooms[i].Corners, func(s string) string { return s }) }
	oldName, newName := func(i int) string { return m.old.Rooms[i].Name }, func(i int) string { return m.new.Rooms[i].Name }
	given := func(name func(int) string, d *packet.Document) func(int) string {
		return func(i int) string {
			for k := range d.Structures {
				if byPlace(name(i), d.Structures[k].Name) {
					return ""
				}
			}
			return name(i)
		}
	}
	k.by(given(oldName, m.old), given(newName, m.new))
	k.by(oldPlace, newPlace)
	k.by(oldName, newName)
	m.rooms = k.pairs()
}

// matchWalls pairs walls that hold the same run, first by name.
func (m *matches) matchWalls() {
	run := map[string]string{}
	for o, n := range m.runNew {
		run[m.old.Runs[o].Name] = m.new.Runs[n].Name
	}
	first := func(list []string, now func(string) string) string {
		for _, r := range list {
			if s := now(r); s != "" {
				return s
			}
		}
		return ""
	}
	holds := map[string]string{} // new run to its wall
	for i := range m.new.Walls {
		for _, r := range m.new.Walls[i].Runs {
			holds[r] = m.new.Walls[i].Name
		}
	}
	k := newMatcher(len(m.old.Walls), len(m.new.Walls))
	k.by(func(i int) string { return holds[first(m.old.Walls[i].Runs, func(s string) string { return run[s] })] },
		func(i int) string { return m.new.Walls[i].Name })
	k.by(func(i int) string { return m.old.Walls[i].Name }, func(i int) string { return m.new.Walls[i].Name })
	m.walls = k.pairs()
}

func (m *matches) matchAisles() {
	k := newMatcher(len(m.old.Aisles), len(m.new.Aisles))
	k.by(func(i int) string { return m.old.Aisles[i].Name }, func(i int) string { return m.new.Aisles[i].Name })
	k.by(func(int) string { return "any" }, func(int) string { return "any" })
	m.aisles = k.pairs()
}

// settleNames gathers what everything is called.
func (m *matches) settleNames() {
	o, n := m.old, m.new
	var gone []string
	taken := map[string]bool{}
	set := func(pairs []pair, oldName, newName func(int) string) {
		var all []string
		for _, p := range pairs {
			if p.old >= 0 {
				all = append(all, oldName(p.old))
			}
			if p.new >= 0 {
				all = append(all, newName(p.new))
			}
			switch {
			case p.old >= 0 && p.new >= 0:
				m.names.set(oldName(p.old), newName(p.new))
			case p.old >= 0:
				gone = append(gone, oldName(p.old))
			}
			if p.new >= 0 {
				taken[newName(p.new)] = true
			}
		}
		for _, s := range all {
			m.names.known[s] = true
		}
	}
	set(m.posts, func(i int) string { return o.Posts[i].Name }, func(i int) string { return n.Posts[i].Name })
	set(m.runs, func(i int) string { return o.Runs[i].Name }, func(i int) string { return n.Runs[i].Name })
	set(m.bays, func(i int) string { return o.Bays[i].Name }, func(i int) string { return n.Bays[i].Name })
	set(m.rooms, func(i int) string { return o.Rooms[i].Name }, func(i int) string { return n.Rooms[i].Name })
	set(m.walls, func(i int) string { return o.Walls[i].Name }, func(i int) string { return n.Walls[i].Name })
	set(m.aisles, func(i int) string { return o.Aisles[i].Name }, func(i int) string { return n.Aisles[i].Name })
	set(m.structures, func(i int) string { return o.Structures[i].Name }, func(i int) string { return n.Structures[i].Name })
	for s := range m.names.known {
		if len(s) < 2 {
			delete(m.names.known, s) // a structure called A is no word to look for in sentences
		}
	}
	for _, s := range gone {
		if _, there := m.names.to[s]; !there && taken[s] {
			m.names.gone[s], m.names.renamed = s+" (old)", true
		}
	}
	m.names.settle()
}

func (m *matches) matchPieces() {
	k := newMatcher(len(m.old.Pieces), len(m.new.Pieces))
	k.by(func(i int) string {
		p := &m.old.Pieces[i]
		if _, ok := m.names.to[p.Place]; !ok {
			return "" // its place is gone
		}
		if _, ok := m.names.to[p.Label]; !ok && !strings.Contains(p.Label, "/") {
			return "" // a post that is gone, though its run stays
		}
		return m.names.label(p.Label)
	}, func(i int) string { return m.new.Pieces[i].Label })
	m.pieces = k.pairs()
}

// matchMarks pairs marks by post and the runs they serve.
func (m *matches) matchMarks() {
	k := newMatcher(len(m.old.Marks), len(m.new.Marks))
	post := func(i int) string { return m.names.now(m.old.Marks[i].Post) }
	newPost := func(i int) string { return m.new.Marks[i].Post }
	runs := func(list []string, now func(string) string) string {
		var out []string
		for _, r := range list {
			out = append(out, now(r))
		}
		return strings.Join(out, "\x00")
	}
	k.by(func(i int) string { return post(i) + "\x01" + runs(m.old.Marks[i].Runs, m.names.now) },
		func(i int) string {
			return newPost(i) + "\x01" + runs(m.new.Marks[i].Runs, func(s string) string { return s })
		})
	k.by(post, newPost)
	m.marks = k.pairs()
}
