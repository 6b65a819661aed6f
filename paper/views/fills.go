package views

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// bay draws what fills a bay, and names it above.
func (e *elevation) bay(v int) {
	b, f := &e.Layout.Bays[v], &e.Fit.Bays[v]
	r := &e.Layout.Runs[b.Run]
	x := e.x[b.Run] + e.Fit.BayAt(e.Layout, v)
	e.bayName(v, x)
	switch {
	case b.IsDoor():
		return // drawn last, since leaves hang before the wall
	case b.IsOpen():
		e.d.Add(&draw.Label{At: pt(x+f.Clear/2, r.Datum+r.Zone/2), Texts: []string{e.say("views.open")}, Where: []draw.Where{draw.Centre}})
		return
	case len(f.Courses) == 0:
		e.d.Add(draw.NewLine(layerBoards, thinCut, pt(x, r.Datum), pt(x+f.Clear, r.Datum+r.Zone)),
			draw.NewLine(layerBoards, thinCut, pt(x, r.Datum+r.Zone), pt(x+f.Clear, r.Datum)),
			&draw.Label{At: pt(x+f.Clear/2, r.Datum+r.Zone/2), Texts: []string{e.say("views.no-fit-see-notes")}, Where: []draw.Where{draw.Centre}})
		return
	}
	for _, i := range f.Pieces {
		p := &e.Fit.Pieces[i]
		switch p.Kind {
		case fit.Board:
			e.board(p, x, r.Datum)
		case fit.Packing, fit.Skirt:
			e.d.Add(draw.Rectangle(layerBoards, thin, draw.Tint(35), pt(x+(f.Clear-p.Length)/2, r.Datum+p.Z), pt(x+(f.Clear+p.Length)/2, r.Datum+p.Z+p.Height)))
		}
	}
	e.grille(v, x, r.Datum)
	e.window(v, x, r.Datum)
	e.feeder(v, x, r.Datum)
	e.clampScrews(v, x, r.Datum, r.Zone)
	e.obstructions(v, x)
	e.lengths(v, x, r.Datum)
}

// bayName names a bay over its top tube.
func (e *elevation) bayName(v int, x measure.Length) {
	b := &e.Layout.Bays[v]
	texts := []string{b.Name}
	if run := e.Layout.Runs[b.Run].Name; strings.HasPrefix(b.Name, run+"-") {
		broken := run + "\n" + strings.TrimPrefix(b.Name, run)
		if !e.oneLine(b.Name+"x", e.Fit.Bays[v].Clear) {
			texts = []string{broken}
		}
		texts = append(texts, broken)
	}
	e.d.Add(&draw.Label{At: pt(x+e.Fit.Bays[v].Clear/2, e.Layout.Runs[b.Run].Height), Texts: texts, Face: draw.Bold, Where: []draw.Where{draw.Over}, End: draw.Arrow})
}

// board draws one board as an outline that lets text through: shaded where it
// is treated, hatched where it is ripped, with what is cut out of its edges.
func (e *elevation) board(p *fit.Piece, x, datum measure.Length) {
	x0, z0 := x+p.X, datum+p.Z
	if p.X == 0 {
		// A board from web to web stands with half its play at each end.
		x0 += (e.Fit.Bays[p.Bay].Clear - p.Length) / 2
		if p.Length < e.Fit.Bays[p.Bay].Board {
			x0 = x
		}
	}
	pts := e.notched(p, x0, z0)
	switch {
	case p.Ripped:
		e.d.Add(&draw.Polygon{Layer: layerBoards, Fill: draw.Hatch(45*draw.Degree, 1000), Points: pts})
	case p.Treated:
		e.d.Add(&draw.Polygon{Layer: layerBoards, Fill: draw.Tint(85), Points: pts})
	}
	e.d.Add(&draw.Polygon{Layer: layerBoards, Pen: thinCut, Points: pts})
}

