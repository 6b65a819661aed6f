package takeoff

import (
	"fmt"
	"slices"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// lineKey is what makes two needs the same line.
type lineKey struct {
	item    string
	length  measure.Length
	treated bool
}

// tooLong is a board longer than any sold, somewhere.
type tooLong struct {
	place  string
	length measure.Length
}

// sum gathers needs into lines. Boards are gathered by the length they are cut
// from.
func (c *counter) sum() {
	at := map[lineKey]int{}
	from := c.parts()
	for i := range c.out.Needs {
		n := &c.out.Needs[i]
		if n.Class != ClassLumber {
			c.add(at, n, n.Length, n.Count)
			continue
		}
		list := from[i]
		if list == nil {
			c.tell(n)
			list = []part{{n.Length, n.Count}}
		}
		for _, p := range list {
			c.add(at, n, p.length, p.count)
		}
	}
	for key, k := range at {
		l := &c.out.Lines[k]
		l.Buy = l.Count
		if l.Class == ClassLumber && slices.ContainsFunc(c.out.Cuts, func(v Cut) bool { return v.buys(key) }) {
			l.Buy = c.boards(key)
		}
	}
	c.extras(at)
	slices.SortStableFunc(c.out.Lines, func(a, b Line) int { return before(&a, &b) })
	for i := range c.out.Lines {
		c.order(&c.out.Lines[i])
	}
}

// add counts some of a need's pieces into the line of their length.
func (c *counter) add(at map[lineKey]int, n *Need, length measure.Length, count int) {
	key := lineKey{n.Item, length, n.Treated}
	k, ok := at[key]
	if !ok {
		k = len(c.out.Lines)
		at[key] = k
		c.out.Lines = append(c.out.Lines, Line{Item: n.Item, Name: n.Name, Class: n.Class, Length: length, Treated: n.Treated, Why: n.Why})
	}
	l := &c.out.Lines[k]
	l.Count += count
	l.Mass = measure.Sum(l.Mass, n.Mass)
	if p := len(l.Places); p > 0 && l.Places[p-1].Name == n.Place {
		l.Places[p-1].Count += count
	} else {
		l.Places = append(l.Places, Place{n.Place, count})
	}
}

// tell says that a board is longer than any sold, once for all courses of a bay.
func (c *counter) tell(n *Need) {
	last := tooLong{n.Place, n.Length}
	if c.long == last {
		return
	}
	c.long = last
	sold := c.lengths(n.Treated)
	c.find(finding.NoStock, n.Place, fmt.Sprintf("a board of %s is longer than any sold (%s)", c.show(n.Length), c.show(sold[len(sold)-1])), phrase.Of("way.post-between"), phrase.Of("way.longer-boards", phrase.With("key", phrase.Name("lumber.lengths"))))
	c.say("found.board-too-long", size("length", n.Length), size("longest", sold[len(sold)-1]))
}

// order adds spares by the kit's rules and the mass of what is ordered.
func (c *counter) order(l *Line) {
	it, _ := c.kit.Item(l.Item)
	kind := string(l.Class)
	switch l.Class {
	case ClassLumber:
		kind = "board"
	case kit.ClassFastener:
		kind = it.Kind
	}
	for i := range c.kit.Spares {
		s := &c.kit.Spares[i]
		if s.For != l.Item && s.For != kind {
			continue
		}
		n, err := s.Count.Count(&kit.Facts{Qty: l.Buy})
		if err != nil {
			c.find(finding.NoFastener, l.Item, "spares: "+err.Error(), phrase.Of("way.mend-rule"))
			c.say("found.rule-fails", called("rule", "spares "+s.For))
			continue
		}
		l.Spares = max(l.Spares, n)
	}
	l.Order = l.Buy + l.Spares
	switch {
	case l.Class == ClassLumber:
		l.Mass = times(l.Order, c.board.Of(l.Length))
	case l.Count > 0:
		each, _ := measure.MulDiv(int64(l.Mass), int64(l.Order), int64(l.Count), measure.Up)
		l.Mass = measure.Mass(each)
	}
	c.out.Mass = measure.Sum(c.out.Mass, l.Mass)
	l.Why = reason.Of(phrase.Of("why.order-of", phrase.With("item", c.says(l.Item, l.Name))), phrase.Count(l.Order), phrase.Of("rule.order-count", phrase.With("needed", phrase.Count(l.Count)), phrase.With("buy", phrase.Count(l.Buy)), phrase.With("spare", phrase.Count(l.Spares))), phrase.Of("source.sum"), l.Why)
}

// agree checks the sums that must agree.
func (c *counter) agree() error {
	courses, cut, made := 0, 0, 0
	for i := range c.fit.Bays {
		for k := range c.fit.Bays[i].Courses {
			courses += len(c.fit.Bays[i].Courses[k].Pieces)
		}
	}
	for i := range c.fit.Pieces {
		switch c.fit.Pieces[i].Kind {
		case fit.Board:
			cut++
			if p := &c.fit.Pieces[i]; p.Misfit && p.Course == 0 {
				courses++ // left over of a release: ordered, but without a course
			}
		case fit.Packing, fit.Skirt:
			made++
		}
	}
	if courses != cut {
		return fmt.Errorf("take-off: the courses hold %d boards, but %d were cut", courses, cut)
	}
	needs, lines := map[string]int{}, map[string]int{}
	for i := range c.out.Needs {
		needs[c.out.Needs[i].Item] += c.out.Needs[i].Count
	}
	for i := range c.out.Lines {
		l := &c.out.Lines[i]
		lines[l.Item] += l.Count
		places := 0
		for _, p := range l.Places {
			places += p.Count
		}
		if places != l.Count || l.Order < l.Buy {
			return fmt.Errorf("take-off: %s: %d at its places, %d in its line", l.Item, places, l.Count)
		}
	}
	if needs[fit.Lumber] != cut+made {
		return fmt.Errorf("take-off: %d boards needed, %d fitted", needs[fit.Lumber], cut+made)
	}
	for item, n := range needs {
		if lines[item] != n {
			return fmt.Errorf("take-off: %s: %d needed, %d ordered", item, n, lines[item])
		}
	}
	return nil
}
