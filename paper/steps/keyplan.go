package steps

import (
	"math"

	"stallwright/engine/build"
	"stallwright/paper/draw"
)

// Size of the little plan in the upper left corner that shows where a step is.
const (
	keyWide = 30 * draw.MM
	keyTall = 20 * draw.MM
)

// keyPlan shows in a little plan of the structure where the step is, and how tall
// it came out. Steps about the whole structure need none.
func (p *picture) keyPlan() draw.Micron {
	run := p.subject()
	posts := p.postsOfStep()
	for _, s := range p.also {
		if s.Place.Post >= 0 {
			posts = append(posts, s.Place.Post)
		}
	}
	if run < 0 && len(posts) == 0 {
		return 0
	}
	box := emptyRectangle()
	for i := range p.Layout.Posts {
		if v := &p.Layout.Posts[i]; v.Structure == p.structure() {
			box = box.with(v.At.X.Metres(), v.At.Y.Metres())
		}
	}
	w, h := box.x1-box.x0, box.y1-box.y0
	scale := math.Min(float64(keyWide-2*draw.MM)/math.Max(w, 0.1), float64(keyTall-2*draw.MM)/math.Max(h, 0.1))
	top := p.area.Max
	at := func(x, y float64) draw.PaperPoint {
		return draw.PaperPoint{
			X: p.area.Min.X + draw.MM + draw.Micron(math.Round(float64((x-box.x0)*scale))),
			Y: top.Y - draw.MM - draw.Micron(math.Round(float64((box.y1-y)*scale))),
		}
	}
	var thin, bold [][]draw.PaperPoint
	for i := range p.Layout.Runs {
		r := &p.Layout.Runs[i]
		if r.Structure != p.structure() || !r.Filled(p.Layout) {
			continue
		}
		a, b := p.Layout.Posts[r.From].At, p.Layout.Posts[r.To].At
		line := []draw.PaperPoint{at(a.X.Metres(), a.Y.Metres()), at(b.X.Metres(), b.Y.Metres())}
		thin = append(thin, line)
		for _, share := range p.sharesOf(i, run) {
			bold = append(bold, []draw.PaperPoint{between(line[0], line[1], share[0]), between(line[0], line[1], share[1])})
		}
	}
	p.put(draw.Stroke{Layer: layerKey, Pen: draw.Pen{Weight: draw.Thin, Grey: 30}, Runs: thin})
	if bold != nil {
		p.put(draw.Stroke{Layer: layerKey, Pen: draw.Pen{Weight: 1200}, Runs: bold})
	}
	for _, i := range posts {
		v := p.Layout.Posts[i].At
		p.put(draw.Curve{Layer: layerKey, Fill: draw.Tint(0), Centre: at(v.X.Metres(), v.Y.Metres()), Radius: 900, Sweep: 360 * draw.Degree})
	}
	return draw.Micron(math.Round(h*scale)) + 2*draw.MM + labelGap
}

// sharesOf is where along a run the steps of the picture are, from 0 to 1: over the
// whole of it, or at one bay.
func (p *picture) sharesOf(run, subject int) [][2]float64 {
	var out [][2]float64
	for k, s := range append([]*build.Step{p.step}, p.also...) {
		at := p.runOf(s)
		if k == 0 {
			at = subject
		}
		if at != run {
			continue
		}
		bays := p.Layout.Runs[run].Bays
		if s.Place.Bay < 0 || len(bays) < 2 {
			return [][2]float64{{0, 1}}
		}
		last := &p.Layout.Bays[bays[len(bays)-1]]
		long := (last.Start + last.Clear).Metres()
		v := &p.Layout.Bays[s.Place.Bay]
		out = append(out, [2]float64{float64(v.Start.Metres() / long), float64((v.Start + v.Clear).Metres() / long)})
	}
	return out
}

// between is a place on the way from one to another.
func between(a, b draw.PaperPoint, share float64) draw.PaperPoint {
	return draw.PaperPoint{X: a.X + draw.Micron(math.Round(float64(b.X-a.X)*share)), Y: a.Y + draw.Micron(math.Round(float64(b.Y-a.Y)*share))}
}

// postsOfStep are the posts that a step stands, where it is not about all.
func (p *picture) postsOfStep() []int {
	var out []int
	for i := range p.cast {
		a := &p.cast[i]
		if s := &p.scene.Solids[a.solid]; a.added && p.own(a) && s.Run < 0 && s.Piece >= 0 && s.Post >= 0 {
			out = append(out, s.Post)
		}
	}
	return out
}
