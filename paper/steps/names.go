package steps

import (
	"fmt"
	"slices"
	"stallwright/engine/build"
	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/paper/solid"
	"strings"
)

// names gathers what is to be labelled: each piece added, boards of one length
// that stand over each other together.
func (p *picture) names() []name {
	type row struct {
		bay    int
		length measure.Length
		side   string // of boards beside a window
		move   solid.Vec
	}
	var out []name
	open := map[row]int{} // the label that a row of boards goes on with
	for _, i := range p.inOrder() {
		a := &p.cast[i]
		s := &p.scene.Solids[a.solid]
		if p.isBase(a.solid) {
			out = append(out, name{code: p.place(strings.TrimSuffix(s.Name, "/base")), actors: []int{i}})
			continue
		}
		if s.Piece < 0 || !p.own(a) {
			continue
		}
		q := &p.Fit.Pieces[s.Piece]
		if q.Kind != fit.Board {
			out = append(out, name{actors: []int{i}})
			continue
		}
		this := row{q.Bay, q.Length, strings.TrimLeft(q.Label[strings.LastIndex(q.Label, "/c")+2:], "0123456789"), a.move}
		if n, ok := open[this]; ok {
			last := p.piece(out[n].actors[len(out[n].actors)-1]).Course
			if q.Course == last+1 || q.Course == last-1 {
				out[n].actors = append(out[n].actors, i)
				continue
			}
		}
		open[this] = len(out)
		out = append(out, name{actors: []int{i}})
	}
	for k := range out {
		if out[k].code == "" {
			p.word(&out[k])
		}
	}
	return p.few(append(out, p.movedNames()...))
}

// movedNames are the frames and leaves that a step stands up, tightens or hangs.
func (p *picture) movedNames() []name {
	var out []name
	if p.has(build.Square) {
		return p.rooms()
	}
	seen := map[string]bool{}
	for i := range p.cast {
		a := &p.cast[i]
		if !a.added || p.own(a) {
			continue
		}
		s := &p.scene.Solids[a.solid]
		if s.Piece < 0 {
			continue
		}
		code := ""
		switch q := &p.Fit.Pieces[s.Piece]; {
		case q.Kind == fit.Door:
			code = p.short(q.Label)
		case q.Kind == fit.Tube && q.Z > 0:
			code = p.place(p.Layout.Runs[s.Run].Name)
		}
		if code != "" && !seen[code] {
			seen[code] = true
			out = append(out, name{code: code, actors: []int{i}})
		}
	}
	return out
}

// rooms are the rooms that a step squares, named where their diagonals cross.
func (p *picture) rooms() []name {
	var out []name
	for _, k := range p.step.Ops {
		o := &p.build.Operations[k]
		if o.Kind != build.Square || o.Place.Room < 0 {
			continue
		}
		r := &p.Layout.Rooms[o.Place.Room]
		var c solid.Vec
		for _, post := range r.Corners {
			v := p.Layout.Posts[post].At
			c = c.Add(solid.Vec{X: v.X.Metres(), Y: v.Y.Metres()})
		}
		c = c.Times(1 / float64(len(r.Corners)))
		c.Z = p.Layout.Structures[r.Structure].Height.Metres()
		out = append(out, name{code: p.place(r.Name), fixed: &c})
	}
	return out
}

// own says whether a step brings an actor, rather than moving what it brought
// before.
func (p *picture) own(a *actor) bool { return p.appears[a.solid] >= p.first }

// inOrder lists the added actors in the order they go in.
func (p *picture) inOrder() []int {
	at := map[int]int{}
	for n, piece := range p.step.Adds {
		at[piece] = n
	}
	var out []int
	for i := range p.cast {
		if p.cast[i].added {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		x, y := p.scene.Solids[p.cast[a].solid].Piece, p.scene.Solids[p.cast[b].solid].Piece
		if x >= 0 && y >= 0 {
			return at[x] - at[y]
		}
		return a - b
	})
	return out
}

// mostNames is how many labels one picture has room for.
const mostNames = 18

// few keeps the labels that there is room for.
func (p *picture) few(list []name) []name {
	if len(list) > mostNames {
		return list[:mostNames]
	}
	return list
}

// word writes a label: the code that is on the piece, and its size.
func (p *picture) word(n *name) {
	first := p.piece(n.actors[0])
	end := p.piece(n.actors[len(n.actors)-1])
	n.code = p.short(first.Label)
	if len(n.actors) > 1 {
		a, b := p.short(first.Label), p.short(end.Label)
		if first.Course > end.Course {
			a, b = b, a
		}
		n.code = a + " – " + b
	}
	if l := first.Length; l > 0 && p.everywhere(n) {
		n.text = p.words.Length(l)
		if len(n.actors) > 1 {
			n.text = fmt.Sprintf("%d × %s", len(n.actors), n.text)
		}
	}
}

func (p *picture) piece(actor int) *fit.Piece {
	return &p.Fit.Pieces[p.scene.Solids[p.cast[actor].solid].Piece]
}

// everywhere says whether the pieces that a label names are as long in every step
// that the picture serves.
func (p *picture) everywhere(n *name) bool {
	for _, i := range n.actors {
		k := slices.Index(p.step.Adds, p.scene.Solids[p.cast[i].solid].Piece)
		for _, s := range p.also {
			if k < 0 || k >= len(s.Adds) || p.Fit.Pieces[s.Adds[k]].Length != p.piece(i).Length {
				return false
			}
		}
	}
	return true
}

// short is a piece's label without what the step's title says already.
func (p *picture) short(label string) string {
	at, part, ok := strings.Cut(label, "/")
	switch {
	case !ok:
		return p.place(label)
	case at == p.step.Place.Name:
		return part
	}
	return p.place(at) + "/" + part
}

// place is what a place is called on the page.
func (p *picture) place(name string) string {
	if p.called == nil {
		return name
	}
	return p.called(name)
}
