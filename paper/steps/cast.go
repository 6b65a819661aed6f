package steps

import (
	"math"
	"slices"

	"stallwright/engine/build"
	"stallwright/paper/solid"
)

// kinds says whether the step holds an operation of one of some kinds.
func (p *picture) has(kinds ...build.Kind) bool {
	for _, k := range p.step.Ops {
		if slices.Contains(kinds, p.build.Operations[k].Kind) {
			return true
		}
	}
	return false
}

// choose casts the solids: what the step adds or moves, and what stands.
func (p *picture) choose() {
	if bay := p.bench(); bay >= 0 {
		p.leafOnBench(bay)
		return
	}
	moved := p.moved()
	for _, i := range p.from[p.structure()] {
		s := &p.scene.Solids[i]
		at := p.appears[i]
		if at > p.last {
			continue
		}
		if _, prop := p.propOf[i]; p.unhung(s) || prop && at < p.first {
			continue
		}
		a := actor{solid: i, op: -1}
		if at >= p.first {
			a.added, a.op = true, at
		} else if op, ok := moved[i]; ok {
			a.added, a.op = true, op
		}
		a.laid = p.lying(s, at)
		p.cast = append(p.cast, a)
	}
}

// groundCut is how deep what stands in the ground is drawn, but while it is
// poured, in metres.
const groundCut = 0.05

// cutAtGround is a mesh without what lies deeper.
func cutAtGround(m *solid.Mesh) *solid.Mesh {
	out := *m
	out.Points = slices.Clone(m.Points)
	for i := range out.Points {
		out.Points[i].Z = math.Max(out.Points[i].Z, -groundCut)
	}
	return &out
}
