package takeoff

import (
	"fmt"
	"slices"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/reason"
)

// kerf is what a saw cut takes when boards are reckoned by length class; the
// cut plan works with the saw's own.
const kerf = measure.Inch / 8

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

// sum gathers needs into lines. Boards are gathered by the shortest bought
// length that holds them.
func (c *counter) sum() {
	at := map[lineKey]int{}
	cuts := map[lineKey]map[measure.Length]int{} // boards of each length class, by cut length
	for i := range c.out.Needs {
		n := &c.out.Needs[i]
		key := lineKey{n.Item, n.Length, n.Treated}
		if n.Class == ClassLumber {
			key.length = c.class(n)
			if cuts[key] == nil {
				cuts[key] = map[measure.Length]int{}
			}
			cuts[key][n.Length] += n.Count
		}
		k, ok := at[key]
		if !ok {
			k = len(c.out.Lines)
			at[key] = k
			c.out.Lines = append(c.out.Lines, Line{Item: n.Item, Name: n.Name, Class: n.Class, Length: key.length, Treated: n.Treated, Why: n.Why})
		}
		l := &c.out.Lines[k]
		l.Count += n.Count
		l.Mass = measure.Sum(l.Mass, n.Mass)
		if p := len(l.Places); p > 0 && l.Places[p-1].Name == n.Place {
			l.Places[p-1].Count += n.Count
		} else {
			l.Places = append(l.Places, Place{n.Place, n.Count})
		}
	}
	for key, k := range at {
		l := &c.out.Lines[k]
		l.Buy = l.Count
		if l.Class == ClassLumber {
			l.Buy = boards(key.length, cuts[key])
		}
	}
	slices.SortStableFunc(c.out.Lines, func(a, b Line) int { return before(&a, &b) })
	for i := range c.out.Lines {
		c.order(&c.out.Lines[i])
	}
}

// class is the shortest bought board length that holds a piece.
func (c *counter) class(n *Need) measure.Length {
	for _, l := range c.sold {
		if l >= n.Length {
			return l
		}
	}
	if last := (tooLong{n.Place, n.Length}); c.long != last {
		c.long = last // told once for all courses of a bay
	} else {
		return n.Length
	}
	c.find(finding.NoStock, n.Place, fmt.Sprintf("a board of %s is longer than any sold (%s)", c.show(n.Length), c.show(c.sold[len(c.sold)-1])), "another post between", "longer boards (lumber.lengths)")
	return n.Length
}

// boards is how many boards of one length give the pieces, each board cut to
// one length only: enough, and seldom the least.
func boards(stock measure.Length, pieces map[measure.Length]int) int {
	total := 0
	for length, n := range pieces {
		per := max(int((stock + kerf).DivDown(length+kerf)), 1)
		total += (n + per - 1) / per
	}
	return total
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
			c.find(finding.NoFastener, l.Item, "spares: "+err.Error(), "mend the rule in the kit")
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
	l.Why = reason.Of("order of "+l.Name, fmt.Sprint(l.Order), fmt.Sprintf("%d needed, %d to buy, %d spare", l.Count, l.Buy, l.Spares), "sum over the places that take it", l.Why)
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
		case fit.Packing:
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
