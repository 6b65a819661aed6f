package views

import (
	"unicode/utf8"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// roomLeast is the least width on paper of a room with a name of its own.
const roomLeast = 9 * draw.MM

// rooms names the rooms, with what they are for and their nominal sizes where
// there is room for it.
func (d *draft) rooms() {
	var narrow []int
	for _, i := range d.seenPlan.rooms {
		r := &d.Layout.Rooms[i]
		lo, hi := d.roomBox(r)
		width := d.scale.Paper(hi.X - lo.X)
		if width < roomLeast || letters(r.Name, 2300) > width-2*draw.MM {
			narrow = append(narrow, i)
			continue
		}
		d.room(r, lo, hi, width)
	}
	if len(narrow) > 0 {
		d.manyRooms(narrow)
	}
}

// letters is about the width that a text takes on paper.
func letters(s string, each draw.Micron) draw.Micron {
	return draw.Micron(utf8.RuneCountInString(s)) * each
}

// room names one room.
func (d *draft) room(r *frame.Room, lo, hi draw.Point, width draw.Micron) {
	in := d.paper(800)
	inner := box(lo.X+in, lo.Y+in, hi.X-in, hi.Y-in)
	mid := pt((lo.X+hi.X)/2, (lo.Y+hi.Y)/2)
	name := &draw.Label{At: mid, Texts: []string{r.Name}, Face: draw.Bold, Where: []draw.Where{draw.Centre}, Within: inner, Lead: draw.LeadNever}
	d.d.Add(name)
	room := d.words.Say(words.Room(r.Kind))
	w, h := d.nominal(r.Width), d.nominal(r.Depth)
	var texts []string
	for _, t := range []struct{ widest, text string }{
		{w + " × " + h, room + "\n" + w + " × " + h},
		{w + " ×  ", room + "\n" + w + " ×\n" + h},
		{room, room},
	} {
		if letters(t.widest, 1900) < width-3*draw.MM {
			texts = append(texts, t.text)
		}
	}
	if texts == nil || d.scale.Paper(hi.Y-lo.Y) < 20*draw.MM {
		return
	}
	name.At.Y += d.paper(4500)
	if letters(r.Name, 3200) < width-3*draw.MM {
		name.Height = draw.Text35
	}
	d.d.Add(&draw.Label{At: pt(mid.X, mid.Y-d.paper(2500)), Texts: texts, Where: []draw.Where{draw.Centre}, Within: inner, Lead: draw.LeadNever})
}

// nominal writes a room's size to the tape's mark: nothing is cut to it, and
// between posts that stand off their lines it is no round number.
func (d *draft) nominal(l measure.Length) string {
	return d.show(l.Round(d.Kit.Board.Mark, measure.Nearest))
}

// manyRooms names rooms too narrow for their names: neighbours together, from
// the first to the last.
func (d *draft) manyRooms(rooms []int) {
	for len(rooms) > 0 {
		n := 1
		for n < len(rooms) && rooms[n] == rooms[n-1]+1 && d.sameRow(rooms[n-1], rooms[n]) {
			n++
		}
		first, last := &d.Layout.Rooms[rooms[0]], &d.Layout.Rooms[rooms[n-1]]
		lo, hi := d.roomBox(first)
		lo2, hi2 := d.roomBox(last)
		text := first.Name
		if n > 1 {
			text = d.say("views.rooms", name("first", first.Name), name("last", last.Name), number("n", n))
		}
		d.d.Add(&draw.Label{At: pt((min(lo.X, lo2.X)+max(hi.X, hi2.X))/2, (lo.Y+hi.Y)/2), Texts: []string{text}, Face: draw.Bold})
		rooms = rooms[n:]
	}
}

// sameRow says whether two rooms share a front.
func (d *draft) sameRow(a, b int) bool {
	p, q := d.Layout.Rooms[a].Runs, d.Layout.Rooms[b].Runs
	return len(p) > 0 && len(q) > 0 && d.Layout.Runs[p[0]].Wall == d.Layout.Runs[q[0]].Wall
}

// roomBox is the upright rectangle between a room's post axes; of a room that
// is not square to the plan, its bounds.
func (d *draft) roomBox(r *frame.Room) (lo, hi draw.Point) {
	for i, c := range r.Corners {
		p := d.Layout.Posts[c].At
		if i == 0 {
			lo, hi = draw.Point(p), draw.Point(p)
		}
		lo = pt(min(lo.X, p.X), min(lo.Y, p.Y))
		hi = pt(max(hi.X, p.X), max(hi.Y, p.Y))
	}
	return lo, hi
}
