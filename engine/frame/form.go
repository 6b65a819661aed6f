package frame

import (
	"fmt"

	"stallwright/engine/job"
	"stallwright/engine/kit"
)

// freeForm frames posts and walls listed one by one.
func (b *builder) freeForm(j *job.FreeForm, path string) {
	path += ".free-form"
	height := b.height(j.Height, 0)
	if height == 0 {
		b.problem(j.Pos(), path, j.Name, "the wall height is not given", "height: 8' here or at the top of the job")
		return
	}
	s := b.structure(j.Name, FreeForm, height)
	base := b.base(j.Base, "", j.Where, path)
	index := map[string]int{}
	for i := range j.Posts {
		p := &j.Posts[i]
		pp := fmt.Sprintf("%s.posts[%d]", path, i)
		v := Post{Name: j.Name + "." + p.Name, Structure: s, At: Point{p.X, p.Y}}
		if p.Timber != nil {
			v.Kind, v.Along, v.Across = Timber, p.Timber.Along, p.Timber.Across
		} else {
			item := b.kit.Post(p.Post)
			if item == nil {
				b.problem(p.Of("post"), pp+".post", p.Post, fmt.Sprintf("the kit %s has no post %q", b.kit.Kit, p.Post), nearest(p.Post, b.postIDs()))
				return
			}
			h, err := item.Height.Length(&kit.Facts{Height: height})
			if err != nil {
				b.problem(p.Pos(), pp, p.Post, err.Error(), "mend the post "+item.ID+" of the kit")
			}
			v.Kind, v.Along, v.Across, v.Item, v.Base, v.Height = Steel, item.Along, item.Across, item, base, h
		}
		index[p.Name] = b.post(v, p.Pos(), pp)
	}
	for i := range j.Rooms {
		r := &j.Rooms[i]
		room := Room{Name: r.Name, Kind: r.Kind, Structure: s}
		if room.Kind == "" {
			room.Kind = job.Stall
		}
		for _, n := range r.Posts {
			room.Corners = append(room.Corners, index[n])
		}
		room.Width = distance(b.out.Posts[room.Corners[0]].At, b.out.Posts[room.Corners[1]].At)
		room.Depth = distance(b.out.Posts[room.Corners[1]].At, b.out.Posts[room.Corners[2]].At)
		b.out.Rooms = append(b.out.Rooms, room)
	}
	for i := range j.Walls {
		b.formWall(&j.Walls[i], s, index, fmt.Sprintf("%s.walls[%d]", path, i))
	}
}

func (b *builder) postIDs() []string {
	ids := make([]string, len(b.kit.Posts))
	for i := range b.kit.Posts {
		ids[i] = b.kit.Posts[i].ID
	}
	return ids
}

// formWall frames one wall of a free form.
func (b *builder) formWall(w *job.FormWall, s int, index map[string]int, path string) {
	role := w.Wall
	if role == "" {
		role = job.WallDivider
	}
	wall := b.wall(w.Name, s, role)
	doors := map[int]*job.Front{}
	for i := range w.Doors {
		doors[w.Doors[i].Run] = w.Doors[i].Front
	}
	for k := 1; k < len(w.Posts); k++ {
		v := wish{
			name: w.Name, wall: wall, role: role, from: index[w.Posts[k-1]], to: index[w.Posts[k]],
			assembly: w.Assembly, fill: w.Fill, front: doors[k], room: -1,
			height: b.out.Structures[s].Height, pos: w.Pos(), path: path,
		}
		if v.front != nil {
			v.pos = v.front.Pos()
			if v.front.Door == "" && len(b.kit.Doors) > 0 {
				v.door = b.kit.Doors[0].ID
			}
		}
		if len(w.Posts) > 2 {
			v.name = fmt.Sprintf("%s-%d", w.Name, k)
		}
		b.run(v)
	}
}
