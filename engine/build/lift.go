package build

import (
	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// LiftOne is the most that one person should lift under the best conditions: the
// load constant of the revised lifting equation, 23 kg, about 51 lb (NIOSH
// Applications Manual, DHHS 94-110, revised 2021; the constant read as the
// Canadian Centre for Occupational Health and Safety states it). Reaching,
// twisting and bad grips lower it.
const LiftOne = 23 * measure.Kilogram

// LiftSource says where the limits for people come from.
const LiftSource = "NIOSH revised lifting equation, load constant (DHHS 94-110, rev. 2021); teams: HSE guidance L23 on the Manual Handling Operations Regulations 1992, paragraph 120"

// mostTeam is the most people that may lift one thing together: larger teams
// seldom work (HSE guidance L23, paragraph 120; read as reproduced).
const mostTeam = 4

// LiftTeam is the most that n people should lift together. Two do two thirds of
// what they could alone, three a half (HSE guidance L23, paragraph 120; read as
// reproduced); four are counted as a half too, of which it says nothing.
func LiftTeam(n int) measure.Mass {
	switch {
	case n <= 1:
		return LiftOne
	case n == 2:
		return LiftOne * 4 / 3
	}
	return LiftOne * measure.Mass(n) / 2
}

// lifts works out the heaviest thing of each operation and how many it takes.
func (b *builder) lifts() {
	for i := range b.nodes {
		if l := b.heaviest(&b.nodes[i]); l != nil {
			b.lift(&b.nodes[i], l)
		}
	}
}

// lift gives an operation the people that its heaviest thing takes, no more than
// the crew has; where those may not lift it, a lifting aid.
func (b *builder) lift(n *node, l *Lift) {
	if l.Carry == 0 {
		l.Carry = l.Mass
	}
	team := mostTeam
	if b.Job.Crew != nil {
		team = min(team, b.Job.Crew.People)
	}
	for l.People = 1; l.People < team && LiftTeam(l.People) < l.Carry; l.People++ {
	}
	if l.Aid = LiftTeam(l.People) < l.Carry; l.Aid {
		l.People = min(2, team) // one to lead the load, one to work the aid
		n.Tools = append(n.Tools, Tool{Key: "lifting-aid"})
	}
	n.Lift = l
	n.People = max(n.People, l.People)
}

// heaviest is the heaviest thing that an operation handles; nil for none.
func (b *builder) heaviest(n *node) *Lift {
	l := &Lift{Piece: -1}
	take := func(piece int, m measure.Mass) {
		if m > l.Mass {
			l.Piece, l.Mass = piece, m
		}
	}
	switch {
	case n.role == roleStand && n.spot.scope == ofRun, n.role == roleMove:
		// A frame is tilted up, or walked, with one end on the ground: half of it
		// comes on hands.
		l.Mass = b.frameMass(n.spot.at)
		l.Carry = l.Mass / 2
	case n.role == roleStand:
		for _, p := range n.Adds {
			take(p, b.mass(p))
		}
		l.Carry = l.Mass / 2
	case n.role == roleTrim:
		p := b.Fit.Bays[n.spot.at].Grille.Piece
		take(p, b.mass(p))
	case n.role == roleHang:
		l.Piece, l.Mass = b.Fit.Bays[n.spot.at].Door.Piece, b.leafMass(n.spot.at)
	default:
		for _, p := range n.Adds {
			take(p, b.mass(p))
		}
		for _, u := range n.Parts {
			v := &b.Takeoff.Needs[u.Need]
			if v.Count > 0 {
				take(-1, v.Mass/measure.Mass(v.Count))
			}
		}
	}
	if l.Mass == 0 {
		return nil
	}
	return l
}

// mass is what a piece weighs.
func (b *builder) mass(piece int) measure.Mass {
	if n, ok := b.ofPiece[piece]; ok {
		return b.Takeoff.Needs[n].Mass
	}
	return 0
}

// frameMass is what a frame weighs when it is stood: its tubes and, except where
// they are fixed to timber before, its posts, with what bolts them.
func (b *builder) frameMass(r int) measure.Mass {
	var m measure.Mass
	mounted := b.Layout.Runs[r].Assembly.Ends == kit.EndsMounted
	for _, p := range b.runOf[r] {
		if v := &b.Fit.Pieces[p]; !mounted || v.Kind == fit.Tube || !b.endOfRun(p) {
			m = measure.Sum(m, b.mass(p))
		}
	}
	for _, n := range b.needsAt(kit.JointFrame, r, -1) {
		if !mounted {
			m = measure.Sum(m, b.Takeoff.Needs[n].Mass)
		}
	}
	return m
}

// endOfRun says whether a piece is one of its run's own two end posts.
func (b *builder) endOfRun(piece int) bool {
	_, door := b.Layout.Post(b.Fit.Pieces[piece].Label)
	return b.Fit.Pieces[piece].Kind == fit.Post && !door
}

// leafMass is what the heaviest leaf of a doorway weighs with its boards and what
// goes with them.
func (b *builder) leafMass(v int) measure.Mass {
	d := b.Fit.Bays[v].Door
	var m measure.Mass
	for _, p := range b.Fit.Bays[v].Pieces {
		if k := b.Fit.Pieces[p].Kind; k == fit.Door || k == fit.Board && b.inPlace(p) {
			m = measure.Sum(m, b.mass(p))
		}
	}
	if need, ok := b.ofPiece[d.Piece]; ok {
		for _, n := range b.ofNeed[need] {
			if g := b.goesWith(d.Door, b.Takeoff.Needs[n].Item); g == kit.GoesLeaf || g == kit.GoesRollers || g == kit.GoesLowest {
				m = measure.Sum(m, b.Takeoff.Needs[n].Mass)
			}
		}
	}
	return m / measure.Mass(max(d.Leaves, 1))
}
