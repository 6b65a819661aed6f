package takeoff

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"stallwright/engine/cut"
	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// sawBudget is the work one cut plan may take: a tenth of a second or so. What
// is not proven by then is told with its gap.
const sawBudget = 20_000_000

// sketchBudget is the work one cut plan of a sketch may take.
const sketchBudget = sawBudget / 40

func (c *counter) budget() int64 {
	if c.sketch {
		return sketchBudget
	}
	return sawBudget
}

// Cut is how the pieces of one material come out of what is bought. Pieces whose
// size is final and pieces still as drawn are planned apart, so that a saw
// ticket's boards are boards of the order and stay so when the rest is measured.
type Cut struct {
	Item    string
	Name    string
	Class   kit.Class
	Treated bool
	Final   bool // sizes are final: saw tickets may be cut from it
	Priced  bool // cost is money in hundredths; else it is length
	Problem cut.Problem
	Plan    cut.Plan
	Needs   []int // per demand of Problem: index into Result.Needs
	// Order is what to buy so that it is enough however the openings turn out,
	// where the job states a tolerance and the sizes are drawn; else nil. The plan
	// then cuts the drawn sizes out of that order.
	Order *cut.Safety
	Kept  int64 // boards cut as an earlier plan told the saw
}

// Bought is the boards to buy for a stock, spares for defects included.
func (v *Cut) Bought(stock int) int64 {
	if v.Order != nil {
		for _, b := range v.Order.Orders[v.Order.Middle].Buy {
			if b.Stock == stock {
				return b.Boards + b.Spares
			}
		}
		return 0
	}
	for _, b := range v.Problem.Purchases(&v.Plan) {
		if b.Stock == stock {
			return b.Boards + b.Spares
		}
	}
	return 0
}

// sawKey is what is cut together.
type sawKey struct {
	item    string
	treated bool
	final   bool
}

// saws plans the cutting of boards, and of steel that the kit says is bought in
// lengths.
func (c *counter) saws() error {
	at := map[sawKey]int{}
	made := c.sawnPieces()
	for i := range c.out.Needs {
		n := &c.out.Needs[i]
		if !c.sawn(n) {
			continue
		}
		if l, ok := made[i]; ok {
			c.made = append(c.made, madePiece{i, l})
			continue
		}
		key := sawKey{n.Item, n.Treated, c.final(n)}
		k, ok := at[key]
		if !ok {
			k = len(c.out.Cuts)
			at[key] = k
			c.out.Cuts = append(c.out.Cuts, Cut{Item: n.Item, Name: n.Name, Class: n.Class, Treated: n.Treated, Final: key.final})
		}
		v := &c.out.Cuts[k]
		label := n.Place
		if n.Piece >= 0 {
			label = c.fit.Pieces[n.Piece].Label
		}
		d := cut.Demand{Label: label, Length: n.Length, Count: int64(n.Count)}
		if key.item == fit.Lumber && !key.final {
			d.Opening, d.Tolerance = n.Place, c.job.Lumber.Tolerance
		}
		v.Problem.Demands = append(v.Problem.Demands, d)
		v.Needs = append(v.Needs, i)
	}
	// What is final is cut first, and takes what there is little of.
	slices.SortStableFunc(c.out.Cuts, func(a, b Cut) int {
		if d := before(&Line{Class: a.Class, Item: a.Item, Treated: a.Treated}, &Line{Class: b.Class, Item: b.Item, Treated: b.Treated}); d != 0 || a.Final == b.Final {
			return d
		}
		if a.Final {
			return -1
		}
		return 1
	})
	left := map[stockKey]int64{} // boards taken, of what is limited
	for k := range c.out.Cuts {
		if err := c.saw(&c.out.Cuts[k], left); err != nil {
			return err
		}
	}
	return nil
}

// sawn reports whether a piece comes out of a bought length that holds it.
func (c *counter) sawn(n *Need) bool {
	if n.Length <= 0 {
		return false
	}
	if n.Class == ClassLumber {
		sold := c.lengths(n.Treated)
		return n.Length <= sold[len(sold)-1]-2*c.job.Sawing().Trim
	}
	if n.Class != kit.ClassTube && n.Class != kit.ClassChannel && n.Class != kit.ClassPart {
		return false
	}
	it, ok := c.kit.Item(n.Item)
	return ok && len(it.Stock) > 0 && n.Length <= slices.Max(it.Stock)
}

// final reports whether a piece's size will not change any more: released fills,
// and steel of a run that is measured or does not depend on standing timber.
func (c *counter) final(n *Need) bool {
	if n.Piece < 0 {
		return false
	}
	p := &c.fit.Pieces[n.Piece]
	if p.Bay >= 0 || p.Run < 0 {
		return p.State.MayCut() && !p.Misfit
	}
	r := &c.lay.Runs[p.Run]
	timber := c.lay.Posts[r.From].Kind == frame.Timber && c.lay.Posts[r.To].Kind == frame.Timber
	return r.Measured || timber && !r.Framed()
}

