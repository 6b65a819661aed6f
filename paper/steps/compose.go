package steps

import (
	"math"
	"slices"

	"stallwright/paper/draw"
	"stallwright/paper/hidden"
	"stallwright/paper/solid"
)

// Layers of a picture, in the order they are painted.
const (
	layerTint   = "tint"
	layerStands = "stands"
	layerAdded  = "added"
	layerWay    = "way"
	layerDetail = "detail"
	layerLabel  = "label"
	layerParts  = "parts"
	layerKey    = "key"
)

// Pens: what stands is thin and grey, what is added heavy round its outline.
var (
	penStands = draw.Pen{Weight: draw.Thin, Grey: 45}
	penCrease = draw.Pen{Weight: draw.Light}
	penAdded  = draw.Pen{Weight: draw.Heavy}
	penBoard  = draw.Pen{Weight: draw.Medium}
	penWay    = draw.Pen{Weight: draw.Thin, Type: draw.Dashed}
	penThin   = draw.Pen{Weight: draw.Thin}
	penArrow  = draw.Pen{Weight: draw.Medium}
)

// tintAdded is how light the faces of added parts are: text and lines on them
// stay clear, and a copier still shows them.
var tintAdded = draw.Tint(86)

// Room on a sheet.
const (
	edge        = 2 * draw.MM
	bareTall    = 10 * draw.MM // of a row of what has no picture
	detailSize  = 46 * draw.MM
	detailLeast = 30 * draw.MM
	finest      = 1e6 / 6.0  // largest picture: 1:6
	coarse      = 1e6 / 45.0 // below 1:45 heavy lines would run together
)

// compose lays the picture out on its sheet: fasteners below, labels at the
// sides, the enlarged joint at the lower right, the picture between.
func (p *picture) compose() {
	w, h := p.opt.Width, p.high
	p.sheet = &draw.Sheet{Width: w, Height: h, Frame: draw.PaperRect{Max: draw.PaperPoint{X: w, Y: h}},
		Layers: []string{layerTint, layerStands, layerAdded, layerWay, layerDetail, layerLabel, layerParts, layerKey}}
	p.area = draw.PaperRect{Min: draw.PaperPoint{X: edge, Y: edge}, Max: draw.PaperPoint{X: w - edge, Y: h - edge}}
	p.parts()
	key := p.keyPlan()
	names := p.names()
	left, right := columns(names, p.box, p)
	detail := p.detail()
	size := min(detailSize, p.area.Max.Y-p.area.Min.Y)
	if size < detailLeast {
		detail = nil
	}
	left, right, detail = p.room(left, right, key, size, detail)
	lw, rw := columnWidth(left), columnWidth(right)
	if detail != nil {
		rw = max(rw, size+2*draw.MM)
	}
	if key > 0 {
		lw = max(lw, keyWide)
	}
	full := p.area
	p.area.Min.X += lw
	p.area.Max.X -= rw
	p.fit()
	p.paint()
	p.ways()
	if detail != nil {
		at := draw.PaperPoint{X: full.Max.X - size/2, Y: full.Min.Y + size/2}
		p.enlarge(detail, at, size/2-draw.MM)
	}
	floor := full.Min.Y
	if detail != nil {
		floor += size + 2*draw.MM
	}
	p.label(left, full.Min.X, true, full.Min.Y, full.Max.Y-key)
	p.label(right, full.Max.X, false, floor, full.Max.Y)
}

// room sees to it that every label has room: those that the right column does not
// hold stand in the left one; where that does not hold them either, the enlarged
// joint is left out; then all are written small, on one line; and what even so
// finds no room is left to the list of parts.
func (p *picture) room(left, right []name, key, size draw.Micron, detail *joint) (l, r []name, d *joint) {
	tall := p.area.Max.Y - p.area.Min.Y
	all := append(slices.Clone(left), right...)
	for _, small := range [2]bool{false, true} {
		for k := range all {
			all[k].small = small
		}
		for _, d := range [2]*joint{detail, nil} {
			high := tall
			if d != nil {
				high -= size + 2*draw.MM
			}
			if l, r, ok := share(all, len(left), tall-key, high); ok {
				return l, r, d
			}
		}
	}
	for len(all) > 0 {
		all = all[:len(all)-1]
		if l, r, ok := share(all, (len(all)+1)/2, tall-key, tall); ok {
			return l, r, nil
		}
	}
	return nil, nil, nil
}

// share divides labels, in order from left to right, between columns of two
// heights: as near to n on the left as both hold.
func share(all []name, n int, left, right draw.Micron) (l, r []name, ok bool) {
	for d := range len(all) + 1 {
		for _, k := range [2]int{n + d, n - d} {
			if k >= 0 && k <= len(all) && stack(all[:k]) <= left && stack(all[k:]) <= right {
				return slices.Clone(all[:k]), slices.Clone(all[k:]), true
			}
		}
	}
	return nil, nil, false
}

