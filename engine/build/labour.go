package build

import "stallwright/engine/kit"

// work is how long a kind of operation takes, in minutes of one person: to begin,
// for each piece or part, and for each fastener; and how many people it takes even
// where nothing is heavy.
type work struct{ begin, piece, fastener, people int }

// minutes of each kind: common practice, no published source. A kit's own labour
// replaces them.
var minutes = map[Kind]work{
	SetOut:  {90, 0, 0, 2},
	Mark:    {6, 0, 0, 1},
	Pour:    {45, 8, 0, 2}, // with a powered auger; the pieces are bags
	Seat:    {6, 2, 0, 1},
	Layout:  {4, 2, 0, 2},
	Bolt:    {3, 2, 2, 1},
	Stand:   {6, 0, 2, 2},
	Move:    {8, 0, 0, 2},
	Pin:     {2, 0, 2, 2},
	Brace:   {12, 0, 0, 2},
	Lag:     {8, 2, 3, 2},
	Level:   {40, 0, 0, 2},
	Square:  {12, 0, 0, 2},
	Tighten: {4, 0, 1, 1},
	Anchor:  {4, 0, 6, 1},
	Unbrace: {8, 0, 0, 1},
	Measure: {5, 0, 0, 2},
	Cut:     {4, 2, 0, 1},
	Load:    {4, 3, 1, 1},
	Trim:    {8, 6, 0, 1},
	Capture: {6, 4, 0, 2},
	Fit:     {8, 6, 1, 2},
	Fasten:  {4, 4, 1, 1},
	Clamp:   {4, 4, 0, 1},
	Roof:    {10, 0, 3, 2},
	Track:   {12, 3, 2, 2},
	Rollers: {6, 4, 1, 1},
	Hang:    {12, 2, 0, 2},
	Adjust:  {15, 2, 0, 1},
	Handle:  {6, 5, 1, 1},
	Check:   {8, 0, 0, 1},
	Loosen:  {3, 2, 1, 1},
	Unload:  {3, 2, 0, 1},
	Unhang:  {10, 2, 0, 2},
}

// labour works out the minutes and people of each operation.
func (b *builder) labour() {
	for i := range b.nodes {
		n := &b.nodes[i]
		n.People, n.Minutes, n.WhyMinutes = b.effort(&n.Operation, b.bolted(n))
		if n.role == roleShim { // as the job reckons them when it compares ways to build a bay
			each, _, source := b.Job.Labour.Minutes()
			n.People, n.Minutes, n.WhyMinutes = 1, max(each*b.Fit.Bays[n.spot.at].Taper.ByShim.Shims, 1), source
		}
	}
}

// bolted is how many fasteners an operation handles: those it puts in, or, where
// it only tightens, those that are there.
func (b *builder) bolted(n *node) int {
	if n.role == roleTighten {
		return b.boltCount(n.spot.at)
	}
	count := 0
	for _, u := range n.Bolts {
		count += u.Count
	}
	return count
}

// effort is how many people an operation takes, how many minutes with them, and
// where that stands.
func (b *builder) effort(o *Operation, bolts int) (people, spent int, source string) {
	w, source := minutes[o.Kind], byPractice
	if l := b.kitLabour(o.Kind); l != nil {
		w = work{l.Begin, l.Piece, l.Fastener, max(l.People, 1)}
		source = "kit " + b.Kit.Kit + ", labour " + l.Do
		if l.Source != "" {
			source = l.Source
		}
	}
	pieces := len(o.Adds)
	if o.Kind == Cut {
		pieces = b.boardCount(o.Place.Bay)
	}
	if o.Kind == Trim {
		pieces = 1
	}
	for _, u := range o.Parts {
		pieces += u.Count
	}
	people = max(o.People, w.people)
	all := w.begin + w.piece*pieces + w.fastener*bolts
	return people, max((all+people-1)/people, 1), source
}

// kitLabour is what a kit says of a kind of operation; nil for nothing.
func (b *builder) kitLabour(k Kind) *kit.Labour {
	for i := range b.Kit.Labour {
		if b.Kit.Labour[i].Do == string(k) {
			return &b.Kit.Labour[i]
		}
	}
	return nil
}
