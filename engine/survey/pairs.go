package survey

import (
	"math"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// wrongPair looks for what else a set-aside distance may have been: another
// set-aside distance that it was changed over with, or a distance from one of
// its posts to another post than the one written.
func (p *plane) wrongPair(s *solution, i int, aside []int) []Guess {
	e := p.equation[i]
	if !e.kind.isDistance() {
		return nil
	}
	r := p.net.Readings
	d, sg := s.against(i)
	if sg == 0 {
		return nil
	}
	within := min(float64(3*sg)+metres(measure.Inch/32), math.Abs(d)/3)
	for _, j := range aside {
		o := p.equation[j]
		if j == i || !o.kind.isDistance() {
			continue
		}
		dj, sj := s.against(j)
		if sj == 0 {
			continue
		}
		if math.Abs(e.value-(o.value-dj)) <= within && math.Abs(o.value-(e.value-d)) <= within {
			return []Guess{{Slip: "changed over with " + r[j].label(), Say: phrase.Of("slip.changed-over", with("reading", r[j].say())), Value: r[j].written(), OtherPosts: true}}
		}
	}
	return p.otherPost(s, i, d, within)
}

// otherPost finds the post that reading i fits instead of one of its own. The
// nearest to the post it was written for comes first; at most two are named.
func (p *plane) otherPost(s *solution, i int, d, within float64) []Guess {
	e := p.equation[i]
	type fit struct {
		from, to int
		away     float64
	}
	var best [2]fit
	n := 0
	for k := 0; k < 2; k++ {
		keep, drop := e.post[k], e.post[1-k]
		for q := range p.net.Points {
			if q == keep || q == drop {
				continue
			}
			_, _, l := unit(s.xy[2*q]-s.xy[2*keep], s.xy[2*q+1]-s.xy[2*keep+1])
			if math.Abs(l-e.value) > within {
				continue
			}
			_, _, away := unit(s.xy[2*q]-s.xy[2*drop], s.xy[2*q+1]-s.xy[2*drop+1])
			f := fit{keep, q, away}
			switch {
			case n == 0 || away < best[0].away-1e-6:
				best[1], best[0] = best[0], f
				n++
			case n == 1 || away < best[1].away-1e-6:
				best[1] = f
				n++
			}
		}
	}
	var out []Guess
	for _, f := range best[:min(n, 2)] {
		out = append(out, Guess{
			Slip:  "taken from " + p.net.Points[f.from].Name + " to " + p.net.Points[f.to].Name + " instead",
			Say:   phrase.Of("slip.other-posts", called("from", p.net.Points[f.from].Name), called("to", p.net.Points[f.to].Name)),
			Value: toLength(e.value-d) - p.net.Readings[i].Hooks, OtherPosts: true,
		})
	}
	return out
}