// notched is a board's outline with its notches, going round from the lower
// left.
func (e *elevation) notched(p *fit.Piece, x, z measure.Length) []draw.Point {
	edge := func(name string, base, sign measure.Length) []draw.Point {
		var out []draw.Point
		for _, n := range p.Notches {
			if n.Edge == name && n.Width > 0 && n.Width < p.Length && n.Depth < p.Height {
				deep := n.Depth
				if tongue := e.Fit.Board.Tongue; name == "top" && deep > tongue && !p.Ripped {
					deep -= tongue // it counts from the tongue's tip
				}
				in := base + sign*deep
				out = append(out, pt(x+n.X, base), pt(x+n.X, in), pt(x+n.X+n.Width, in), pt(x+n.X+n.Width, base))
			}
		}
		return out
	}
	out := []draw.Point{pt(x, z)}
	out = append(out, edge("bottom", z, 1)...)
	out = append(out, pt(x+p.Length, z), pt(x+p.Length, z+p.Height))
	top := edge("top", z+p.Height, -1)
	slices.Reverse(top)
	out = append(out, top...)
	return append(out, pt(x, z+p.Height))
}

// barLeast is the least distance of bars on paper that still prints as bars.
const barLeast = 900

func (e *elevation) grille(v int, x, datum measure.Length) {
	g := e.Fit.Bays[v].Grille
	if g == nil {
		return
	}
	k := g.Grille
	x0, z0 := x+g.X, datum+g.Z
	x1, z1 := x0+g.Width, z0+k.Height
	e.d.Add(draw.Rectangle(layerGrille, draw.Pen{}, draw.White(), pt(x0, z0), pt(x1, z1)))
	lo, hi := z0+k.Lower, z1-k.Upper
	if k.Mesh > 0 {
		e.d.Add(&draw.Polygon{Layer: layerGrille, Fill: draw.Fill{Kind: draw.CrossedFill, Angle: 45 * draw.Degree, Pitch: max(e.scale.Paper(k.Mesh), 1200)}, Points: box(x0, lo, x1, hi)})
	} else {
		e.bars(layerGrille, x0+k.Margin-g.Trim[0], x1-k.Bar/2, k.Pitch, k.Bar, lo, hi)
	}
	e.d.Add(draw.Rectangle(layerGrille, light, draw.Fill{}, pt(x0, z0), pt(x1, z1)),
		draw.NewLine(layerGrille, thin, pt(x0, lo), pt(x1, lo)), draw.NewLine(layerGrille, thin, pt(x0, hi), pt(x1, hi)))
	trim := e.say("views.not-trimmed")
	short := trim
	if g.Trim != [2]measure.Length{} {
		trim = e.say("views.trim", size("left", g.Trim[0]), size("right", g.Trim[1]))
		short = e.say("views.trim-short", size("left", g.Trim[0]), size("right", g.Trim[1]))
	}
	grille, w := e.say("views.grille"), e.show(g.Width)
	if e.Fit.Bays[v].Feeder != nil && e.narrow(x0, x1) {
		return // a note tells it
	}
	e.within([]string{grille + " " + w + "\n" + trim, grille + "\n" + w + "\n" + short, grille + "\n" + w}, x0, lo, x1, hi)
}

// bars draws upright bars from the axis of the first to the last that fits.
func (e *elevation) bars(on string, first, last, pitch, bar, lo, hi measure.Length) {
	if pitch <= 0 || e.scale.Paper(pitch) < barLeast {
		return
	}
	wide := e.scale.Paper(bar) >= 500
	for c := first; c <= last; c += pitch {
		if wide {
			e.d.Add(draw.NewLine(on, thinCut, pt(c-bar/2, lo), pt(c-bar/2, hi)), draw.NewLine(on, thinCut, pt(c+bar/2, lo), pt(c+bar/2, hi)))
			continue
		}
		e.d.Add(draw.NewLine(on, thinCut, pt(c, lo), pt(c, hi)))
	}
}

