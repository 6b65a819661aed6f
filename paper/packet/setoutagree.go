package packet

import (
	"fmt"
	"math/big"

	"stallwright/engine/measure"
)

// near is how far lengths may lie apart that were each rounded to a nanometre
// from the same figures, over a few steps.
const near = 10

// setout checks what is staked: that every stake is a post, that places and
// checks are of one figure, and that sums add up.
func (a *agreement) setout(d *Document, n named) {
	seen := map[string]bool{}
	for i := range d.Setout {
		s := &d.Setout[i]
		at := fmt.Sprintf("setout[%d]", i)
		a.there(n.structures, s.Structure, "structure", "%s.structure", at)
		if seen[s.Structure] {
			a.fault(at+".structure", "%s is set out twice", s.Structure)
		}
		seen[s.Structure] = true
		if s.Pen != nil {
			a.setoutPen(s.Pen, n, at+".pen")
		}
		if s.Grid != nil {
			a.setoutGrid(s.Grid, n, at+".grid")
		}
		for k := range s.Lines {
			l := &s.Lines[k]
			a.there(n.posts, l.Zero, "post", "%s.lines[%d].zero", at, k)
			for q := range l.Marks {
				if v := l.Marks[q].At; !n.posts[v] && !n.bays[v] {
					a.fault(fmt.Sprintf("%s.lines[%d].marks[%d].at", at, k, q), "there is no post or bay %q in this plan", v)
				}
			}
		}
		if s.Bases != nil {
			a.setoutBases(s.Bases, n, at+".bases")
		}
		if s.Ground != nil {
			a.setoutGround(s.Ground, n, at+".ground")
		}
	}
}

// apart is the distance between two places, to the nanometre below.
func apart(x, y int64) int64 {
	dx, dy := big.NewInt(x), big.NewInt(y)
	sum := dx.Mul(dx, dx)
	return sum.Add(sum, dy.Mul(dy, dy)).Sqrt(sum).Int64()
}

// same says of a length that is not what it follows from.
func (a *agreement) same(path, what string, is, should int64) {
	if d := is - should; d > near || d < -near {
		a.fault(path, "%s is %s, but what it follows from makes it %s", what, measure.Length(is), measure.Length(should))
	}
}

func (a *agreement) setoutPen(p *SetoutPenDoc, n named, at string) {
	k := len(p.Piers)
	for i := range p.Piers {
		q := &p.Piers[i]
		path := fmt.Sprintf("%s.piers[%d]", at, i)
		a.there(n.posts, q.Post, "post", "%s.post", path)
		a.there(n.posts, q.AcrossTo, "post", "%s.across_to", path)
		a.same(path+".x.is_nm", "the radius at "+q.Post, apart(q.X.IsNM, q.Y.IsNM), p.Radius.IsNM)
		to := func(step int, got TapedDoc, key string) {
			v := &p.Piers[(i+step)%k]
			a.same(path+"."+key+".is_nm", q.Post+" to "+v.Post, got.IsNM, apart(v.X.IsNM-q.X.IsNM, v.Y.IsNM-q.Y.IsNM))
		}
		to(1, q.Next, "to_next")
		to(2, q.Skip, "skip_one")
		to(k/2, q.Across, "across")
	}
	a.same(at+".pin_circle.is_nm", "the pin circle", p.PinCircle.IsNM, 2*p.Radius.IsNM)
	a.same(at+".take_up.is_nm", "what the pins take up", p.TakeUp.IsNM, int64(k)*p.Play.IsNM)
	c := p.Closing
	if c == nil {
		return
	}
	var lacks int64
	for i := range c.Sections {
		q := &c.Sections[i]
		a.there(n.posts, q.From, "post", "%s.closing.sections[%d].from", at, i)
		a.there(n.posts, q.To, "post", "%s.closing.sections[%d].to", at, i)
		lacks = measure.Sum(lacks, q.LacksNM)
	}
	a.same(at+".closing.lacks_nm", "what the sections lack", c.LacksNM, lacks)
	a.same(at+".closing.end_nm", "the closing error", c.EndNM, apart(c.EndXNM, c.EndYNM))
	a.moves(c.Moves, n, at+".closing.moves")
	a.moves(c.Instead, n, at+".closing.instead")
}

func (a *agreement) moves(list []MoveDoc, n named, at string) {
	for i := range list {
		a.there(n.posts, list[i].Post, "post", "%s[%d].post", at, i)
		a.same(fmt.Sprintf("%s[%d].by_nm", at, i), "the move", list[i].ByNM, apart(list[i].OutwardNM, list[i].SidewaysNM))
	}
}

