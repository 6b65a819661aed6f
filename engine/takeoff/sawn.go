package takeoff

import (
	"context"
	"fmt"
	"slices"

	"stallwright/engine/cut"
	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// madePiece is a need that was cut already, and the length of the board it came
// from.
type madePiece struct {
	need int
	from measure.Length
}

// sawnPieces finds the needs that went through the saw already, and the boards
// they came from.
func (c *counter) sawnPieces() map[int]measure.Length {
	if len(c.job.Lumber.Sawn) == 0 {
		return nil
	}
	at := map[string]int{}
	for i := range c.out.Needs {
		if n := &c.out.Needs[i]; n.Class == ClassLumber && n.Piece >= 0 {
			at[c.fit.Pieces[n.Piece].Label] = i
		}
	}
	out := map[int]measure.Length{}
	for i := range c.job.Lumber.Sawn {
		s := &c.job.Lumber.Sawn[i]
		for _, label := range s.Pieces {
			need, ok := at[label]
			switch _, twice := out[need]; {
			case !ok:
				c.find(finding.NoStock, label, fmt.Sprintf("lumber.sawn (%s) says %s was cut, but no board is called that", s.Pos(), label), phrase.Of("way.label-on-ticket"))
				c.say("found.sawn-unknown", called("key", "lumber.sawn"), called("at", s.Pos().String()), called("label", label))
			case twice:
				c.find(finding.NoStock, label, fmt.Sprintf("lumber.sawn (%s) says %s was cut, and says so twice", s.Pos(), label), phrase.Of("way.keep-one"))
				c.say("found.sawn-twice", called("key", "lumber.sawn"), called("at", s.Pos().String()), called("label", label))
			default:
				out[need] = s.Length
			}
		}
	}
	return out
}

// onHand is boards that are paid for: delivered and offcuts, less those sawn, and
// what is left of those.
func (c *counter) onHand(treated bool) []cut.Stock {
	l := &c.job.Lumber
	var out []cut.Stock
	for i := range l.Delivered {
		if d := &l.Delivered[i]; d.Treated == treated {
			out = append(out, cut.Stock{Label: "delivered", Length: d.Length, Available: int64(d.Count)})
		}
	}
	for i := range l.Offcuts {
		if o := &l.Offcuts[i]; o.Treated == treated {
			out = append(out, cut.Stock{Label: "offcut", Length: o.Length, Available: int64(max(1, o.Count)), Square: true})
		}
	}
	for i := range l.Sawn {
		s := &l.Sawn[i]
		if s.Treated != treated {
			continue
		}
		n := int64(s.Boards())
		for k := range out {
			if st := &out[k]; st.Length == s.Length && st.Label != "rest" {
				t := min(n, st.Available)
				st.Available -= t
				n -= t
			}
		}
		if s.Left > 0 {
			out = append(out, cut.Stock{Label: "rest", Length: s.Left, Available: int64(s.Boards()), Square: true})
		}
	}
	return out
}

// mostDrivers is how many kinds of openings are looked at for what drives the
// price of an order.
const mostDrivers = 3

// reach plans the order of drawn boards that is enough however the openings turn
// out, where the job says how much they may.
func (c *counter) reach(v *Cut) {
	n := v.Problem.Openings()
	if n == 0 || c.sketch {
		return
	}
	gamma := 1
	for gamma*gamma < n {
		gamma++
	}
	if at := c.job.Lumber.AtOnce; at != nil {
		gamma = *at
	}
	s, err := cut.Weigh(context.Background(), v.Problem, gamma, mostDrivers, cut.Options{Budget: orderBudget})
	if err != nil {
		place := c.out.Needs[v.Needs[0]].Place
		c.find(finding.NoStock, place, "no order is safe against the openings turning out longer: "+err.Error(), phrase.Of("way.longer-boards", phrase.With("key", phrase.Name("lumber.lengths"))), phrase.Of("way.smaller-tolerance", phrase.With("key", phrase.Name("lumber.tolerance"))))
		c.say("found.no-safe-order")
		return
	}
	v.Order = &s
	if gamma == 0 {
		s.Middle = 0
	} else if gamma >= n {
		s.Middle = len(s.Orders) - 1
	}
}

// planned cuts one material: as the saw was told before where that costs nothing;
// drawn boards out of the order that is safe.
func (c *counter) planned(v *Cut) (cut.Plan, int64, error) {
	p := v.Problem
	if v.Order != nil {
		p.Stock = slices.Clone(p.Stock)
		for i := range p.Stock {
			if p.Stock[i].Price > 0 {
				p.Stock[i].Available = 0
			}
		}
		for _, u := range v.Order.Orders[v.Order.Middle].Boards {
			p.Stock[u.Stock].Available = u.Count
		}
	}
	var told []cut.Told
	if v.Final {
		told = c.told(v)
	}
	return cut.Again(context.Background(), p, told, cut.Options{Budget: c.budget()})
}

// told is what an earlier plan told the saw of this material.
func (c *counter) told(v *Cut) []cut.Told {
	var out []cut.Told
	for _, t := range c.job.Told() {
		if t.Item != v.Item || t.Treated != v.Treated {
			continue
		}
		x := cut.Told{Length: t.Length, Times: 1}
		for _, l := range t.Pieces {
			if k := slices.IndexFunc(x.Pieces, func(p cut.ToldPiece) bool { return p.Label == l }); k >= 0 {
				x.Pieces[k].Count++
			} else {
				x.Pieces = append(x.Pieces, cut.ToldPiece{Label: l, Count: 1})
			}
		}
		out = append(out, x)
	}
	return out
}

// extras adds lines for boards that a safe order buys and the drawn sizes do not
// need.
func (c *counter) extras(at map[lineKey]int) {
	for k := range c.out.Cuts {
		v := &c.out.Cuts[k]
		if v.Order == nil {
			continue
		}
		for _, u := range v.Order.Orders[v.Order.Middle].Boards {
			key := lineKey{v.Item, v.Problem.Stock[u.Stock].Length, v.Treated}
			if _, ok := at[key]; ok {
				continue
			}
			at[key] = len(c.out.Lines)
			why := reason.Of(phrase.Of("why.boards-safe"), phrase.Count(u.Count), phrase.Of("rule.safe"), phrase.Of("source.tolerance", phrase.With("key", phrase.Name("lumber.tolerance"))))
			c.out.Lines = append(c.out.Lines, Line{Item: v.Item, Name: v.Name, Class: ClassLumber, Length: key.length, Treated: v.Treated, Buy: c.boards(key), Why: why})
		}
	}
}

// orderBudget is the work one order that is safe may take.
const orderBudget = sawBudget / 2