func (e *elevation) window(v int, x, datum measure.Length) {
	w := e.Fit.Bays[v].Window
	if w == nil {
		return
	}
	x0, z0 := x+w.X, datum+w.Sill
	x1, z1 := x0+w.Window.Width, datum+w.Head
	in := w.Window.Leg / 2
	e.d.Add(draw.Rectangle(layerGrille, medium, draw.White(), pt(x0, z0), pt(x1, z1)),
		draw.Rectangle(layerGrille, thin, draw.Fill{}, pt(x0+in, z0+in), pt(x1-in, z1-in)))
	across := e.show(w.Window.Width) + " ×\n" + e.show(w.Window.Height)
	e.within([]string{e.say("views.window") + "\n" + across, e.say("views.window")}, x0, z0, x1, z1)
}

func (e *elevation) feeder(v int, x, datum measure.Length) {
	f := e.Fit.Bays[v].Feeder
	if f == nil {
		return
	}
	x0, z0 := x+f.X, datum+f.Z
	x1, z1 := x0+f.Feeder.Width, datum+f.Top
	e.d.Add(draw.Rectangle(layerGrille, medium, draw.White(), pt(x0, z0), pt(x1, z1)),
		draw.NewLine(layerGrille, thinCut, pt(x0, z0), pt(x1, z1)), draw.NewLine(layerGrille, thinCut, pt(x0, z1), pt(x1, z0)))
	feeder := e.say("views.feeder")
	e.within([]string{feeder + "\n" + e.show(f.Feeder.Width) + " ×\n" + e.show(f.Feeder.Height), feeder}, x0, z0, x1, z1)
}

// clampScrews draws the stack clamps between the stack and the top tube, spread
// evenly over the bay.
func (e *elevation) clampScrews(v int, x, datum, zone measure.Length) {
	f := &e.Fit.Bays[v]
	n := e.clamps[e.Layout.Bays[v].Name]
	if f.Stack == nil || f.Stack.Clamp == nil || n == 0 {
		return
	}
	z0, z1 := datum+f.Stack.Top+f.Stack.Packing, datum+zone
	w := e.paper(600)
	for k := range measure.Length(n) {
		c := x + f.Clear*(2*k+1)/measure.Length(2*n)
		e.d.Add(draw.Rectangle(layerDoor, draw.Pen{}, draw.Tint(0), pt(c-w, z0), pt(c+w, z1)))
	}
}

// oneLine says whether a text surely fits a width on one line. Labels would
// break it anywhere, even within a length.
func (e *elevation) oneLine(text string, width measure.Length) bool {
	const letter = 2000 // wider than the mean of letters 2.5 mm high
	return draw.Micron(utf8.RuneCountInString(text))*letter <= e.scale.Paper(width)
}

// narrow says whether an area is too narrow for a length to be written in it.
func (e *elevation) narrow(x0, x1 measure.Length) bool { return e.scale.Paper(x1-x0) < 17*draw.MM }

// within labels an area with the first of the texts that fits it.
func (e *elevation) within(texts []string, x0, z0, x1, z1 measure.Length) {
	l := &draw.Label{At: pt((x0+x1)/2, (z0+z1)/2), Texts: texts, Where: []draw.Where{draw.Centre}, Within: box(x0, z0, x1, z1), Lead: draw.LeadNever}
	if e.narrow(x0, x1) || e.scale.Paper(z1-z0) < 4*draw.MM {
		l.Lead, l.Texts = draw.LeadIfNeeded, texts[len(texts)-1:]
	}
	e.d.Add(l)
}

// layer is courses of one bay whose boards are of the same lengths.
type layer struct {
	lengths []measure.Length
	kind    string
	blocks  [][2]int // first and last course of each run of numbers
	count   int
	x0, x1  []measure.Length // of each board, from the bay's left web
	z0, z1  measure.Length   // of its tallest block of courses, above the datum (or leaf bottom)
}

