package steps

import (
	"fmt"
	"math"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
	"stallwright/paper/hidden"
	"stallwright/paper/solid"
	"stallwright/paper/words"
)

// call is hardware of one kind and size that a step takes.
type call struct {
	use   build.Use
	count int
	ratio int64 // to which a fastener is reduced
	times string
	lines []string
	face  draw.Face
}

// Most calls of one row, and sizes of their cells.
const (
	mostCalls = 5
	iconWide  = 16 * draw.MM
	iconTall  = 15 * draw.MM
	cellMost  = 74 * draw.MM
)

// calls gathers a step's hardware, each kind and size once.
func (p *picture) calls() []call {
	type key struct {
		item   string
		length measure.Length
	}
	at := map[key]int{}
	var out []call
	for _, k := range p.step.Ops {
		o := &p.build.Operations[k]
		for _, list := range [2][]build.Use{o.Bolts, o.Parts} {
			for _, u := range list {
				id := key{u.Item, u.Length}
				if i, ok := at[id]; ok {
					out[i].count += u.Count
					continue
				}
				at[id] = len(out)
				out = append(out, call{use: u, count: u.Count})
			}
		}
	}
	return out
}

// parts draws the row of fasteners below the picture and takes its room.
func (p *picture) parts() {
	list := p.calls()
	if len(list) == 0 {
		return
	}
	var shown, bare []call
	for _, c := range list {
		if p.drawable(&c) {
			shown = append(shown, c)
		} else {
			bare = append(bare, c)
		}
	}
	for ; len(bare) > 0; bare = bare[min(len(bare), mostCalls):] {
		p.row(bare[:min(len(bare), mostCalls)], false)
	}
	for ; len(shown) > 0; shown = shown[min(len(shown), mostCalls):] {
		p.row(shown[:min(len(shown), mostCalls)], true)
	}
}

// row draws one row of calls at the foot of the area left.
func (p *picture) row(list []call, pictured bool) {
	each := min((p.area.Max.X-p.area.Min.X)/draw.Micron(len(list)), cellMost)
	lines := 1
	for i := range list {
		p.plan(&list[i], each-2*draw.MM, pictured)
		lines = max(lines, len(list[i].lines))
	}
	row := p.area
	row.Max.Y = row.Min.Y + bareTall + draw.Micron(max(0, lines-2))*lineTall
	if pictured {
		row.Max.Y = row.Min.Y + iconTall + 3*draw.MM + draw.Micron(lines)*lineTall
	}
	p.area.Min.Y = row.Max.Y + 2*draw.MM
	for i := range list {
		x := row.Min.X + draw.Micron(i)*each
		p.call(&list[i], draw.PaperRect{Min: draw.PaperPoint{X: x, Y: row.Min.Y}, Max: draw.PaperPoint{X: x + each - 2*draw.MM, Y: row.Max.Y}}, pictured)
	}
}

// plan chooses how a call is written in a cell: the scale of its picture, its
// lines.
func (p *picture) plan(c *call, wide draw.Micron, pictured bool) {
	c.times = fmt.Sprintf("%d ×", c.count)
	beside := width(c.times, draw.Text50, draw.Bold) + 7*draw.MM // what the count leaves
	name := c.use.Name
	if it, ok := p.Kit.Item(c.use.Item); ok {
		name = p.words.Say(words.Item(p.Kit.Kit, it.ID, it.Name))
	}
	if c.use.Length > 0 {
		name += ", " + whole(p.words.Length(c.use.Length))
	}
	if f := p.Kit.Fastener(c.use.Item); f != nil && c.use.Length > 0 {
		for _, c.ratio = range ratios {
			long, head := onPaper(c.use.Length, c.ratio), onPaper(f.Diameter, c.ratio)
			if long+head <= wide-beside && head*3/2 <= iconTall {
				break
			}
		}
		name += " (" + whole(p.words.Text(fmt.Sprintf("steps.scale-%d", c.ratio))) + ")"
	}
	room, most := wide-4*draw.MM, 6
	if !pictured {
		room, most = wide-beside, 6
	}
	c.face = draw.Regular
	if width(name, Least, c.face) > room {
		c.face = draw.Condensed
	}
	c.lines = broken(name, Least, c.face, room, most)
}