func (a *agreement) setoutGrid(g *SetoutGridDoc, n named, at string) {
	a.there(n.posts, g.From, "post", "%s.from", at)
	a.there(n.posts, g.To, "post", "%s.to", at)
	stakes := map[string]*StakeDoc{}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		path := fmt.Sprintf("%s.stakes[%d]", at, i)
		a.there(n.posts, k.Post, "post", "%s.post", path)
		stakes[k.Post] = k
		if len(k.Ties) == 2 {
			a.same(path+".ties[0].is_nm", "the tie from "+g.From, k.Ties[0].IsNM, apart(k.X.IsNM, k.Y.IsNM))
			a.same(path+".ties[1].is_nm", "the tie from "+g.To, k.Ties[1].IsNM, apart(k.X.IsNM-g.Length.IsNM, k.Y.IsNM))
		}
	}
	for i := range g.Squares {
		if q := &g.Squares[i]; len(q.Legs) == 2 {
			a.same(fmt.Sprintf("%s.right_angles[%d].between.is_nm", at, i), "the long side at "+q.At, q.Hyp.IsNM, apart(q.Legs[0].IsNM, q.Legs[1].IsNM))
		} else {
			a.fault(fmt.Sprintf("%s.right_angles[%d].legs", at, i), "a right angle has two legs")
		}
	}
	for i := range g.Frames {
		a.setoutFrame(&g.Frames[i], stakes, fmt.Sprintf("%s.frames[%d]", at, i))
	}
}

func (a *agreement) setoutFrame(f *FrameDoc, stakes map[string]*StakeDoc, at string) {
	if len(f.Corners) != 4 || len(f.Sides) != 4 || len(f.Diagonals) != 2 {
		a.fault(at+".corners", "a frame has four corners, four sides and two diagonals")
		return
	}
	for i, name := range f.Corners {
		if stakes[name] == nil {
			a.fault(fmt.Sprintf("%s.corners[%d]", at, i), "there is no stake %q", name)
			return
		}
	}
	between := func(i, k int) int64 {
		p, q := stakes[f.Corners[i]], stakes[f.Corners[k%4]]
		return apart(q.X.IsNM-p.X.IsNM, q.Y.IsNM-p.Y.IsNM)
	}
	for i := range f.Sides {
		a.same(fmt.Sprintf("%s.sides[%d].is_nm", at, i), f.Corners[i]+" to "+f.Corners[(i+1)%4], f.Sides[i].IsNM, between(i, i+1))
	}
	for i := range f.Diagonals {
		a.same(fmt.Sprintf("%s.diagonals[%d].is_nm", at, i), "the diagonal from "+f.Corners[i], f.Diagonals[i].IsNM, between(i, i+2))
	}
}

func (a *agreement) setoutBases(b *BasesDoc, n named, at string) {
	var concrete, dig int64
	bags := 0
	for i := range b.List {
		k := &b.List[i]
		path := fmt.Sprintf("%s.list[%d]", at, i)
		a.there(n.posts, k.Post, "post", "%s.post", path)
		if b.Top != nil && k.Ground != nil && k.Out != nil {
			a.same(path+".top_above_ground.is_nm", "the top of "+k.Post+"'s base above the ground", k.Out.IsNM, b.Top.IsNM-k.Ground.IsNM)
		}
		if k.Concrete != nil {
			concrete = measure.Sum(concrete, k.Concrete.IsNL)
		}
		if k.Dig != nil {
			dig = measure.Sum(dig, k.Dig.IsNL)
		}
		bags = min(bags+max(k.Bags, 0), most+1)
	}
	if bags != b.Bags {
		a.fault(at+".bags", "there are %d bags in all, but the bases take %d", b.Bags, bags)
	}
	if b.Concrete != nil && b.Concrete.IsNL != concrete {
		a.fault(at+".concrete.is_nl", "the concrete in all is not that of the bases")
	}
	if b.Dig != nil && b.Dig.IsNL != dig {
		a.fault(at+".dig.is_nl", "what is dug in all is not that of the bases")
	}
}

func (a *agreement) setoutGround(g *GroundDoc, n named, at string) {
	a.there(n.posts, g.HighAt, "post", "%s.high_at", at)
	a.there(n.posts, g.LowAt, "post", "%s.low_at", at)
	a.same(at+".fall.is_nm", "the fall", g.Fall.IsNM, g.High.IsNM-g.Low.IsNM)
	for i := range g.Levels {
		l := &g.Levels[i]
		var cut, fill int64
		for k := range l.Prisms {
			cut, fill = measure.Sum(cut, l.Prisms[k].CutNL), measure.Sum(fill, l.Prisms[k].FillNL)
		}
		// The sums are rounded once, of exact prisms; each prism by itself.
		slack := int64(len(l.Prisms) + 1)
		if d := cut - l.Cut.IsNL; d > slack || d < -slack {
			a.fault(fmt.Sprintf("%s.levels[%d].cut.is_nl", at, i), "the cut is not the sum of its prisms")
		}
		if d := fill - l.Fill.IsNL; d > slack || d < -slack {
			a.fault(fmt.Sprintf("%s.levels[%d].fill.is_nl", at, i), "the fill is not the sum of its prisms")
		}
		for k := range l.Stakes {
			a.there(n.posts, l.Stakes[k].Post, "post", "%s.levels[%d].stakes[%d].post", at, i, k)
		}
	}
}
