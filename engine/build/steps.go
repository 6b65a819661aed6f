package build

import (
	"fmt"
	"strings"
)

// mostOps is how many operations one page shows, and mostLap how many of a round
// on which nothing is added (common practice: few steps at a time; M. Agrawala et
// al., Designing Effective Step-by-Step Assembly Instructions, 2003, asks for it
// without a number).
const (
	mostOps = 6
	mostLap = 12
)

// steps puts the operations on pages.
func (b *builder) steps() {
	ops := b.out.Operations
	seen := map[string]int{}
	for i := 0; i < len(ops); {
		n := &b.nodes[b.sorted[i]]
		j := i + b.onPage(i)
		s := Step{No: len(b.out.Steps) + 1, Title: n.title, Place: b.common(i, j), First: i, Like: -1, Done: true}
		for k := i; k < j; k++ {
			ops[k].Step = len(b.out.Steps)
			s.Ops = append(s.Ops, k)
			s.Adds = append(s.Adds, ops[k].Adds...)
			s.Done = s.Done && ops[k].Done
		}
		if len(s.Adds) > 0 {
			key := b.alike(&s)
			if first, ok := seen[key]; ok {
				s.Like = first
			} else {
				seen[key] = len(b.out.Steps)
			}
		}
		b.out.Steps = append(b.out.Steps, s)
		i = j
	}
}

// onPage is how many operations from the i-th on come on one page: as many as
// belong together, or where they are too many an even share of them.
func (b *builder) onPage(i int) int {
	n := &b.nodes[b.sorted[i]]
	most := mostOps
	if b.lap(n) {
		most = mostLap
	}
	j := i + 1
	for j < len(b.sorted) && b.samePage(n, &b.nodes[b.sorted[j]]) {
		j++
	}
	pages := (j - i + most - 1) / most
	return (j - i + pages - 1) / pages
}

// lap says whether an operation is one of a round through the whole structure.
func (b *builder) lap(n *node) bool {
	switch n.role {
	case roleMeasure, roleShim, roleCut, roleTrim, roleTighten, roleFrames, roleSquare, roleCheck, rolePour, roleSeat, roleAnchor:
		return true
	}
	return false
}

func (b *builder) samePage(a, c *node) bool {
	return a.page == c.page && a.Place.Structure == c.Place.Structure && b.lap(a) == b.lap(c)
}

// common is the narrowest place that holds all of some operations.
func (b *builder) common(from, to int) Place {
	p := b.out.Operations[from].Place
	for i := from + 1; i < to; i++ {
		q := &b.out.Operations[i].Place
		if p.Bay != q.Bay {
			p.Bay = -1
		}
		if p.Post != q.Post {
			p.Post = -1
		}
		if p.Run != q.Run && q.Post < 0 {
			p.Run = -1
		}
		if p.Room != q.Room {
			p.Room = -1
		}
		if p.Wall != q.Wall && q.Post < 0 {
			p.Wall = -1
		}
	}
	l := b.Layout
	switch {
	case p.Bay >= 0:
		p.Name = l.Bays[p.Bay].Name
	case p.Run >= 0:
		p.Name = l.Runs[p.Run].Name
	case p.Post >= 0:
		p.Name = l.Posts[p.Post].Name
	case p.Room >= 0:
		p.Name = l.Rooms[p.Room].Name
	case p.Wall >= 0:
		p.Name = l.Walls[p.Wall].Name
	case p.Structure >= 0:
		p.Name = l.Structures[p.Structure].Name
	}
	return p
}

// alike is the same for steps that do the same with pieces of the same sizes.
func (b *builder) alike(s *Step) string {
	var w strings.Builder
	for _, i := range s.Ops {
		o := &b.out.Operations[i]
		fmt.Fprintf(&w, "%s %s", o.Kind, o.Do.Key)
		for _, p := range o.Adds {
			v := &b.Fit.Pieces[p]
			fmt.Fprintf(&w, "|%s %d %d %d %d %t %v", v.Item, v.Length, v.Height, v.X, v.Z, v.Treated, v.Notches)
		}
		for _, list := range [][]Use{o.Parts, o.Bolts} {
			for _, u := range list {
				fmt.Fprintf(&w, "+%s %d %d", u.Item, u.Length, u.Count)
			}
		}
		w.WriteByte('\n')
	}
	return w.String()
}