// onPaper is a length reduced, in micrometres.
func onPaper(l measure.Length, ratio int64) draw.Micron {
	return draw.Micron(int64(l) / int64(measure.Micrometre) / ratio)
}

// whole keeps a text from being broken.
func whole(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }

// drawable says whether there is a picture of a piece of hardware.
func (p *picture) drawable(c *call) bool {
	if f := p.Kit.Fastener(c.use.Item); f != nil && c.use.Length > 0 {
		return true
	}
	_, ok := p.portraits[c.use.Item]
	return ok
}

// call draws one kind of hardware: its picture, how many, and its name.
func (p *picture) call(c *call, cell draw.PaperRect, pictured bool) {
	p.put(draw.Stroke{Layer: layerParts, Pen: penThin, Closed: true, Runs: [][]draw.PaperPoint{{cell.Min, {X: cell.Max.X, Y: cell.Min.Y}, cell.Max, {X: cell.Min.X, Y: cell.Max.Y}}}})
	x := cell.Min.X + 2*draw.MM
	mid := (cell.Min.Y + cell.Max.Y) / 2
	if pictured {
		mid = cell.Max.Y - 1500 - iconTall/2
	}
	p.put(draw.Text{Layer: layerParts, At: draw.PaperPoint{X: x, Y: mid - draw.Text50/2}, Text: c.times, Height: draw.Text50, Face: draw.Bold})
	x += width(c.times, draw.Text50, draw.Bold) + 3*draw.MM
	at := draw.PaperPoint{X: x, Y: mid - Least/2 + draw.Micron(len(c.lines)-1)*lineTall/2}
	if pictured {
		p.icon(c, draw.PaperRect{Min: draw.PaperPoint{X: x, Y: mid - iconTall/2}, Max: draw.PaperPoint{X: cell.Max.X - 2*draw.MM, Y: mid + iconTall/2}})
		at = draw.PaperPoint{X: cell.Min.X + 2*draw.MM, Y: cell.Min.Y + 1600 + draw.Micron(len(c.lines)-1)*lineTall}
	}
	for _, l := range c.lines {
		p.put(draw.Text{Layer: layerParts, At: at, Text: l, Height: Least, Face: c.face})
		at.Y -= lineTall
	}
}

// lineTall is from baseline to baseline.
const lineTall = 4500

// broken breaks a text into at most so many lines; what is too long even so ends
// in an ellipsis.
func broken(text string, high draw.Micron, face draw.Face, room draw.Micron, most int) []string {
	var out []string
	for text != "" {
		if width(text, high, face) <= room {
			return append(out, text)
		}
		best := -1
		for i, r := range text {
			if r == ' ' && width(text[:i], high, face) <= room {
				best = i
			}
		}
		if best < 0 || len(out) == most-1 {
			r := []rune(text)
			for len(r) > 1 && width(string(r)+"…", high, face) > room {
				r = r[:len(r)-1]
			}
			return append(out, string(r)+"…")
		}
		out = append(out, text[:best])
		text = text[best+1:]
	}
	return out
}

// ratios to which a fastener's picture is reduced.
var ratios = []int64{1, 2, 4}

// icon draws what a piece of hardware looks like in an area, fasteners to scale.
func (p *picture) icon(c *call, area draw.PaperRect) {
	if f := p.Kit.Fastener(c.use.Item); f != nil && c.use.Length > 0 {
		head := onPaper(f.Diameter, c.ratio)
		p.fastener(f, min(onPaper(c.use.Length, c.ratio), area.Max.X-area.Min.X-head), head, draw.PaperPoint{X: area.Min.X, Y: (area.Min.Y + area.Max.Y) / 2})
		return
	}
	if i, ok := p.portraits[c.use.Item]; ok {
		along := solid.Vec{X: 1}
		if run := p.scene.Solids[i].Run; run >= 0 {
			along = p.direction(run)
		}
		p.portrait(i, area, along)
	}
}

