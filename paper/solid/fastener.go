package solid

import (
	"fmt"

	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// A fastener's head is so much of its diameter wide and high (common practice, no
// published source: near those of hexagon heads).
const (
	headWide = 3 // halves
	headHigh = 2 // thirds
)

// bolt is a fastener along an axis of its frame: its head's underside at from,
// its shank on to to, at (u, v) of the section.
func bolt(axis Axis, from, to, u, v, diameter measure.Length) []Prism {
	head := from - diameter*headHigh/3
	if to < from {
		head = from + diameter*headHigh/3
	}
	shank := rod(axis, min(from, to), max(from, to), u, v, diameter, rodCorners)
	cap := rod(axis, min(from, head), max(from, head), u, v, diameter*headWide/2, 6)
	cap.Round = false
	return []Prism{cap, shank}
}

// bought is a fastener as the take-off counts it for a joint of a run or a post.
type bought struct {
	fastener *kit.Fastener
	length   measure.Length
	count    int
}

// fasteners lists what holds a kind of joint at a place, by the take-off.
func (b *builder) fasteners(kind kit.JointKind, place string, kinds ...kit.FastenerKind) []bought {
	var out []bought
	for i := range b.Kit.Joints {
		if j := &b.Kit.Joints[i]; j.At == kind {
			for _, n := range b.needs[place] {
				need := &b.Takeoff.Needs[n]
				f := b.Kit.Fastener(need.Item)
				if need.Item != j.Use || f == nil {
					continue
				}
				for _, k := range kinds {
					if f.Kind == k {
						out = append(out, bought{f, need.Length, need.Count})
					}
				}
			}
		}
	}
	// Two rules of one joint may name one fastener: each need counts once.
	seen := map[bought]bool{}
	kept := out[:0]
	for _, v := range out {
		if !seen[v] {
			seen[v] = true
			kept = append(kept, v)
		}
	}
	return kept
}

// fastener adds a fastener, named by what it holds.
func (b *builder) fastener(name string, f *kit.Fastener, run, post int, g Frame, list []Prism) {
	s := Solid{Name: name, Piece: -1, Item: f.ID, Kind: Hardware, Run: run, Bay: -1, Post: post, Parts: parts(g, list...), Sheer: true}
	switch {
	case run >= 0:
		s.Structure = b.Layout.Runs[run].Structure
	default:
		s.Structure = b.Layout.Posts[post].Structure
	}
	b.add(s)
}

// lags go through a web into standing timber, spread evenly from bottom to top.
func (b *builder) lags(run, side int, kind kit.JointKind, m meeting, low, high measure.Length) {
	r := &b.Layout.Runs[run]
	for _, v := range b.fasteners(kind, r.Name, kit.LagScrew) {
		// The take-off counts a run's joints one by one, or both together.
		n := v.count
		if !b.perJoint(r.Name, v) {
			n = (v.count + 1 - side) / 2
		}
		for k := range n {
			z := low + (high-low)*measure.Length(2*k+1)/measure.Length(2*n)
			name := fmt.Sprintf("%s/%s lag%d", r.Name, [2]string{"left", "right"}[side], k+1)
			b.fastener(name, v.fastener, run, [2]int{r.From, r.To}[side], m.frame, bolt(Along, m.web, m.web-v.length, 0, z, v.fastener.Diameter))
		}
	}
}

// perJoint says whether the take-off has a need for each of a run's two joints.
func (b *builder) perJoint(place string, v bought) bool {
	n := 0
	for _, i := range b.needs[place] {
		if need := &b.Takeoff.Needs[i]; need.Item == v.fastener.ID && need.Count == v.count && need.Length == v.length {
			n++
		}
	}
	return n >= 2
}

// cornerBolts go across a tube through a bracket's two plates: of the frame's
// bolts an even share for each bracket.
func (b *builder) cornerBolts(run int, name string, lo, hi measure.Length, t tubeAt, plate measure.Length) {
	r := &b.Layout.Runs[run]
	for _, v := range b.fasteners(kit.JointFrame, r.Name, kit.Bolt) {
		n := v.count / max(b.bracketCount(run), 1)
		for k := range n {
			x := lo + (hi-lo)*measure.Length(2*k+1)/measure.Length(2*n)
			face := -t.half - plate
			b.fastener(fmt.Sprintf("%s bolt%d", name, k+1), v.fastener, run, -1, b.run[run].frame,
				bolt(Across, face, max(face+v.length, t.half+plate), (t.z[0]+t.z[1])/2, x, v.fastener.Diameter))
		}
	}
}

// bracketCount is how many brackets a run's frame takes.
func (b *builder) bracketCount(run int) int {
	r := &b.Layout.Runs[run]
	n := 0
	for _, i := range b.needs[r.Name] {
		if need := &b.Takeoff.Needs[i]; need.Item == r.Assembly.Bracket {
			n += need.Count
		}
	}
	return n
}

// baseBolts stand in the corners of what a post stands on.
func (b *builder) baseBolts(i int, f Frame, half, top measure.Length) {
	p := &b.Layout.Posts[i]
	n := 0
	for _, k := range b.needs[p.Name] {
		need := &b.Takeoff.Needs[k]
		v := b.Kit.Fastener(need.Item)
		if v == nil || v.Kind != kit.Anchor {
			continue
		}
		for range need.Count {
			corner := [4][2]measure.Length{{-1, -1}, {1, 1}, {1, -1}, {-1, 1}}[n%4]
			n++
			b.fastener(fmt.Sprintf("%s/anchor%d", p.Name, n), v, -1, i, f, bolt(Up, top, top-max(need.Length, plateThick), corner[0]*half, corner[1]*half, v.Diameter))
		}
	}
}
