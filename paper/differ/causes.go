package differ

import (
	"slices"
	"strconv"
	"strings"

	"stallwright/engine/measure"
	"stallwright/paper/packet"
)

// Cause is an input that differs, the deepest that the reasons of both plans
// tell: a tape reading, a line of the job or the kit. Of names the bay it was
// read at, where What does not. A value is empty where the input was, or is,
// not there. Part are the inputs that changed with it: another kit is one cause,
// whatever follows from it.
type Cause struct {
	What      string  `json:"what"`
	Of        string  `json:"of,omitempty"`
	Old       string  `json:"old,omitempty"`
	New       string  `json:"new,omitempty"`
	OldSource string  `json:"old_source,omitempty"`
	NewSource string  `json:"new_source,omitempty"`
	Part      []Cause `json:"part,omitempty"`
}

// causes finds and numbers the inputs that differ.
type causes struct {
	old, new   side
	names      *names
	list       []Cause
	known      map[causeKey]int
	memo       map[[2]int][]int
	kit        int // the cause that another kit is; -1 for the same kit
	kitParts   map[causeKey]bool
	otherUnits bool
}

// causeKey is what makes two causes the same.
type causeKey struct{ what, of, old, new, oldSource, newSource string }

// side is one plan's reasons with what is needed to compare them: each reason's
// text with new names and without line numbers, and a number that is equal for
// equal chains.
type side struct {
	reasons []packet.ReasonDoc
	what    []string
	value   []string
	source  []string
	chain   []int
}

func newCauses(old, new *packet.Document, n *names) *causes {
	c := &causes{names: n, known: map[causeKey]int{}, memo: map[[2]int][]int{}, kit: -1, kitParts: map[causeKey]bool{}, otherUnits: old.Job.Units != new.Job.Units}
	chains := map[string]int{}
	c.old = c.side(old.Reasons, n.text, chains)
	c.new = c.side(new.Reasons, func(s string) string { return s }, chains)
	if old.Job.Kit != new.Job.Kit {
		c.kit = c.add(Cause{What: "kit", Old: old.Job.Kit, New: new.Job.Kit, OldSource: "job", NewSource: "job"})[0]
	}
	return c
}

// side prepares one plan's reasons. A reason comes from earlier ones only.
func (c *causes) side(rs []packet.ReasonDoc, now func(string) string, chains map[string]int) side {
	s := side{reasons: rs}
	var key strings.Builder
	for i := range rs {
		r := &rs[i]
		s.what = append(s.what, now(r.What))
		s.value = append(s.value, c.value(now(r.Value)))
		s.source = append(s.source, now(unplaced(r.Source)))
		key.Reset()
		for _, part := range []string{s.what[i], s.value[i], now(r.Rule), s.source[i]} {
			key.WriteString(part)
			key.WriteByte(0)
		}
		for _, f := range r.From {
			key.WriteString(strconv.Itoa(s.chain[f]))
			key.WriteByte(',')
		}
		n, ok := chains[key.String()]
		if !ok {
			n = len(chains)
			chains[key.String()] = n
		}
		s.chain = append(s.chain, n)
	}
	return s
}

// value is a reason's value to compare: where one plan is metric and the other
// not, lengths by what they are.
func (c *causes) value(s string) string {
	if !c.otherUnits {
		return s
	}
	if l, err := measure.ParseLength(s, measure.NoUnit); err == nil {
		return strconv.FormatInt(int64(l), 10) + " nm"
	}
	return s
}

// sameWhat walks the first reasons that both plans give for something.
func (c *causes) sameWhat(what string) []int {
	o, n := slices.Index(c.old.what, what), slices.Index(c.new.what, what)
	if o < 0 || n < 0 {
		return nil
	}
	return c.between(o, n)
}

// differ says whether two reasons, -1 for none, rest on different things.
func (c *causes) differ(o, n int) bool {
	if o < 0 || n < 0 {
		return false
	}
	return c.old.chain[o] != c.new.chain[n]
}

// between walks two reasons in step and gives the deepest inputs that differ.
func (c *causes) between(o, n int) []int { return c.below(o, n, "") }

// below is between for what a reason called parent came from.
func (c *causes) below(o, n int, parent string) []int {
	if !c.differ(o, n) {
		return nil
	}
	key := [2]int{o, n}
	if list, ok := c.memo[key]; ok {
		return list
	}
	list := c.walk(o, n, parent)
	c.memo[key] = list
	return list
}

func (c *causes) walk(o, n int, parent string) []int {
	this := c.new.what[n]
	if !c.alike(o, n) {
		return c.own(o, n, parent)
	}
	var list []int
	pair := func(a, b int) { list = union(list, c.below(a, b, this)) }
	same := func(a, b int) bool { return c.old.what[a] == c.new.what[b] }
	left, right := align(c.old.reasons[o].From, c.new.reasons[n].From, same, pair)
	left, right = align(left, right, c.alike, pair)
	switch {
	case len(left) == 1 && len(right) == 1:
		list = union(list, c.own(left[0], right[0], this))
	default:
		for _, a := range left {
			list = union(list, c.own(a, -1, this))
		}
		for _, b := range right {
			list = union(list, c.own(-1, b, this))
		}
	}
	if len(list) == 0 {
		return c.own(o, n, parent)
	}
	return list
}

// alike says whether two reasons say the same thing, be it of other places.
func (c *causes) alike(o, n int) bool {
	if c.old.what[o] == c.new.what[n] {
		return true
	}
	a, _ := c.names.mask(c.old.what[o])
	b, _ := c.names.mask(c.new.what[n])
	return a == b
}