// stack is how tall a column of labels is.
func stack(list []name) draw.Micron {
	h := draw.Micron(0)
	for k := range list {
		h += list[k].tall() + gapOf(list)
	}
	return h
}

// gapOf is the room between the labels of a column.
func gapOf(list []name) draw.Micron {
	if len(list) > 0 && list[0].small {
		return labelGap / 4
	}
	return labelGap
}

// fit chooses the scale at which the box fills the area.
func (p *picture) fit() {
	w, h := p.box.x1-p.box.x0, p.box.y1-p.box.y0
	aw, ah := float64(p.area.Max.X-p.area.Min.X), float64(p.area.Max.Y-p.area.Min.Y)
	p.scale = math.Min(finest, math.Min(aw/w, ah/h))
	// What is left over shows more of the place.
	more := (ah/p.scale - h) / 2
	if more > 0 {
		p.box.y0, p.box.y1 = p.box.y0-more, p.box.y1+more
	}
	if more = (aw/p.scale - w) / 2; more > 0 {
		p.box.x0, p.box.x1 = p.box.x0-more, p.box.x1+more
	}
}

// paper is a place of the picture plane on the sheet.
func (p *picture) paper(x, y float64) draw.PaperPoint {
	return draw.PaperPoint{
		X: p.area.Min.X + draw.Micron(math.Round(float64((x-p.box.x0)*p.scale))),
		Y: p.area.Min.Y + draw.Micron(math.Round(float64((y-p.box.y0)*p.scale))),
	}
}

// pen is how a visible line is drawn.
func (p *picture) pen(l *hidden.Line) (string, draw.Pen) {
	switch a := &p.cast[l.Body]; {
	case !a.added:
		return layerStands, penStands
	case l.Outline && p.scene.Solids[a.solid].Kind == solid.Panel:
		return layerAdded, penCrease
	case l.Outline && (p.scene.Solids[a.solid].Kind == solid.Lumber || p.scene.Solids[a.solid].Kind == solid.Treated || p.scale < coarse):
		return layerAdded, penBoard
	case l.Outline:
		return layerAdded, penAdded
	case p.scale < coarse:
		return layerAdded, penThin
	}
	return layerAdded, penCrease
}

// paint puts tints and lines on the sheet.
func (p *picture) paint() {
	p.tint()
	strokes := newStrokes()
	for i := range p.lines {
		l := &p.lines[i]
		x0, y0, x1, y1, ok := p.box.clip(l.X0, l.Y0, l.X1, l.Y1)
		if !ok {
			continue
		}
		layer, pen := p.pen(l)
		strokes.add(layer, pen, p.paper(x0, y0), p.paper(x1, y1))
	}
	p.sheet.Marks = append(p.sheet.Marks, strokes.marks()...)
}

// clip is what of a stretch lies in the rectangle.
func (r rectangle) clip(x0, y0, x1, y1 float64) (a, b, c, d float64, ok bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := x1-x0, y1-y0
	for _, s := range [4][2]float64{{-dx, x0 - r.x0}, {dx, r.x1 - x0}, {-dy, y0 - r.y0}, {dy, r.y1 - y0}} {
		switch {
		case s[0] == 0 && s[1] < 0:
			return 0, 0, 0, 0, false
		case s[0] < 0:
			t0 = math.Max(t0, s[1]/s[0])
		case s[0] > 0:
			t1 = math.Min(t1, s[1]/s[0])
		}
	}
	if t0 >= t1 {
		return 0, 0, 0, 0, false
	}
	return x0 + float64(dx*t0), y0 + float64(dy*t0), x0 + float64(dx*t1), y0 + float64(dy*t1), true
}

// strokes gathers lines by layer and pen, in the order first met.
type strokes struct {
	list []draw.Stroke
	at   map[strokeKey]int
}

type strokeKey struct {
	layer string
	pen   draw.Pen
}

func newStrokes() *strokes { return &strokes{at: map[strokeKey]int{}} }

func (s *strokes) add(layer string, pen draw.Pen, a, b draw.PaperPoint) {
	if a == b {
		return
	}
	key := strokeKey{layer, pen}
	i, ok := s.at[key]
	if !ok {
		i = len(s.list)
		s.at[key] = i
		s.list = append(s.list, draw.Stroke{Layer: layer, Pen: pen})
	}
	s.list[i].Runs = append(s.list[i].Runs, []draw.PaperPoint{a, b})
}

func (s *strokes) marks() []draw.Mark {
	out := make([]draw.Mark, len(s.list))
	for i, v := range s.list {
		out[i] = v
	}
	return out
}

func (p *picture) put(m ...draw.Mark) { p.sheet.Marks = append(p.sheet.Marks, m...) }

// flat is a place in space on the sheet.
func (p *picture) flat(v solid.Vec) draw.PaperPoint {
	q := p.cam.On(v)
	return p.paper(q.X, q.Y)
}
