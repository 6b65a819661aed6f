package frame

import (
	"fmt"

	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// barnRow frames stalls between the posts of a standing barn. The post lines
// run from west to east; the first row's front line stands at y = 0 with its
// back to the north, a facing second row south of the aisle, a back-to-back
// second row north of the shared back line.
func (b *builder) barnRow(j *job.BarnRow, path string) {
	path += ".barn-row"
	use := b.kit.Uses.BarnRow
	if use == nil {
		b.problem(j.Pos(), path, j.Name, fmt.Sprintf("the kit %s makes no rows for post-frame barns", b.kit.Kit), "another kit, or uses.barn-row in this one")
		return
	}
	s := b.structure(j.Name, BarnRow, b.height(j.Height, use.Height))
	lines := b.timberLines(j, s, path)
	rj := rowJob{
		name: j.Name, structure: s, use: use, height: b.out.Structures[s].Height, fronts: j.Fronts,
		dividers: j.Divider, sides: j.Sides, back: j.Back, pos: j.Pos(), path: path,
	}
	rj2, second := rj, j.Second
	if len(second) == 0 {
		rj2, second = twin(rj, j.Rooms)
	}
	switch j.Rows {
	case job.Facing:
		b.rows(rj, row{front: lines[1], back: lines[0], rooms: j.Rooms})
		b.rows(rj2, row{front: reversed(lines[2]), back: reversed(lines[3]), rooms: second, number: len(j.Rooms), opposite: true})
		b.aisle(s, j.Name+" aisle", lines[1], lines[2])
	case job.BackToBack:
		b.rows(rj, row{front: lines[2], back: lines[1], rooms: j.Rooms})
		b.rows(rj2, row{front: reversed(lines[0]), back: reversed(lines[1]), rooms: second, number: len(j.Rooms), opposite: true, shareBack: true, stated: len(j.Second) > 0})
	default:
		b.rows(rj, row{front: lines[1], back: lines[0], rooms: j.Rooms})
	}
}

// timberLines sets the barn's posts, line by line from north to south.
func (b *builder) timberLines(j *job.BarnRow, s int, path string) [][]int {
	var ys []measure.Length
	switch j.Rows {
	case job.Facing:
		ys = []measure.Length{j.Depth, 0, -j.Aisle, -j.Aisle - j.Depth}
	case job.BackToBack:
		ys = []measure.Length{2 * j.Depth, j.Depth, 0}
	default:
		ys = []measure.Length{j.Depth, 0}
	}
	spans := 0
	places(j.Rooms, func(_, _, n int) { spans += n })
	moved := map[string]*job.Offset{}
	for i := range j.Offsets {
		moved[j.Offsets[i].Post] = &j.Offsets[i]
	}
	lines := make([][]int, len(ys))
	var names []string
	for li, y := range ys {
		x := measure.Length(0)
		for k := 0; k <= spans; k++ {
			name := fmt.Sprintf("%s.%s%d", j.Name, lineName(li), k+1)
			names = append(names, name)
			at := Point{x, y}
			if o := moved[name]; o != nil {
				at = at.Add(Point{o.Along, -o.Across})
				delete(moved, name)
			}
			lines[li] = append(lines[li], b.post(Post{
				Name: name, Structure: s, Kind: Timber, At: at, Along: j.Post.Along, Across: j.Post.Across,
			}, j.Pos(), path))
			if k < spans {
				x += spacing(j.Spacing, k)
			}
		}
	}
	for i := range j.Offsets {
		if o := &j.Offsets[i]; moved[o.Post] != nil {
			b.problem(o.Of("post"), fmt.Sprintf("%s.offsets[%d].post", path, i), o.Post, fmt.Sprintf("there is no post %q", o.Post), nearest(o.Post, names))
		}
	}
	return lines
}

func spacing(list []measure.Length, k int) measure.Length {
	if len(list) == 1 {
		return list[0]
	}
	return list[min(k, len(list)-1)]
}

// aisle records the passage between two post lines.
func (b *builder) aisle(s int, name string, north, south []int) {
	posts := b.out.Posts
	n0, n1 := posts[north[0]].At, posts[north[len(north)-1]].At
	s0, s1 := posts[south[0]].At, posts[south[len(south)-1]].At
	a := Aisle{Name: name, Structure: s, Width: distance(n0, s0), Length: distance(n0, n1), Corners: [4]Point{s0, s1, n1, n0}}
	a.Clear = a.Width
	for i := range north {
		gap := posts[north[i]].At.Y - posts[north[i]].Across/2 - posts[south[i]].At.Y - posts[south[i]].Across/2
		a.Clear = min(a.Clear, gap)
	}
	b.out.Aisles = append(b.out.Aisles, a)
}
