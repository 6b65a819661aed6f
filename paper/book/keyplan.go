package book

import (
	"slices"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// keyPlan is a small plan of every structure, each in a strip of its own and all
// at one reduction, with the names of rooms and of as many bays as find room.
func (b *binder) keyPlan(area draw.PaperRect) []draw.Mark {
	k := &keyPlan{b: b, area: area}
	k.arrange()
	for i := range b.Layout.Structures {
		k.lines(i)
	}
	for i := range b.Layout.Structures {
		k.names(i)
	}
	return append(k.marks, k.texts...)
}

// keyPlanHigh is how much of a height the key plan takes at a width.
func (b *binder) keyPlanHigh(wide, most draw.Micron) draw.Micron {
	k := &keyPlan{b: b, area: draw.PaperRect{Max: draw.PaperPoint{X: wide, Y: most}}}
	k.arrange()
	low := most
	for _, at := range k.at {
		low = min(low, at.Y)
	}
	return min(most, most-low+between)
}

// keyPlan is a plan being drawn.
type keyPlan struct {
	b     *binder
	area  draw.PaperRect
	lo    []frame.Point       // of each structure
	size  []frame.Point       // of each structure, in the model
	at    []draw.PaperPoint   // of each structure's lower left, on paper
	ratio int64               // nanometres of the model for a micrometre on paper
	marks []draw.Mark         // lines and posts
	texts []draw.Mark         // names
	boxes []draw.PaperRect    // that texts and posts take
	rooms map[int]frame.Point // middles of rooms
}

// between is the white between structures, for their names.
const between = 9 * draw.MM

// arrange puts structures side by side in as many rows as gives the largest
// picture.
func (k *keyPlan) arrange() {
	l := k.b.Layout
	k.lo, k.size, k.at = make([]frame.Point, len(l.Structures)), make([]frame.Point, len(l.Structures)), make([]draw.PaperPoint, len(l.Structures))
	for i := range l.Structures {
		var hi frame.Point
		first := true
		for j := range l.Posts {
			p := &l.Posts[j]
			if p.Structure != i {
				continue
			}
			if first {
				k.lo[i], hi, first = p.At, p.At, false
			}
			k.lo[i] = frame.Point{X: min(k.lo[i].X, p.At.X), Y: min(k.lo[i].Y, p.At.Y)}
			hi = frame.Point{X: max(hi.X, p.At.X), Y: max(hi.Y, p.At.Y)}
		}
		k.size[i] = hi.Sub(k.lo[i])
	}
	for columns := 1; columns <= len(l.Structures); columns++ {
		if r := k.ratioFor(columns); k.ratio == 0 || r < k.ratio {
			k.ratio = r
		}
	}
	k.place()
}

func (k *keyPlan) wide() draw.Micron { return k.area.Max.X - k.area.Min.X }

func (k *keyPlan) high() draw.Micron { return k.area.Max.Y - k.area.Min.Y }

// ratioFor is the reduction at which all structures fit, so many side by side.
func (k *keyPlan) ratioFor(columns int) int64 {
	ratio := int64(1000)
	n := len(k.size)
	rows := (n + columns - 1) / columns
	deep := int64(0)
	for r := range rows {
		row := k.size[r*columns : min((r+1)*columns, n)]
		wide, tall := int64(0), int64(0)
		for _, s := range row {
			wide += int64(s.X)
			tall = max(tall, int64(s.Y))
		}
		deep += tall
		ratio = max(ratio, wide/max(1, int64(k.wide()-draw.Micron(len(row))*between))+1)
	}
	return max(ratio, deep/max(1, int64(k.high()-draw.Micron(rows)*between))+1)
}

// place lays the structures out at the reduction found, from the upper left.
func (k *keyPlan) place() {
	x, y, tall := k.area.Min.X+between/2, k.area.Max.Y-between+2*draw.MM, draw.Micron(0)
	for i, s := range k.size {
		w, h := draw.Micron(int64(s.X)/k.ratio), draw.Micron(int64(s.Y)/k.ratio)
		if x+w > k.area.Max.X-between/2+draw.MM && x > k.area.Min.X+between/2 {
			x, y, tall = k.area.Min.X+between/2, y-tall-between, 0
		}
		k.at[i] = draw.PaperPoint{X: x, Y: y - h}
		x += w + between
		tall = max(tall, h)
	}
}

func (k *keyPlan) paper(structure int, p frame.Point) draw.PaperPoint {
	v := p.Sub(k.lo[structure])
	return draw.PaperPoint{X: k.at[structure].X + draw.Micron(int64(v.X)/k.ratio), Y: k.at[structure].Y + draw.Micron(int64(v.Y)/k.ratio)}
}

// lines draws runs and posts.
func (k *keyPlan) lines(structure int) {
	l := k.b.Layout
	var built, open, door [][]draw.PaperPoint
	for i := range l.Runs {
		r := &l.Runs[i]
		if r.Structure != structure {
			continue
		}
		a, z := k.paper(structure, l.Posts[r.From].At), k.paper(structure, l.Posts[r.To].At)
		for _, v := range r.Bays {
			bay := &l.Bays[v]
			// A bay's share of the run's length on paper.
			from := along(a, z, int64(bay.Start), int64(r.Clear))
			to := along(a, z, int64(bay.Start+bay.Clear), int64(r.Clear))
			if len(r.Bays) == 1 {
				from, to = a, z
			}
			switch {
			case bay.IsDoor():
				door = append(door, []draw.PaperPoint{from, to})
			case bay.IsOpen():
				open = append(open, []draw.PaperPoint{from, to})
			default:
				built = append(built, []draw.PaperPoint{from, to})
			}
		}
	}
	k.stroke(draw.Pen{Weight: draw.Extra}, built)
	k.stroke(draw.Pen{Weight: draw.Light}, door)
	k.stroke(draw.Pen{Weight: draw.Thin, Type: draw.Dashed}, open)
	const half = 700
	var posts [][]draw.PaperPoint
	for i := range l.Posts {
		p := &l.Posts[i]
		if p.Structure != structure || p.Kind == frame.Door {
			continue
		}
		c := k.paper(structure, p.At)
		posts = append(posts, []draw.PaperPoint{{X: c.X - half, Y: c.Y - half}, {X: c.X + half, Y: c.Y - half}, {X: c.X + half, Y: c.Y + half}, {X: c.X - half, Y: c.Y + half}})
		k.boxes = append(k.boxes, around(c, half, half))
	}
	k.marks = append(k.marks, draw.Stroke{Layer: page.LayerBody, Fill: draw.Tint(0), Closed: true, Runs: posts})
}

func along(a, z draw.PaperPoint, part, of int64) draw.PaperPoint {
	if of <= 0 {
		return a
	}
	part = max(0, min(part, of))
	f := func(p, q draw.Micron) draw.Micron { return p + draw.Micron(int64(q-p)*(part/1000)/max(1, of/1000)) }
	return draw.PaperPoint{X: f(a.X, z.X), Y: f(a.Y, z.Y)}
}

func (k *keyPlan) stroke(pen draw.Pen, runs [][]draw.PaperPoint) {
	if len(runs) > 0 {
		k.marks = append(k.marks, draw.Stroke{Layer: page.LayerBody, Pen: pen, Runs: runs})
	}
}

func around(c draw.PaperPoint, dx, dy draw.Micron) draw.PaperRect {
	return draw.PaperRect{Min: draw.PaperPoint{X: c.X - dx, Y: c.Y - dy}, Max: draw.PaperPoint{X: c.X + dx, Y: c.Y + dy}}
}

// write puts a text with its middle at c, if nothing stands there; upright text
// reads from the right.
func (k *keyPlan) write(text string, c draw.PaperPoint, st page.Style, upright bool) bool {
	text = draw.Clean(text)
	e := st.Face.Extent(text, st.Size)
	const air = 400
	half := draw.PaperPoint{X: e.Width/2 + air, Y: (e.Up+e.Down)/2 + air}
	t := draw.Text{Layer: page.LayerBody, Text: text, Height: st.Size, Face: st.Face, Anchor: draw.Middle, At: draw.PaperPoint{X: c.X, Y: c.Y - (e.Up-e.Down)/2}}
	box := around(c, half.X, half.Y)
	if upright {
		box = around(c, half.Y, half.X)
		t.Rotation, t.At = 90*draw.Degree, draw.PaperPoint{X: c.X + (e.Up-e.Down)/2, Y: c.Y}
	}
	if text == "" || box.Min.X < k.area.Min.X || box.Max.X > k.area.Max.X || box.Min.Y < k.area.Min.Y || box.Max.Y > k.area.Max.Y {
		return false
	}
	if slices.ContainsFunc(k.boxes, func(o draw.PaperRect) bool {
		return box.Min.X < o.Max.X && o.Min.X < box.Max.X && box.Min.Y < o.Max.Y && o.Min.Y < box.Max.Y
	}) {
		return false
	}
	k.boxes = append(k.boxes, box)
	k.texts = append(k.texts, t)
	return true
}

// names writes the structure's name, then rooms', then bays'.
func (k *keyPlan) names(structure int) {
	l := k.b.Layout
	w, h := draw.Micron(int64(k.size[structure].X)/k.ratio), draw.Micron(int64(k.size[structure].Y)/k.ratio)
	title := draw.PaperPoint{X: k.at[structure].X + w/2, Y: k.at[structure].Y + h + 5*draw.MM}
	for size := draw.Text35; size >= page.Least; size -= 500 {
		if k.write(l.Structures[structure].Name, title, page.Style{Size: size, Face: draw.Bold}, false) {
			break
		}
	}
	k.rooms = map[int]frame.Point{}
	for i := range l.Rooms {
		r := &l.Rooms[i]
		if r.Structure != structure || len(r.Corners) == 0 {
			continue
		}
		var c frame.Point
		for _, p := range r.Corners {
			c = c.Add(l.Posts[p].At)
		}
		n := len(r.Corners)
		k.rooms[i] = frame.Point{X: c.X / measure.Length(n), Y: c.Y / measure.Length(n)}
		at := k.paper(structure, k.rooms[i])
		if !k.write(r.Name, at, page.Style{Size: draw.Text35, Face: draw.Bold}, false) {
			k.write(r.Name, at, page.Style{Size: page.Least, Face: draw.Condensed}, false)
		}
	}
	for i := range l.Bays {
		if l.Bays[i].Structure == structure {
			k.bay(structure, i)
		}
	}
}

// bay writes a bay's name beside its line, on whichever side has room.
func (k *keyPlan) bay(structure, i int) {
	l := k.b.Layout
	v := &l.Bays[i]
	r := &l.Runs[v.Run]
	a, z := k.paper(structure, l.Posts[r.From].At), k.paper(structure, l.Posts[r.To].At)
	mid := along(a, z, int64(v.Start+v.Clear/2), int64(max(r.Clear, 1)))
	if len(r.Bays) == 1 {
		mid = draw.PaperPoint{X: (a.X + z.X) / 2, Y: (a.Y + z.Y) / 2}
	}
	st := page.Style{Size: page.Least, Face: draw.Condensed}
	e := st.Face.Extent(draw.Clean(v.Name), st.Size)
	dx, dy := z.X-a.X, z.Y-a.Y
	off := (e.Up+e.Down)/2 + 900
	switch {
	case abs(dx) >= 3*abs(dy): // level
		for _, s := range [...]draw.Micron{1, -1} {
			if k.write(v.Name, draw.PaperPoint{X: mid.X, Y: mid.Y + s*off}, st, false) {
				return
			}
		}
	case abs(dy) >= 3*abs(dx): // upright
		for _, s := range [...]draw.Micron{-1, 1} {
			if k.write(v.Name, draw.PaperPoint{X: mid.X + s*off, Y: mid.Y}, st, true) {
				return
			}
		}
	default: // aslant: beside the line, toward the middle of the structure and away from it
		for _, s := range [...]draw.Micron{1, -1} {
			x := e.Width/2 + 1200
			if (dx > 0) == (dy > 0) {
				x = -x
			}
			if k.write(v.Name, draw.PaperPoint{X: mid.X + s*x, Y: mid.Y + s*off}, st, false) {
				return
			}
		}
	}
}

func abs(m draw.Micron) draw.Micron { return max(m, -m) }
