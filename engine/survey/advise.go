package survey

import (
	"math"
	"sort"

	"stallwright/engine/phrase"
)

// Limits of advice.
const (
	mostAdvice = 12   // readings proposed at once
	mostLoose  = 24   // loose posts looked at
	mostAround = 48   // those and posts near them that are paired up
	mostWeak   = 40   // unchecked readings looked at for checks
	weakCheck  = 0.05 // a redundancy number below this is as good as no check
	knownWell  = 0.05 // m²: a proposal that tells less than this of a loose post tells nothing
)

// wanted proposes the readings that are missing: first those that tie loose
// posts down, else those that check what nothing checks.
func (p *plane) wanted(s *solution, loose []bool) []Advice {
	var seed []int
	for i, l := range loose {
		if l {
			seed = append(seed, i)
		}
	}
	if len(seed) > 0 {
		return p.tieDown(s, seed)
	}
	return p.check(s)
}

// nearest lists a post's neighbours as drawn, nearest first.
func (p *plane) nearest(i, most int) []int {
	type near struct {
		post int
		away float64
	}
	all := make([]near, 0, len(p.net.Points))
	for q := range p.net.Points {
		if q != i {
			_, _, l := unit(p.drawn[2*q]-p.drawn[2*i], p.drawn[2*q+1]-p.drawn[2*i+1])
			all = append(all, near{q, l})
		}
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].away < float64(all[b].away*(1-1e-9)) })
	var out []int
	for _, n := range all[:min(most, len(all))] {
		out = append(out, n.post)
	}
	return out
}

// tieDown proposes readings one after another, each the one that tells most
// about where loose posts are (the largest ratio of what is unknown about its
// value to its own precision), until they are tied.
func (p *plane) tieDown(s *solution, loose []int) []Advice {
	loose = loose[:min(len(loose), mostLoose)]
	posts := append([]int(nil), loose...)
	have := map[int]bool{}
	for _, i := range loose {
		have[i] = true
	}
	for _, i := range loose {
		for _, q := range p.nearest(i, 6) {
			if !have[q] && len(posts) < mostAround {
				have[q] = true
				posts = append(posts, q)
			}
		}
	}
	q := map[int][]float64{}
	for _, i := range posts {
		for a := 0; a < 2; a++ {
			if u := s.column[2*i+a]; u >= 0 {
				q[u] = s.inverseColumn(u)
			}
		}
	}
	at := func(u, v int) float64 { return q[u][v] }
	taken := p.taken()
	var list []candidate
	for x, a := range posts {
		for _, b := range posts[x+1:] {
			if c, ok := p.distanceCandidate(s, a, b, taken); ok {
				list = append(list, c)
			}
		}
	}
	list = append(list, p.lineCandidates(s, posts)...)
	var out []Advice
	for len(out) < mostAdvice {
		best, next := 0.0, -1
		for k := range list {
			spread := list[k].spread(at)
			if gain := spread / float64(list[k].sigma*list[k].sigma); spread > knownWell && gain > float64(best*(1+1e-6)) {
				best, next = gain, k
			}
		}
		if next < 0 {
			break
		}
		out = append(out, p.advice(list[next].equation, p.tieReason(list[next].equation, loose)))
		list[next].absorb(q, s.design.Unknowns)
		list = append(list[:next], list[next+1:]...)
	}
	return out
}

// tieReason says which loose post a proposal is for.
func (p *plane) tieReason(e equation, loose []int) phrase.Phrase {
	for _, l := range loose {
		for _, q := range e.post[:e.kind.posts()] {
			if q == l {
				return phrase.Of("slip.ties-post", called("post", p.net.Points[l].Name))
			}
		}
	}
	return phrase.Of("slip.ties-posts")
}

// absorb takes the candidate as read: the inverse's columns lose what it tells.
func (c *candidate) absorb(q map[int][]float64, unknowns int) {
	gain := make([]float64, unknowns)
	for k, u := range c.cols {
		for x, v := range q[u] {
			gain[x] += float64(c.vals[k] * v)
		}
	}
	f := float64(c.sigma*c.sigma) + max(0, c.dot(gain))
	for u, col := range q { // each column on its own: the order does not matter
		g := gain[u] / f
		for x := range col {
			col[x] -= float64(g * gain[x])
		}
	}
}

// lineCandidates proposes offsets from the string between the two posts
// farthest apart: what helps where posts stand in a row and no distance can
// tell how far one stands out of it.
func (p *plane) lineCandidates(s *solution, posts []int) []candidate {
	far, a, b := 0.0, -1, -1
	for x, i := range posts {
		for _, j := range posts[x+1:] {
			_, _, l := unit(s.xy[2*j]-s.xy[2*i], s.xy[2*j+1]-s.xy[2*i+1])
			if l > float64(far*(1+1e-9)) && l <= metres(p.opt.Reach) {
				far, a, b = l, i, j
			}
		}
	}
	if a < 0 {
		return nil
	}
	var out []candidate
	for _, i := range posts {
		if i == a || i == b {
			continue
		}
		e := equation{kind: Offset, post: [3]int{i, a, b}, sigma: p.opt.Line.sigma(far)}
		if c, ok := p.candidate(s, e); ok {
			out = append(out, c)
		}
	}
	return out
}

// check proposes the distance that puts the most check on readings
// that have none.
func (p *plane) check(s *solution) []Advice {
	var weak, seed []int
	for i := range p.equation {
		if s.active[i] && s.redundancy(i) < weakCheck && len(weak) < mostWeak {
			weak = append(weak, i)
			seed = append(seed, p.equation[i].post[:p.equation[i].kind.posts()]...)
		}
	}
	if len(weak) == 0 {
		return nil
	}
	near := p.around(seed, s.active)
	at := s.covariances()
	reach := make([][]float64, len(weak))
	for k, i := range weak {
		b := make([]float64, s.design.Unknowns)
		s.design.AddTransposed(i, 1/s.sigma[i], b)
		reach[k] = s.factor.Solve(b)
	}
	taken := p.taken()
	best, proposal := 0.0, candidate{}
	for x, a := range near {
		for _, b := range near[x+1:] {
			c, ok := p.distanceCandidate(s, a, b, taken)
			if !ok {
				continue
			}
			variance := float64(c.sigma*c.sigma) + c.spread(at)
			gain := 0.0
			for k := range weak {
				g := c.dot(reach[k])
				// √ of the redundancy gained: what the smallest blunder found
				// goes with, so that many modest checks beat one full one.
				gain += math.Sqrt(float64(g*g) / variance)
			}
			if gain > float64(best*(1+1e-9)) {
				best, proposal = gain, c
			}
		}
	}
	if best == 0 {
		return nil
	}
	return []Advice{p.advice(proposal.equation, phrase.Of("slip.checks-unchecked"))}
}
