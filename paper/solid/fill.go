package solid

import (
	"fmt"
	"slices"

	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// bay adds what fills a bay.
func (b *builder) bay(v int) {
	d := &b.Layout.Bays[v]
	switch {
	case d.IsDoor():
		b.door(v)
		return
	case d.IsOpen():
		return
	}
	r, out := &b.Layout.Runs[d.Run], &b.Fit.Bays[v]
	x := b.Fit.BayAt(b.Layout, v)
	for _, i := range out.Pieces {
		p := &b.Fit.Pieces[i]
		switch p.Kind {
		case fit.Board:
			b.lumber(i, b.run[d.Run].frame, b.boardAt(v, p), 0, b.datum(r)+p.Z)
		case fit.Packing, fit.Skirt:
			s := b.ofPiece(i, Lumber)
			at := x + (out.Clear-p.Length)/2
			s.Parts = parts(b.run[d.Run].frame, box(at, at+p.Length, -b.board/2, b.board/2, b.datum(r)+p.Z, b.datum(r)+p.Z+p.Height))
			b.add(s)
		}
	}
	b.grille(v, x)
	b.window(v, x)
	b.feeder(v, x)
	b.stackClamps(v, x)
}

// boardAt is where a board's left end stands along its run. A board from web to
// web stands with half its play at each end.
func (b *builder) boardAt(v int, p *fit.Piece) measure.Length {
	out := &b.Fit.Bays[v]
	x := b.Fit.BayAt(b.Layout, v) + p.X
	if p.Course < 1 || p.Course > len(out.Courses) {
		return x
	}
	if c := &out.Courses[p.Course-1]; len(c.Pieces) == 1 && c.Kind != "split" && c.Kind != "cut" && c.Kind != "short" {
		x += (out.Clear - p.Length) / 2
	}
	return x
}

// lumber adds one board: its left end at x, its middle at y, its underside at z.
func (b *builder) lumber(piece int, f Frame, x, y, z measure.Length) {
	p := &b.Fit.Pieces[piece]
	kind := Lumber
	if p.Treated {
		kind = Treated
	}
	s := b.ofPiece(piece, kind)
	for _, prism := range b.boardPrisms(p, x, y, z) {
		s.Parts = append(s.Parts, Part{f, prism})
	}
	s.Welded = len(s.Parts) > 1
	b.add(s)
}

// boardPrisms is a board cut into stretches between its notches.
func (b *builder) boardPrisms(p *fit.Piece, x, y, z measure.Length) []Prism {
	knots := []measure.Length{0, p.Length}
	for _, n := range p.Notches {
		for _, at := range []measure.Length{n.X, n.X + n.Width} {
			if at > 0 && at < p.Length {
				knots = append(knots, at)
			}
		}
	}
	slices.Sort(knots)
	knots = slices.Compact(knots)
	var out []Prism
	for k := 1; k < len(knots); k++ {
		lo, hi := knots[k-1], knots[k]
		var gone []region
		for _, n := range p.Notches {
			if n.X < hi && n.X+n.Width > lo {
				gone = append(gone, b.notchOf(p, n))
			}
		}
		outline, cover := b.boardSection(p, gone)
		for i := range outline {
			outline[i] = moved(outline[i], y, z)
		}
		for i := range cover {
			cover[i] = moved(cover[i], y, z)
		}
		if len(outline) > 0 {
			out = append(out, Prism{Axis: Along, From: x + lo, To: x + hi, Outline: outline, Cover: cover})
			continue
		}
		for _, c := range cover { // of a notched stretch each rectangle for itself
			out = append(out, Prism{Axis: Along, From: x + lo, To: x + hi, Outline: [][]Point{c}})
		}
	}
	return out
}

func moved(poly []Point, u, v measure.Length) []Point {
	out := make([]Point, len(poly))
	for i, q := range poly {
		out[i] = Point{q.U + u, q.V + v}
	}
	return out
}

// region is a rectangle of a board's section: y across from its middle, z up from
// its lower edge.
type region struct{ y0, y1, z0, z1 measure.Length }

// notchOf is what a notch takes out of the section.
func (b *builder) notchOf(p *fit.Piece, n fit.Notch) region {
	half, tip := b.board/2, p.Height+b.tongue(p)
	switch n.Edge {
	case "top":
		return region{-half, half, tip - n.Depth, tip}
	case "bottom":
		return region{-half, half, 0, n.Depth}
	case string(job.WallFrontFace) + " face":
		return region{-half, -half + n.Depth, 0, n.High}
	}
	return region{half - n.Depth, half, 0, n.High}
}

// tongue is how far a board's tongue stands out; none where it is ripped off.
func (b *builder) tongue(p *fit.Piece) measure.Length {
	if p.Ripped {
		return 0
	}
	return b.Fit.Board.Tongue
}

// boardSection is a board's section about its middle, from its lower edge up: a
// tongue a third of its thickness wide on top, a groove like it below (common
// practice, no published source; the tongue's length is the job's). The outline
// is missing where something is taken out of it.
func (b *builder) boardSection(p *fit.Piece, gone []region) (outline, cover [][]Point) {
	half, third, h := b.board/2, b.board/6, p.Height
	t, g := b.tongue(p), b.Fit.Board.Tongue
	if g >= h {
		g = 0
	}
	if len(gone) == 0 && t > 0 && g > 0 {
		return [][]Point{{{-half, 0}, {-third, 0}, {-third, g}, {third, g}, {third, 0}, {half, 0}, {half, h}, {third, h}, {third, h + t}, {-third, h + t}, {-third, h}, {-half, h}}},
			[][]Point{rect(-half, half, g, h), rect(-half, -third, 0, g), rect(third, half, 0, g), rect(-third, third, h, h+t)}
	}
	all := []region{{-half, half, g, h}, {-half, -third, 0, g}, {third, half, 0, g}, {-third, third, h, h + t}}
	for _, cut := range gone {
		var left []region
		for _, r := range all {
			left = append(left, r.less(cut)...)
		}
		all = left
	}
	for _, r := range all {
		if r.y0 < r.y1 && r.z0 < r.z1 {
			cover = append(cover, rect(r.y0, r.y1, r.z0, r.z1))
		}
	}
	return nil, cover
}

// less is what is left of a region without another.
func (r region) less(c region) []region {
	y0, y1, z0, z1 := max(r.y0, c.y0), min(r.y1, c.y1), max(r.z0, c.z0), min(r.z1, c.z1)
	if y0 >= y1 || z0 >= z1 {
		return []region{r}
	}
	var out []region
	for _, q := range []region{{r.y0, r.y1, r.z0, z0}, {r.y0, r.y1, z1, r.z1}, {r.y0, y0, z0, z1}, {y1, r.y1, z0, z1}} {
		if q.y0 < q.y1 && q.z0 < q.z1 {
			out = append(out, q)
		}
	}
	return out
}

// skin is how thick the sheet of frames is that stand in a bay's channels about
// its boards: two thirds of the play between board and channel (common practice,
// no published source).
func (b *builder) skin(v int) measure.Length {
	inside := measure.Length(0)
	for _, e := range b.Layout.Bays[v].Ends {
		if e.Inside > 0 && (inside == 0 || e.Inside < inside) {
			inside = e.Inside
		}
	}
	return max((inside-b.board)/3, measure.Millimetre/2)
}

// wire is the thickness of a mesh's wires (common practice, no published source).
const wire = 4 * measure.Millimetre

func (b *builder) grille(v int, x measure.Length) {
	g := b.Fit.Bays[v].Grille
	if g == nil {
		return
	}
	r, k, f := &b.Layout.Runs[b.Layout.Bays[v].Run], g.Grille, b.run[b.Layout.Bays[v].Run].frame
	s := b.ofPiece(g.Piece, Panel)
	x0, z0 := x+g.X, b.datum(r)+g.Z
	x1, z1 := x0+g.Width, z0+k.Height
	t := b.skin(v)
	lower, lowerCover := channel(z0+k.Lower+t, z0+k.Lower, z0, b.board, t)
	upper, upperCover := channel(z1-k.Upper-t, z1-k.Upper, z1, b.board, t)
	s.Parts = parts(f,
		Prism{Axis: Along, From: x0, To: x1, Outline: turned(lower), Cover: turned(lowerCover)},
		Prism{Axis: Along, From: x0, To: x1, Outline: turned(upper), Cover: turned(upperCover)})
	lo, hi := z0+k.Lower+t, z1-k.Upper-t
	if k.Mesh > 0 {
		s.Parts = append(s.Parts, mesh(f, x0, x1, 0, lo, hi, k.Mesh)...)
	} else {
		s.Parts = append(s.Parts, bars(f, x0+k.Margin-g.Trim[0], x1-k.Bar/2, k.Pitch, k.Bar, 0, lo, hi)...)
	}
	b.add(s)
}

// turned swaps a section's axes, as one drawn out along the wall has z second.
func turned(polys [][]Point) [][]Point {
	out := make([][]Point, len(polys))
	for i, p := range polys {
		q := make([]Point, len(p))
		for k, v := range p {
			q[len(p)-1-k] = Point{v.V, v.U}
		}
		out[i] = q
	}
	return out
}

// bars are round bars upright between two heights, from the axis of the first to
// the last that fits.
func bars(f Frame, first, last, pitch, diameter, y, lo, hi measure.Length) []Part {
	var out []Part
	if pitch <= 0 || lo >= hi {
		return nil
	}
	for c := first; c <= last; c += pitch {
		out = append(out, Part{f, rod(Up, lo, hi, c, y, diameter, rodCorners)})
	}
	return out
}

// mesh is wires both ways over an area.
func mesh(f Frame, x0, x1, y, lo, hi, pitch measure.Length) []Part {
	var out []Part
	if pitch <= 0 || lo >= hi || x0 >= x1 {
		return nil
	}
	h := wire / 2
	for c := x0 + pitch/2; c <= x1-h; c += pitch {
		p := box(c-h, c+h, y-wire, y, lo, hi)
		p.Fine = true
		out = append(out, Part{f, p})
	}
	for c := lo + pitch/2; c <= hi-h; c += pitch {
		p := Prism{Axis: Along, From: x0, To: x1, Outline: [][]Point{rect(y, y+wire, c-h, c+h)}, Fine: true}
		out = append(out, Part{f, p})
	}
	return out
}

// Bars of a window, whose pitch kits do not state (common practice, no published
// source).
const (
	windowBar   = 3 * measure.Inch / 4
	windowPitch = 3 * measure.Inch
	windowFrame = 3 * measure.Inch / 2
)

func (b *builder) window(v int, x measure.Length) {
	w := b.Fit.Bays[v].Window
	if w == nil {
		return
	}
	r, f := &b.Layout.Runs[b.Layout.Bays[v].Run], b.run[b.Layout.Bays[v].Run].frame
	s := b.ofPiece(w.Piece, Panel)
	x0, z0 := x+w.X, b.datum(r)+w.Sill
	x1, z1 := x0+w.Window.Width, b.datum(r)+w.Head
	half, t := b.board/2, b.skin(v)
	in := min(windowFrame, (x1-x0)/4)
	s.Parts = parts(f,
		box(x0, x0+in, -half, half, z0, z1), box(x1-in, x1, -half, half, z0, z1),
		box(x0+in, x1-in, -half, half, z0, z0+in), box(x0+in, x1-in, -half, half, z1-in, z1))
	s.Welded = true
	lo, hi := z0, b.datum(r)+measure.Length(w.CutCourses)*b.Fit.Board.Coverage+w.Sill
	for _, y := range [2]measure.Length{-half - t, half} { // side channels over the cut boards
		s.Parts = append(s.Parts, parts(f, box(x0-w.Window.Leg, x0+in, y, y+t, lo, hi), box(x1-in, x1+w.Window.Leg, y, y+t, lo, hi))...)
	}
	n := (x1 - x0 - 2*in - windowBar) / windowPitch
	first := (x0+x1)/2 - n*windowPitch/2
	s.Parts = append(s.Parts, bars(f, first, x1-in-windowBar/2, windowPitch, windowBar, 0, z0+in, z1-in)...)
	b.add(s)
}

func (b *builder) feeder(v int, x measure.Length) {
	d := b.Fit.Bays[v].Feeder
	if d == nil {
		return
	}
	r, f := &b.Layout.Runs[b.Layout.Bays[v].Run], b.run[b.Layout.Bays[v].Run].frame
	s := b.ofPiece(d.Piece, Panel)
	x0, z0 := x+d.X, b.datum(r)+d.Z+b.Fit.Board.Tongue
	x1, z1 := x0+d.Feeder.Width, b.datum(r)+d.Top
	half, t := b.board/2, b.skin(v)
	leg := d.Feeder.Leg
	// A frame of its own in the wall, a board's thickness deep, its panel set
	// back so that the leaf that swings is seen.
	s.Parts = parts(f,
		box(x0, x0+windowFrame, -half, half, z0, z1), box(x1-windowFrame, x1, -half, half, z0, z1),
		box(x0+windowFrame, x1-windowFrame, -half, half, z0, z0+windowFrame), box(x0+windowFrame, x1-windowFrame, -half, half, z1-windowFrame, z1),
		box(x0+windowFrame, x1-windowFrame, -half/2, half/2, z0+windowFrame, z1-windowFrame))
	s.Welded = true
	// Its side channel takes the short boards and the grille over them.
	inner, outer := x0-leg, x0
	if d.Left {
		inner, outer = x1+leg, x1
	}
	in := half + t + t/2
	for _, y := range [2]measure.Length{-in - t, in} {
		s.Parts = append(s.Parts, parts(f, box(min(inner, outer), max(inner, outer), y, y+t, z0, z1))...)
	}
	if d.Left {
		s.Parts = append(s.Parts, parts(f, box(x1-t, x1, -in-t, -half, z0, z1), box(x1-t, x1, half, in+t, z0, z1))...)
	} else {
		s.Parts = append(s.Parts, parts(f, box(x0, x0+t, -in-t, -half, z0, z1), box(x0, x0+t, half, in+t, z0, z1))...)
	}
	b.add(s)
}

// Sizes of a stack clamp that kits do not state (common practice, no published
// source): its screw, the foot that presses, the head above the tube.
const (
	clampScrew = 5 * measure.Inch / 8
	clampFoot  = 3 * measure.Inch
	clampHead  = 5 * measure.Inch / 4
)

// stackClamps press a bay's stack from its top tube, spread evenly over the bay.
func (b *builder) stackClamps(v int, x measure.Length) {
	d, out := &b.Layout.Bays[v], &b.Fit.Bays[v]
	n := b.clamps[d.Name]
	if out.Stack == nil || out.Stack.Clamp == nil || n == 0 {
		return
	}
	r, f := &b.Layout.Runs[d.Run], b.run[d.Run].frame
	tube := b.Kit.Tube(r.Assembly.Top)
	lo, hi := b.datum(r)+out.Stack.Top+out.Stack.Packing, b.datum(r)+r.Zone
	if lo >= hi || tube == nil {
		return
	}
	plate := min(measure.Inch/4, (hi-lo)/2)
	// Between the legs of the channels, and beside each other.
	from, room := x+d.Ends[0].Leg, out.Clear-d.Ends[0].Leg-d.Ends[1].Leg
	each := room / measure.Length(n)
	clampFoot, clampHead, clampScrew := min(clampFoot, each), min(clampHead, each), min(clampScrew, each)
	for k := range measure.Length(n) {
		c := from + room*(2*k+1)/measure.Length(2*n)
		s := b.ofRun(fmt.Sprintf("%s/clamp%d", d.Name, k+1), out.Stack.Clamp.ID, Hardware, d.Run, v)
		s.Parts = parts(f,
			box(c-clampFoot/2, c+clampFoot/2, -b.board/3, b.board/3, lo, lo+plate),
			rod(Up, lo+plate, hi, c, 0, clampScrew, rodCorners),
			rod(Up, hi+tube.Depth, hi+tube.Depth+clampHead/2, c, 0, clampHead, 6))
		b.add(s)
	}
}
