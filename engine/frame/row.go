package frame

import (
	"fmt"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// row is one row of rooms, seen from its own front: place k of a row is the
// k-th line of posts from the left.
type row struct {
	front, back []int // posts, from left to right seen from the front
	rooms       []job.Room
	width       measure.Length // room width where a room does not state one
	shareBack   bool           // the back wall was framed with the other row
	stated      bool           // its rooms are stated, not like the first row's
	number      int            // rooms of earlier rows
	opposite    bool           // the second row
}

// rowJob is what the rows of one structure have in common.
type rowJob struct {
	name                  string
	structure             int
	use                   *kit.RowUse
	height                measure.Length
	fronts                *job.Front
	dividers, sides, back *job.Fill
	pos                   document.Pos
	path                  string
}

// rows frames the rooms of one row: fronts, backs, and the walls between.
func (b *builder) rows(rj rowJob, r row) {
	first := len(b.out.Rooms)
	at := 0 // place in the row
	names := make([]string, len(r.rooms))
	for i := range r.rooms {
		rm := &r.rooms[i]
		names[i] = rm.Name
		if rm.Name == "" {
			names[i] = fmt.Sprintf("%s%d", rj.name, r.number+i+1)
		}
		n := max(rm.Spans, 1)
		kind := rm.Kind
		if kind == "" {
			kind = job.Stall
		}
		b.out.Rooms = append(b.out.Rooms, Room{
			Name: names[i], Kind: kind, Structure: rj.structure,
			Corners: []int{r.front[at], r.front[at+n], r.back[at+n], r.back[at]},
			Width:   distance(b.out.Posts[r.front[at]].At, b.out.Posts[r.front[at+n]].At),
			Depth:   distance(b.out.Posts[r.front[at]].At, b.out.Posts[r.back[at]].At),
		})
		at += n
	}
	suffix := ""
	if r.opposite {
		suffix = " second"
	}
	b.fronts(rj, r, first, names, rj.name+suffix+" front")
	if r.shareBack {
		b.sharedBacks(rj, r, first)
	} else {
		b.backs(rj, r, first, names, rj.name+suffix+" back")
	}
	b.dividing(rj, r, first, names)
}

// places calls f for each room with the place of its left post.
func places(rooms []job.Room, f func(i, at, spans int)) {
	at := 0
	for i := range rooms {
		n := max(rooms[i].Spans, 1)
		f(i, at, n)
		at += n
	}
}

func (b *builder) fronts(rj rowJob, r row, first int, names []string, wallName string) {
	wall := b.wall(wallName, rj.structure, job.WallFront)
	places(r.rooms, func(i, at, spans int) {
		rm := &r.rooms[i]
		f, pos, path := rm.Front, rj.pos, rj.path
		if f != nil {
			pos, path = f.Pos(), path+".rooms.front"
		} else if rj.fronts != nil && needsDoor(b.out.Rooms[first+i].Kind) {
			f, pos, path = rj.fronts, rj.fronts.Pos(), path+".fronts"
		}
		if pos.IsZero() {
			pos = rm.Pos()
		}
		if pos.IsZero() {
			pos = rj.pos
		}
		for k := range spans {
			w := wish{
				name: names[i] + "-front", wall: wall, role: job.WallFront, from: r.front[at+k], to: r.front[at+k+1],
				assembly: rj.use.Front, door: rj.use.Door, room: first + i, height: rj.height, pos: pos, path: path,
			}
			if spans > 1 {
				w.name = fmt.Sprintf("%s-front%d", names[i], k+1)
			}
			w.front = frontOf(f, b.out.Rooms[first+i].Kind, k)
			if w.front != nil && w.front.Whole != nil {
				w.fill, w.front = w.front.Whole, nil
			}
			b.run(w)
		}
	})
}

// needsDoor says whether a room of this kind has a doorway unless told
// otherwise.
func needsDoor(k job.RoomKind) bool {
	switch k {
	case job.Wash, job.Passage, job.OpenRoom:
		return false
	}
	return true
}

// frontOf is the front of the k-th post spacing of a room.
func frontOf(f *job.Front, kind job.RoomKind, k int) *job.Front {
	if f == nil {
		if !needsDoor(kind) {
			return &job.Front{Whole: &job.Fill{Kind: job.FillOpen}}
		}
		f = &job.Front{}
	}
	if f.Whole != nil || max(f.Span, 1) == k+1 {
		return f
	}
	fill := panelFill(nil, f.Panels)
	return &job.Front{Where: f.Where, Whole: &fill}
}

func (b *builder) backs(rj rowJob, r row, first int, names []string, wallName string) {
	wall := b.wall(wallName, rj.structure, job.WallBack)
	places(r.rooms, func(i, at, spans int) {
		fill, pos := rj.back, rj.pos
		if own := r.rooms[i].Back; own != nil {
			fill = own
		}
		if fill == nil && !needsDoor(b.out.Rooms[first+i].Kind) {
			fill = &job.Fill{Kind: job.FillOpen}
		}
		if fill != nil && !fill.Pos().IsZero() {
			pos = fill.Pos()
		}
		for k := range spans {
			w := wish{
				name: names[i] + "-back", wall: wall, role: job.WallBack, from: r.back[at+k], to: r.back[at+k+1],
				assembly: rj.use.Back, fill: fill, room: first + i, height: rj.height, pos: pos, path: rj.path + ".back",
			}
			if spans > 1 {
				w.name = fmt.Sprintf("%s-back%d", names[i], k+1)
			}
			b.run(w)
		}
	})
}

// sharedBacks gives the rooms of a row the back walls framed with the row behind
// it, and refuses what they ask of these walls themselves.
func (b *builder) sharedBacks(rj rowJob, r row, first int) {
	runs := map[[2]int]int{}
	for i := range b.out.Runs {
		if v := &b.out.Runs[i]; v.Structure == rj.structure && v.Role == job.WallBack {
			runs[[2]int{v.To, v.From}] = i
		}
	}
	places(r.rooms, func(i, at, spans int) {
		if own := r.rooms[i].Back; own != nil && r.stated {
			b.problem(own.Pos(), rj.path+".second", string(own.Kind), "rows back to back share their back wall", "state what fills it with the room of the first row")
		}
		for k := range spans {
			if run, ok := runs[[2]int{r.back[at+k], r.back[at+k+1]}]; ok {
				b.out.Rooms[first+i].Runs = append(b.out.Rooms[first+i].Runs, run)
			}
		}
	})
}

// dividing frames the walls between rooms and at the row's two ends, each a
// wall of its own, from the back post to the front post.
func (b *builder) dividing(rj rowJob, r row, first int, names []string) {
	last := len(r.rooms)
	at := 0
	for i := 0; i <= last; i++ {
		w := wish{
			role: job.WallDivider, from: r.back[at], to: r.front[at], assembly: rj.use.Divider,
			fill: rj.dividers, room: first + min(i, last-1), height: rj.height, pos: rj.pos, path: rj.path + ".dividers",
		}
		switch i {
		case 0:
			w.name, w.role, w.assembly, w.path = names[0]+"-left", job.WallSide, rj.use.Side, rj.path+".sides"
			w.fill = firstFill(r.rooms[0].Left, rj.sides)
		case last:
			w.name, w.role, w.assembly, w.path = names[last-1]+"-right", job.WallSide, rj.use.Side, rj.path+".sides"
			w.fill = firstFill(r.rooms[last-1].Right, rj.sides)
		default:
			w.name = names[i-1] + "-" + names[i]
			w.fill = b.between(&r.rooms[i-1], &r.rooms[i], names[i-1], names[i], rj)
			if w.fill == nil && !needsDoor(b.out.Rooms[first+i-1].Kind) && !needsDoor(b.out.Rooms[first+i].Kind) {
				w.fill = &job.Fill{Kind: job.FillOpen}
			}
		}
		if w.fill != nil && !w.fill.Pos().IsZero() {
			w.pos = w.fill.Pos()
		}
		w.wall = b.wall(w.name, rj.structure, w.role)
		run := b.run(w)
		if run >= 0 && i > 0 && i < last {
			b.out.Rooms[first+i-1].Runs = append(b.out.Rooms[first+i-1].Runs, run)
		}
		if i < last {
			at += max(r.rooms[i].Spans, 1)
		}
	}
}

func firstFill(list ...*job.Fill) *job.Fill {
	for _, f := range list {
		if f != nil {
			return f
		}
	}
	return nil
}

// between is what fills the wall that two rooms share; both may state it, if
// they agree.
func (b *builder) between(left, right *job.Room, leftName, rightName string, rj rowJob) *job.Fill {
	l, r := left.Right, right.Left
	if l != nil && r != nil && l.Kind != r.Kind {
		b.problem(r.Pos(), rj.path+".rooms", string(r.Kind),
			fmt.Sprintf("%s wants %s on its right, but %s wants %s on its left: it is one wall", leftName, l.Kind, rightName, r.Kind), "state the shared wall once")
	}
	return firstFill(l, r, rj.dividers)
}

// base finds what posts stand on; the kit's where the job does not say.
func (b *builder) base(own, byKit string, w document.Where, path string) *kit.Base {
	id := own
	if id == "" {
		id = byKit
	}
	if id == "" {
		return nil
	}
	base := b.kit.Base(id)
	if base == nil {
		var ids []string
		for i := range b.kit.Bases {
			ids = append(ids, b.kit.Bases[i].ID)
		}
		b.problem(w.Of("base"), path+".base", id, fmt.Sprintf("the kit %s has no base %q", b.kit.Kit, id), nearest(id, ids))
	}
	return base
}

// lineName is a post line's letter: a, b, c …
func lineName(i int) string { return strings.ToLower(string(rune('a' + i))) }

// reversed is the list the other way round: the second row sees the posts from
// its own side.
func reversed(list []int) []int {
	out := make([]int, len(list))
	for i, v := range list {
		out[len(list)-1-i] = v
	}
	return out
}