// align pairs what two reasons came from by a rule, and gives the rest.
func align(old, new []int, same func(a, b int) bool, pair func(a, b int)) (left, right []int) {
	taken := make([]bool, len(old))
next:
	for _, b := range new {
		for k, a := range old {
			if !taken[k] && same(a, b) {
				taken[k] = true
				pair(a, b)
				continue next
			}
		}
		right = append(right, b)
	}
	for k, a := range old {
		if !taken[k] {
			left = append(left, a)
		}
	}
	return left, right
}

// own is the difference between two reasons themselves; -1 where one is not
// there. A tape reading only says at which height; parent says in which bay.
func (c *causes) own(o, n int, parent string) []int {
	var v Cause
	if o >= 0 && n >= 0 && c.alike(o, n) && c.old.value[o] == c.new.value[n] && c.old.source[o] == c.new.source[n] && c.old.reasons[o].Rule == c.new.reasons[n].Rule {
		return nil // the same said of another place
	}
	if o >= 0 {
		v.What = c.old.what[o]
		v.Old, v.OldSource = c.old.reasons[o].Value, c.provenance(&c.old, o)
	}
	if n >= 0 {
		v.What = c.new.what[n]
		v.New, v.NewSource = c.new.reasons[n].Value, c.provenance(&c.new, n)
	}
	if o >= 0 && n >= 0 && v.Old == v.New && v.OldSource == v.NewSource {
		// Neither value nor source differ: the rule does.
		v.OldSource, v.NewSource = c.old.reasons[o].Rule, c.new.reasons[n].Rule
		if v.OldSource == v.NewSource {
			v.OldSource, v.NewSource = c.old.what[o], c.new.what[n]
		}
	} else if o >= 0 && n >= 0 && c.old.source[o] == c.new.source[n] && c.old.reasons[o].Rule != c.new.reasons[n].Rule && len(c.new.reasons[n].From) > 0 {
		v.OldSource, v.NewSource = c.old.reasons[o].Rule, c.new.reasons[n].Rule
	}
	if strings.HasPrefix(v.OldSource, "measured") || strings.HasPrefix(v.NewSource, "measured") {
		if _, found := c.names.mask(v.What); len(found) == 0 {
			if _, found = c.names.mask(parent); len(found) > 0 {
				v.Of = found[0]
			}
		}
	}
	return c.add(v)
}

// provenance is a reason's source; where it has none, that of the input its value
// was taken from.
func (c *causes) provenance(s *side, at int) string {
	for {
		r := &s.reasons[at]
		next := -1
		for _, f := range r.From {
			if s.value[f] == s.value[at] && (s.reasons[f].Source != "") {
				next = f
				break
			}
		}
		if next < 0 || r.Source != "" && !strings.HasPrefix(s.reasons[next].Source, "measured") {
			return r.Source
		}
		at = next
	}
}

// add numbers a cause, and folds what only comes from another kit into that.
func (c *causes) add(v Cause) []int {
	key := causeKey{v.What, v.Of, v.Old, v.New, unplaced(v.OldSource), unplaced(v.NewSource)}
	if c.kit >= 0 && (ofKit(v.OldSource) || v.OldSource == "") && (ofKit(v.NewSource) || v.NewSource == "") {
		if !c.kitParts[key] {
			c.kitParts[key] = true
			c.list[c.kit].Part = append(c.list[c.kit].Part, v)
		}
		return []int{c.kit}
	}
	if n, ok := c.known[key]; ok {
		return []int{n}
	}
	n := len(c.list)
	c.list = append(c.list, v)
	c.known[key] = n
	return []int{n}
}

// ofKit says whether a source is the kit's word.
func ofKit(source string) bool {
	return strings.HasPrefix(source, "kit ") || strings.Contains(source, " of kit ") || strings.HasPrefix(source, "half the timber and ") || source == "job or kit"
}

// prune drops causes that nothing refers to and numbers the rest anew.
func (d *Diff) prune() {
	used := make([]bool, len(d.Causes))
	d.eachCauses(func(list []int) []int {
		for _, n := range list {
			used[n] = true
		}
		return list
	})
	number := make([]int, len(d.Causes))
	var kept []Cause
	for i, v := range d.Causes {
		if number[i] = len(kept); used[i] {
			kept = append(kept, v)
		}
	}
	d.Causes = kept
	d.eachCauses(func(list []int) []int {
		var out []int
		for _, n := range list {
			out = append(out, number[n])
		}
		return out
	})
}

// eachCauses goes through every list of causes.
func (d *Diff) eachCauses(by func([]int) []int) {
	for _, list := range [][]Part{d.Structures, d.Posts, d.Walls, d.Runs, d.Rooms, d.Aisles, d.Bays, d.Marks, d.Setout, d.Cuts, d.Work} {
		for i := range list {
			list[i].Causes = by(list[i].Causes)
		}
	}
	for i := range d.Pieces {
		d.Pieces[i].Causes = by(d.Pieces[i].Causes)
	}
	for i := range d.Order {
		d.Order[i].Causes = by(d.Order[i].Causes)
	}
}

// union is both lists in one, sorted; neither is changed.
func union(a, b []int) []int {
	out := a
	for _, v := range b {
		if !slices.Contains(out, v) {
			out = append(out[:len(out):len(out)], v)
		}
	}
	if !slices.IsSorted(out) {
		out = slices.Clone(out)
		slices.Sort(out)
	}
	return out
}