// courses names the layer's courses: c1–c8, c15.
func (l *layer) courses() string {
	out := make([]string, len(l.blocks))
	for i, b := range l.blocks {
		out[i] = courseRange(b[0], b[1])
	}
	return strings.Join(out, ", ")
}

// layers gathers a bay's courses by what their boards measure.
func (t *tables) layers(v int) []layer {
	f := &t.Fit.Bays[v]
	var out []layer
	for k := 0; k < len(f.Courses); {
		from := k
		for k++; k < len(f.Courses) && t.follows(&f.Courses[k-1], &f.Courses[k]); k++ {
		}
		first, last := &f.Courses[from], &f.Courses[k-1]
		l := layer{kind: first.Kind, count: k - from, blocks: [][2]int{{first.No, last.No}}, z0: first.Z, z1: last.Z + last.Height}
		for _, i := range first.Pieces {
			p := &t.Fit.Pieces[i]
			l.lengths = append(l.lengths, p.Length)
			l.x0, l.x1 = append(l.x0, p.X), append(l.x1, p.X+p.Length)
		}
		i := slices.IndexFunc(out, func(o layer) bool {
			return slices.Equal(o.lengths, l.lengths) && slices.Equal(o.x0, l.x0) && (o.kind == "ripped") == (l.kind == "ripped")
		})
		if i < 0 {
			out = append(out, l)
			continue
		}
		o := &out[i]
		o.count += l.count
		if end := &o.blocks[len(o.blocks)-1]; end[1]+1 == first.No {
			end[1] = last.No
		} else {
			o.blocks = append(o.blocks, l.blocks...)
		}
		if l.z1-l.z0 > o.z1-o.z0 {
			o.z0, o.z1 = l.z0, l.z1
		}
	}
	return out
}

// follows says whether course b stands on a with boards of the same lengths.
func (t *tables) follows(a, b *fit.Course) bool {
	if a.Z+a.Height != b.Z || len(a.Pieces) != len(b.Pieces) || (b.Kind == "ripped") != (a.Kind == "ripped") {
		return false
	}
	for i := range a.Pieces {
		p, q := &t.Fit.Pieces[a.Pieces[i]], &t.Fit.Pieces[b.Pieces[i]]
		if p.Length != q.Length || p.X != q.X {
			return false
		}
	}
	return true
}

// lengths writes each layer's courses, their board length and its state on the
// boards themselves.
func (e *elevation) lengths(v int, x, z measure.Length) {
	f := &e.Fit.Bays[v]
	for _, l := range e.layers(v) {
		c := l.courses()
		for i, length := range l.lengths {
			s := e.show(length)
			state := e.words.Say(words.State(f.State))
			texts := []string{
				fmt.Sprintf("%s: %d × %s\n%s", c, l.count, s, state),
				fmt.Sprintf("%s\n%s\n%s", c, s, state),
				fmt.Sprintf("%s\n%s", c, s),
				c + " " + s,
			}
			if f.Feeder != nil && e.narrow(l.x0[i], l.x1[i]) {
				continue // a note tells it
			}
			if whole := fmt.Sprintf("%s: %d × %s, %s", c, l.count, s, state); e.oneLine(whole, l.x1[i]-l.x0[i]) {
				texts = append([]string{whole}, texts...)
			}
			e.within(texts, x+l.x0[i], z+l.z0, x+l.x1[i], z+l.z1)
		}
	}
	if p := f.Stack; p != nil && p.Packing > 0 {
		e.d.Add(&draw.Label{At: pt(x+f.Clear/3, z+p.Top+p.Packing/2), Texts: []string{e.say("views.packing", size("height", p.Packing))}, Where: []draw.Where{draw.UnderRight, draw.UnderLeft}, Lead: draw.LeadAlways, End: draw.Dot})
	}
}