// saw plans one material.
func (c *counter) saw(v *Cut, taken map[stockKey]int64) error {
	v.distinct()
	s := c.job.Sawing()
	v.Problem.Saw = cut.Saw{Kerf: s.Kerf, Trim: s.Trim, Keep: s.Keep, MostPieces: s.Most}
	v.Problem.Stock = c.bought(v, taken)
	if v.Priced {
		v.Problem.Saw.Credit, v.Problem.Saw.CreditStep = int64(s.Worth), s.Per
	}
	c.reach(v)
	plan, kept, err := c.planned(v)
	var short *cut.Infeasible
	if errors.As(err, &short) || errors.Is(err, cut.ErrBudget) {
		place := c.out.Needs[v.Needs[0]].Place
		if short != nil {
			place = c.out.Needs[v.Needs[short.Demand]].Place
		}
		c.find(finding.NoStock, place, "the yard has too few boards: "+err.Error(), phrase.Of("way.another-yard", phrase.With("key", phrase.Name("lumber.lengths"))))
		c.say("found.too-few-boards")
		for i := range v.Problem.Stock {
			if p := &v.Problem.Stock[i]; p.Price > 0 {
				p.Available = cut.Unlimited
			}
		}
		v.Order = nil
		plan, kept, err = c.planned(v)
	}
	if err != nil {
		return fmt.Errorf("cut plan of %s: %w", v.Name, err)
	}
	v.Plan, v.Kept = plan, kept
	for _, u := range plan.Used {
		taken[v.stockKey(u.Stock)] += u.Count
	}
	return nil
}

// distinct makes labels different where one place takes a part twice.
func (v *Cut) distinct() {
	seen := map[string]int{}
	for i := range v.Problem.Demands {
		d := &v.Problem.Demands[i]
		if seen[d.Label]++; seen[d.Label] > 1 {
			d.Label = fmt.Sprintf("%s (%d)", d.Label, seen[d.Label])
		}
	}
}

// stockKey tells stocks of the yard, the stack and the rack apart.
type stockKey struct {
	length  measure.Length
	price   int64
	square  bool
	treated bool
}

func (v *Cut) stockKey(i int) stockKey {
	s := &v.Problem.Stock[i]
	return stockKey{s.Length, s.Price, s.Square, v.Treated}
}

// bought is what there is to cut from. Without prices a board costs its length.
func (c *counter) bought(v *Cut, taken map[stockKey]int64) []cut.Stock {
	var out []cut.Stock
	if v.Class != ClassLumber {
		it, _ := c.kit.Item(v.Item)
		return byLength(it.Stock)
	}
	sells := c.job.Lumber.Sells(v.Treated)
	if v.Priced = sells[0].Price > 0; !v.Priced {
		out = byLength(c.lengths(v.Treated))
	}
	for i := range sells {
		l := &sells[i]
		k := slices.IndexFunc(out, func(s cut.Stock) bool { return s.Length == l.Length })
		if k < 0 {
			k = len(out)
			out = append(out, cut.Stock{Length: l.Length, Price: int64(l.Price), Available: cut.Unlimited})
		}
		if l.Available != nil {
			out[k].Available = int64(*l.Available)
		}
	}
	for i := range out {
		out[i].Defects = int64(c.job.Lumber.Defects) * 10
	}
	out = append(out, c.onHand(v.Treated)...)
	v.Problem.Stock = out
	for i := range out {
		if out[i].Available != cut.Unlimited {
			out[i].Available = max(0, out[i].Available-taken[v.stockKey(i)])
		}
	}
	return out
}

// byLength makes stocks that cost their length, in the largest unit that all
// are whole in.
func byLength(lengths []measure.Length) []cut.Stock {
	sorted := slices.Clone(lengths)
	slices.Sort(sorted)
	sorted = slices.Compact(sorted)
	unit := int64(0)
	for _, l := range sorted {
		for a, b := unit, int64(l); ; a, b = b%a, a {
			if a == 0 {
				unit = b
				break
			}
		}
	}
	var out []cut.Stock
	for _, l := range sorted {
		out = append(out, cut.Stock{Length: l, Price: int64(l) / unit, Available: cut.Unlimited})
	}
	return out
}

// buys reports whether boards of a line are among what the plan buys or cuts.
func (v *Cut) buys(key lineKey) bool {
	if v.Item != key.item || v.Treated != key.treated {
		return false
	}
	if slices.ContainsFunc(v.Plan.Used, func(u cut.Use) bool { return v.Problem.Stock[u.Stock].Length == key.length }) {
		return true
	}
	return v.Order != nil && slices.ContainsFunc(v.Order.Orders[v.Order.Middle].Boards, func(u cut.Use) bool { return v.Problem.Stock[u.Stock].Length == key.length })
}

// part is how many of a need's pieces come out of one length.
type part struct {
	length measure.Length
	count  int
}

// parts tells, for each board needed, out of which lengths it comes.
func (c *counter) parts() map[int][]part {
	out := map[int][]part{}
	for _, m := range c.made {
		out[m.need] = append(out[m.need], part{m.from, 1})
	}
	for k := range c.out.Cuts {
		v := &c.out.Cuts[k]
		if v.Class != ClassLumber {
			continue
		}
		for _, q := range v.Plan.Patterns {
			l := v.Problem.Stock[q.Stock].Length
			for _, x := range q.Pieces {
				need := v.Needs[x.Demand]
				n := int(min(q.Times*x.Count, math.MaxInt32))
				list := out[need]
				if at := slices.IndexFunc(list, func(p part) bool { return p.length == l }); at >= 0 {
					list[at].count += n
				} else {
					out[need] = append(list, part{l, n})
				}
			}
		}
	}
	return out
}

// boards is how many boards of a length are bought: those of the cut plans that
// the yard sells, or of the orders that are safe against the measuring, and
// spares for defects.
func (c *counter) boards(key lineKey) int {
	n := int64(0)
	for k := range c.out.Cuts {
		v := &c.out.Cuts[k]
		if v.Item != key.item || v.Treated != key.treated {
			continue
		}
		for st := range v.Problem.Stock {
			if s := &v.Problem.Stock[st]; s.Price > 0 && s.Length == key.length {
				n += v.Bought(st)
			}
		}
	}
	return int(n)
}