// fastener draws a fastener lying, head to the left, as long and thick as said.
func (p *picture) fastener(f *kit.Fastener, long, thick draw.Micron, at draw.PaperPoint) {
	t := max(thick/2, 250)
	pen := draw.Pen{Weight: draw.Light}
	box := func(x0, x1, half draw.Micron) {
		p.put(draw.Stroke{Layer: layerParts, Pen: pen, Fill: draw.White(), Closed: true, Runs: [][]draw.PaperPoint{{
			{X: x0, Y: at.Y - half}, {X: x1, Y: at.Y - half}, {X: x1, Y: at.Y + half}, {X: x0, Y: at.Y + half}}}})
	}
	head := max(thick*2/3, 600)
	x0 := at.X + head
	x1 := x0 + long
	switch f.Kind {
	case kit.JointPin:
		box(x0, x1, t)
		p.put(draw.Curve{Layer: layerParts, Pen: pen, Fill: draw.White(), Centre: draw.PaperPoint{X: at.X + t*3/2, Y: at.Y}, Radius: t * 3 / 2, Sweep: 360 * draw.Degree})
		return
	case kit.LagScrew, kit.WoodScrew:
		// The thread runs to a point.
		p.put(draw.Stroke{Layer: layerParts, Pen: pen, Fill: draw.White(), Closed: true, Runs: [][]draw.PaperPoint{{
			{X: x0, Y: at.Y - t}, {X: x1 - 2*t, Y: at.Y - t}, {X: x1, Y: at.Y}, {X: x1 - 2*t, Y: at.Y + t}, {X: x0, Y: at.Y + t}}}})
		p.thread(x0+long*2/5, x1-2*t, at.Y, t)
		box(at.X, x0, t*3/2)
	default:
		box(x0, x1, t)
		p.thread(x1-min(long/2, thick*3), x1, at.Y, t)
		box(at.X, x0, t*3/2)
		nut := x1 - thick*5/4
		box(nut, nut+thick*4/5, t*3/2)
	}
}

// thread draws the flanks of a thread.
func (p *picture) thread(from, to, y, half draw.Micron) {
	pitch := max(half*2/3, 700)
	var runs [][]draw.PaperPoint
	for x := from; x < to-pitch/2; x += pitch {
		runs = append(runs, []draw.PaperPoint{{X: x, Y: y - half}, {X: x + pitch/2, Y: y + half}})
	}
	if runs != nil {
		p.put(draw.Stroke{Layer: layerParts, Pen: penThin, Runs: runs})
	}
}

// portrait draws a solid alone, as large as its place allows.
func (p *picture) portrait(i int, area draw.PaperRect, along solid.Vec) {
	cam := camera(along, ways[0], 0.6)
	lines := hidden.Lines([]hidden.Body{{Mesh: p.scene.Mesh(i)}}, cam, hidden.Options{})
	r := emptyRectangle()
	for _, l := range lines {
		r = r.with(l.X0, l.Y0).with(l.X1, l.Y1)
	}
	if r.empty() {
		return
	}
	wide := min(area.Max.X-area.Min.X, iconWide*2)
	scale := math.Min(float64(wide)/math.Max(r.x1-r.x0, 1e-3), float64(area.Max.Y-area.Min.Y)/math.Max(r.y1-r.y0, 1e-3))
	s := newStrokes()
	mid := (area.Min.Y + area.Max.Y) / 2
	at := func(x, y float64) draw.PaperPoint {
		return draw.PaperPoint{X: area.Min.X + draw.Micron(math.Round((x-r.x0)*scale)), Y: mid + draw.Micron(math.Round((y-(r.y0+r.y1)/2)*scale))}
	}
	for _, l := range lines {
		pen := penThin
		if l.Outline {
			pen = draw.Pen{Weight: draw.Medium}
		}
		s.add(layerParts, pen, at(l.X0, l.Y0), at(l.X1, l.Y1))
	}
	p.put(s.marks()...)
}
