package takeoff

import (
	"fmt"
	"math"

	"stallwright/engine/finding"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// mostAtOne is the most of one item that one place may take; beyond it a rule of
// the kit is wrong. It keeps sums over a whole job inside 32 bits.
const mostAtOne = 10_000

// with counts what comes with n of an item. It ends, since kits whose parts come
// with each other, or with too much, are refused when they are read.
func (c *counter) with(it kit.Item, f kit.Facts, place string, run int, why *reason.Reason, n int) {
	under := c.under
	c.under = len(c.out.Needs) - 1
	defer func() { c.under = under }()
	for i := range it.With {
		w := &it.With[i]
		ok, err := w.When.Holds(&f)
		if err == nil && !ok {
			continue
		}
		var count int
		if err == nil {
			count, err = w.Count.Count(&f)
		}
		if err != nil {
			c.find(finding.NoFastener, place, fmt.Sprintf("what comes with %s: %v", it.ID, err), phrase.Of("way.mend-rule"))
			c.say("found.rule-fails", called("rule", it.ID+", with "+w.Use))
			continue
		}
		src := c.kit.Line(it.ID+", with "+w.Use, w.Pos().Line)
		if count > mostAtOne/max(n, 1) {
			c.tooMany(w.Use, place)
			continue
		}
		c.counted(w.Use, count*n, w.Length, w.Grip, f, place, run, reason.Of(phrase.Of("why.with", called("part", w.Use), called("item", it.ID)), phrase.Count(count*n), w.Count.Say(), src, why))
	}
}

func (c *counter) tooMany(id, place string) {
	c.find(finding.NoFastener, place, fmt.Sprintf("the kit's rules ask for more than %d of %s here", mostAtOne, id), phrase.Of("way.mend-rule"))
	c.say("found.too-many", phrase.With("most", phrase.Count(mostAtOne)), called("item", id))
}

// counted adds a number of an item, and what comes with it. Fasteners take the
// shortest bought length that is long enough.
func (c *counter) counted(id string, count int, length, grip kit.Rule, f kit.Facts, place string, run int, why *reason.Reason) {
	it, ok := c.kit.Item(id)
	if !ok || count == 0 {
		return
	}
	n := Need{Item: id, Name: it.Name, Class: it.Class, Kind: it.Kind, Count: count, Place: place, Run: run, Piece: -1, Joint: c.joint, With: c.under, Why: why}
	var err error
	switch {
	case it.Class == kit.ClassFastener:
		n.Length, err = c.fastener(id, length, grip, f, place, why)
		n.Mass = times(count, measure.Sum(it.Mass, it.Per.Of(max(n.Length-it.Stock[0], 0))))
	case length.Written():
		if n.Length, err = length.Length(&f); err == nil {
			n.Length = n.Length.Round(c.kit.Board.Mark, measure.Down)
		}
		n.Mass = times(count, measure.Sum(it.Mass, it.Per.Of(n.Length)))
	default:
		n.Mass = times(count, it.Mass)
	}
	if err != nil {
		c.find(finding.NoFastener, place, fmt.Sprintf("%s: %v", id, err), phrase.Of("way.mend-rule"))
		c.say("found.rule-fails", called("rule", id))
	}
	c.out.Needs = append(c.out.Needs, n)
	c.with(it, f, place, run, why, count)
}

// times is n·m; where that is beyond what a mass holds, the most it holds.
func times(n int, m measure.Mass) measure.Mass {
	v, ok := measure.MulDiv(int64(n), int64(m), 1, measure.Nearest)
	if !ok {
		return math.MaxInt64
	}
	return measure.Mass(v)
}

// fastener picks the bought length: for a grip, grip + washers + nut +
// projection; for a stated length, that; else the only one bought.
func (c *counter) fastener(id string, length, grip kit.Rule, f kit.Facts, place string, why *reason.Reason) (measure.Length, error) {
	fa := c.kit.Fastener(id)
	var need measure.Length
	var err error
	switch {
	case grip.Written():
		if need, err = grip.Length(&f); err != nil {
			return fa.Lengths[0], err
		}
		held := need
		need += measure.Length(fa.Washers)*fa.Washer + fa.Nut + fa.Projection
		if why != nil {
			why.From = append(why.From, reason.Of(phrase.Of("why.least-length", phrase.With("item", phrase.Name(id))), phrase.Length(need),
				phrase.Of("rule.grip", phrase.With("grip", phrase.Length(held)), phrase.With("washers", phrase.Count(fa.Washers)), phrase.With("nut", phrase.Length(fa.Nut)), phrase.With("projection", phrase.Length(fa.Projection))),
				c.kit.Line("fasteners "+id, fa.Pos().Line)))
		}
	case length.Written():
		if need, err = length.Length(&f); err != nil {
			return fa.Lengths[0], err
		}
	default:
		return fa.Lengths[0], nil
	}
	for _, l := range fa.Lengths {
		if l >= need {
			return l, nil
		}
	}
	longest := fa.Lengths[len(fa.Lengths)-1]
	c.find(finding.NoFastener, place, fmt.Sprintf("%s needs a length of %s, but the longest bought is %s", fa.Name, c.show(need), c.show(longest)), phrase.Of("way.add-length"), phrase.Of("way.another-fastener"))
	c.say("found.fastener-short", phrase.With("item", c.kit.Called(fa.ID, fa.Name)), size("need", need), size("longest", longest))
	return longest, nil
}
