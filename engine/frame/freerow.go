package frame

import (
	"fmt"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// freeRow frames free-standing stalls that share walls; as a free-barn the
// posts bear the roof. The first row's front line stands at y = 0 with its
// back to the north, a facing row south of the aisle.
func (b *builder) freeRow(j *job.FreeRow, kind Kind, path string) {
	path += "." + string(kind)
	use := b.kit.RowUse(string(kind))
	if use == nil {
		b.problem(j.Pos(), path, j.Name, fmt.Sprintf("the kit %s makes no %s", b.kit.Kit, kind), "another kit, or uses."+string(kind)+" in this one")
		return
	}
	s := b.structure(j.Name, kind, b.height(j.Height, use.Height))
	rj := rowJob{
		name: j.Name, structure: s, use: use, height: b.out.Structures[s].Height, fronts: j.Fronts,
		dividers: j.Divider, sides: j.Sides, back: j.Back, pos: j.Pos(), path: path,
	}
	set := freePosts{b: b, j: j, use: use, s: s, path: path, base: b.base(j.Base, use.Base, j.Where, path)}
	back, front := set.line(0, j.Depth, j.Rooms, false), set.line(1, 0, j.Rooms, true)
	b.rows(rj, row{front: front, back: back, rooms: j.Rooms, width: j.Width})
	if j.Rows != job.FacingRow {
		return
	}
	rj2, second := rj, j.Second
	if len(second) == 0 {
		rj2, second = twin(rj, j.Rooms)
	}
	// The second row is laid out in its own left-to-right order, from the east.
	seen := mirrored(second)
	front2, back2 := set.line(2, -j.Aisle, seen, true), set.line(3, -j.Aisle-j.Depth, seen, false)
	b.rows(rj2, row{front: reversed(front2), back: reversed(back2), rooms: second, number: len(j.Rooms), opposite: true})
	b.facingAisle(s, j.Name+" aisle", front, front2)
}

// freePosts sets the posts of free-standing rows.
type freePosts struct {
	b    *builder
	j    *job.FreeRow
	use  *kit.RowUse
	s    int
	path string
	base *kit.Base
}

// line sets one line of posts from west to east, one at each room's edge.
func (f *freePosts) line(n int, y measure.Length, rooms []job.Room, front bool) []int {
	var out []int
	x := measure.Length(0)
	for k := 0; k <= len(rooms); k++ {
		id := f.use.Line
		if k == 0 || k == len(rooms) {
			id = f.use.Corner
		}
		item := f.b.kit.Post(id)
		if item == nil {
			f.b.problem(f.j.Pos(), f.path, id, fmt.Sprintf("the kit %s has no post %q", f.b.kit.Kit, id), "mend uses in the kit")
			return nil
		}
		out = append(out, f.b.post(Post{
			Name: fmt.Sprintf("%s.%s%d", f.j.Name, lineName(n), k+1), Structure: f.s, Kind: Steel, At: Point{x, y},
			Along: item.Along, Across: item.Across, Item: item, Base: f.base, Height: f.height(item, front),
		}, f.j.Pos(), f.path))
		if k < len(rooms) {
			w := rooms[k].Width
			if w == 0 {
				w = f.j.Width
			}
			x += w
		}
	}
	return out
}

// height is a post's length: by the kit's rule, or up to the roof it bears. A
// single row's roof rises from the back to the front; over facing rows it rises
// from both backs toward the aisle.
func (f *freePosts) height(item *kit.Post, front bool) measure.Length {
	if roof := f.j.Roof; roof != nil {
		h := roof.Eave
		if front {
			if rise, ok := roof.Pitch.Over(f.j.Depth, measure.Up); ok {
				h += rise
			}
		}
		return h.Round(f.b.kit.Board.Mark, measure.Up)
	}
	wall := f.b.out.Structures[f.s].Height
	h, err := item.Height.Length(&kit.Facts{Height: wall})
	if err != nil {
		f.b.problem(f.j.Pos(), f.path, item.ID, err.Error(), "mend the post "+item.ID+" of the kit")
	}
	return h
}

// facingAisle records the passage between two fronts, which may differ in
// length.
func (b *builder) facingAisle(s int, name string, north, south []int) {
	if len(north) == 0 || len(south) == 0 {
		return
	}
	n := min(len(north), len(south))
	b.aisle(s, name, north[:n], south[:n])
}
