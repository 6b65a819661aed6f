package build

import (
	"slices"

	"stallwright/engine/fit"
	"stallwright/engine/job"
)

// done marks what the job's states say is done: a frame that stands or is tight,
// channels that are lagged, a bay that is measured, cut or loaded. Of what no state
// can speak of (stakes, feet, pins, props) that is done which must come before
// something done. Nothing else is ever taken for done: a crew would be sent past it.
func (b *builder) done(waits []wait) {
	for r := range b.Layout.Runs {
		here := atRun(r)
		switch b.Fit.Frames[r] {
		case job.StepTight:
			b.tick(here, frameRoles...)
			b.tick(here, roleTighten)
		case job.StepStanding:
			b.tick(here, frameRoles...)
		case job.StepLagged:
			b.tick(here, roleLagLeft, roleLagRight)
		}
	}
	for v := range b.Layout.Bays {
		b.bayDone(v)
	}
	tacit := []role{roleSetOut, roleDatum, rolePour, roleSeat, roleMark, roleBrace, rolePinLow, rolePinHigh, roleSquare, roleRound, roleAnchor, roleFrames}
	next := make([][]int, len(b.nodes))
	for _, w := range waits {
		next[w.first] = append(next[w.first], w.then)
	}
	for _, i := range slices.Backward(b.sorted) {
		n := &b.nodes[i]
		if n.Done || !slices.Contains(tacit, n.role) && !(n.role == roleStand && n.spot.scope == ofPost) {
			continue
		}
		for _, k := range next[i] {
			n.Done = n.Done || b.nodes[k].Done
		}
	}
	for to, i := range b.sorted {
		b.out.Operations[to].Done = b.nodes[i].Done
	}
}

// frameRoles are what makes a frame stand.
var frameRoles = []role{roleLayout, roleBolt, roleStand, roleMove, roleDoorPosts, rolePostLow, rolePostHigh, roleEndLow, roleEndHigh, roleCorners, roleBottom, roleTop}

func (b *builder) tick(s spot, roles ...role) {
	for _, r := range roles {
		if i := b.node(r, s); i >= 0 {
			b.nodes[i].Done = true
		}
	}
}

// bayDone marks what was done in a bay.
func (b *builder) bayDone(v int) {
	here := atBay(v)
	run := b.Layout.Runs[b.Layout.Bays[v].Run].Name
	state := b.Fit.Bays[v].State
	if state.Order() >= fit.Released.Order() || state == fit.Measured && b.Fit.Progress().Ready(run) != nil {
		b.tick(here, roleMeasure)
	}
	if state.Order() >= fit.Cut.Order() {
		b.tick(here, roleCut)
	}
	if state == fit.Loaded {
		b.tick(here, roleTrim, roleLeaf, roleLeafBelow, roleLowest)
		for _, i := range b.stacks[v] {
			b.nodes[i].Done = true
		}
	}
}
