package solid

import (
	"fmt"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// Sizes of a sliding door's hardware that kits do not state (common practice, no
// published source).
const (
	leafClear = measure.Inch / 2     // between a sliding leaf and what it slides before
	railThick = 3 * measure.Inch / 8 // the bar that rollers run on
	wheel     = 3 * measure.Inch
	wheelWide = 3 * measure.Inch / 4
	strap     = 3 * measure.Inch / 2 // width of what hangs the leaf from a roller
	strapDeep = measure.Inch / 4
	handleRod = 3 * measure.Inch / 4
	handleLen = 10 * measure.Inch
	hingeTall = 4 * measure.Inch
)

// door adds a doorway's leaves with their boards, and what they hang from.
func (b *builder) door(v int) {
	d := b.Fit.Bays[v].Door
	if d == nil {
		return
	}
	run := b.Layout.Bays[v].Run
	y := measure.Length(0) // middle of the leaf's thickness
	if d.Door.Kind == kit.Sliding {
		y = -b.slideFace(v) - leafClear - d.Door.Leaf.Depth/2
	}
	leaf := 0
	for _, i := range b.Fit.Bays[v].Pieces {
		p := &b.Fit.Pieces[i]
		if p.Kind == fit.Door {
			x, z := b.leafAt(v, leaf)
			b.leaf(v, i, leaf, x, y, z)
			leaf++
		}
	}
	n := 0
	for _, i := range b.Fit.Bays[v].Pieces {
		p := &b.Fit.Pieces[i]
		if p.Kind != fit.Board {
			continue
		}
		x, z := b.leafAt(v, n%d.Leaves)
		play := (d.Door.Leaf.Width - 2*d.Door.Leaf.Stile - p.Length) / 2
		b.lumber(i, b.run[run].frame, x+p.X+play, y, z+p.Z)
		n++
	}
	if d.Track != nil {
		b.track(v, d, y)
	}
}

// leafAt is where the lower left corner of a bay's n-th leaf stands, closed.
func (b *builder) leafAt(v, n int) (x, z measure.Length) {
	x, z, _ = b.Fit.LeafAt(b.Layout, v, n)
	return x, z - b.Layout.Runs[b.Layout.Bays[v].Run].Drop
}

// slideFace is how far in front of the wall's centre line a sliding leaf hangs:
// before the front's face, and before every post that its track passes.
func (b *builder) slideFace(v int) measure.Length {
	d := b.Fit.Bays[v].Door
	bay := &b.Layout.Bays[v]
	r := &b.Layout.Runs[bay.Run]
	face := r.Assembly.Lap
	if t := b.Kit.Tube(r.Assembly.Top); t != nil {
		face = max(face, t.Width/2)
	}
	if k := b.Kit.Bracket(r.Assembly.Bracket); k != nil {
		face += k.Plate
	}
	if d.Track == nil {
		return face
	}
	line := b.Layout.Line(bay.Run)
	for _, run := range b.Layout.Walls[bay.Wall].Runs {
		q := &b.Layout.Runs[run]
		from := b.Layout.Line(run)
		if b.Layout.Structures[bay.Structure].Kind == frame.Pen && run != bay.Run {
			continue
		}
		if b.Layout.Structures[bay.Structure].Kind == frame.Pen {
			from = line
		}
		for side, post := range [2]int{q.From, q.To} {
			p := &b.Layout.Posts[post]
			x := from
			if side == 1 {
				x += q.Centres
			}
			across := b.Layout.Seen(post, run) // square posts look the same from both sides
			half := p.Across / 2
			if f := b.run[run].frame; f.cos == 0 {
				half = p.Along / 2
			}
			if x+across/2 > d.Track.X[0] && x-across/2 < d.Track.X[1] {
				face = max(face, half)
			}
		}
	}
	return face
}

// leaf is one door leaf: stiles with their legs, rails, and what its bands hold
// besides boards.
func (b *builder) leaf(v, piece, n int, x, y, z measure.Length) {
	d := b.Fit.Bays[v].Door
	l, f := &d.Door.Leaf, b.run[b.Layout.Bays[v].Run].frame
	s := b.ofPiece(piece, Leaf)
	half := l.Depth / 2
	x0, x1 := x+l.Stile, x+l.Width-l.Stile
	s.Parts = parts(f, box(x, x0, y-half, y+half, z, z+l.Height), box(x1, x+l.Width, y-half, y+half, z, z+l.Height))
	s.Welded = true
	leg := half - b.board/2
	for _, band := range d.Bands {
		z0 := z + band.Z
		z1 := z0 + band.Panel.Height
		switch p := &band.Panel; p.Fill {
		case kit.PanelRail:
			s.Parts = append(s.Parts, parts(f, box(x0, x1, y-half, y+half, z0, z1))...)
		case kit.PanelBoards:
			if leg > 0 {
				for _, side := range [2]measure.Length{y - half, y + half - leg} {
					s.Parts = append(s.Parts, parts(f, box(x0, x0+l.Leg, side, side+leg, z0, z1), box(x1-l.Leg, x1, side, side+leg, z0, z1))...)
				}
			}
		case kit.PanelMetal:
			s.Parts = append(s.Parts, parts(f, box(x0, x1, y-measure.Millimetre, y+measure.Millimetre, z0, z1))...)
		case kit.PanelMesh:
			s.Parts = append(s.Parts, mesh(f, x0, x1, y, z0, z1, leafMesh)...)
		case kit.PanelGrille:
			if p.Pitch > 0 {
				n := measure.Length((x1 - x0 - p.Bar).DivDown(p.Pitch))
				s.Parts = append(s.Parts, bars(f, (x0+x1)/2-n*p.Pitch/2, x1-p.Bar/2, p.Pitch, p.Bar, y, z0, z1)...)
			}
		}
	}
	b.add(s)
	b.handle(v, n, x, y, z)
	if d.Door.Hinge != nil {
		b.hinges(v, n, x, z)
	}
}

// leafMesh is the mesh of a leaf, which kits do not state (common practice, no
// published source).
const leafMesh = 2 * measure.Inch

// closesLeft says whether a leaf's closing edge is its left one: it closes away
// from the side it parks or hangs on.
func (b *builder) closesLeft(v, n int) bool {
	d := b.Fit.Bays[v].Door
	return d.Track != nil && d.Track.Hand == job.Right || d.Track == nil && (b.Layout.Bays[v].Hinge == job.Right || n == 1)
}

// handle is an upright grip before the leaf, its middle at the handle's height.
func (b *builder) handle(v, n int, x, y, z measure.Length) {
	d := b.Fit.Bays[v].Door
	h := d.Door.Handle
	if h == nil {
		return
	}
	bay := &b.Layout.Bays[v]
	at := x + d.Leaf - h.Setback
	if b.closesLeft(v, n) {
		at = x + h.Setback
	}
	front := y - d.Door.Leaf.Depth/2
	s := b.ofRun(fmt.Sprintf("%s/handle%d", bay.Name, n+1), b.comes(d.Door, kit.GoesHandle), Hardware, bay.Run, v)
	lo, hi := z+h.Height-handleLen/2, z+h.Height+handleLen/2
	s.Parts = parts(b.run[bay.Run].frame,
		rod(Up, lo, hi, at, front-3*measure.Inch/2, handleRod, rodCorners),
		box(at-handleRod/2, at+handleRod/2, front-3*measure.Inch/2+handleRod/2, front, lo, lo+handleRod),
		box(at-handleRod/2, at+handleRod/2, front-3*measure.Inch/2+handleRod/2, front, hi-handleRod, hi))
	s.Sheer = true
	b.add(s)
}

// comes is the first part that comes with a door for some work; none where the kit
// says nothing of it.
func (b *builder) comes(d *kit.Door, goes kit.Goes) string {
	for i := range d.With {
		if w := &d.With[i]; w.Goes == goes && b.Kit.Fastener(w.Use) == nil {
			return w.Use
		}
	}
	return ""
}

// hinges are knuckles at the leaf's hinge side, by how many come with the door.
func (b *builder) hinges(v, n int, x, z measure.Length) {
	bay, d := &b.Layout.Bays[v], b.Fit.Bays[v].Door
	id := b.comes(d.Door, kit.GoesRollers)
	count := 2
	for i := range d.Door.With {
		if w := &d.Door.With[i]; w.Use == id && id != "" {
			if c, err := w.Count.Count(&kit.Facts{}); err == nil && c >= d.Leaves {
				count = c / d.Leaves
			}
		}
	}
	gap := d.Door.Hinge.HingeGap
	at := x - gap/2
	if b.closesLeft(v, n) {
		at = x + d.Leaf + gap/2
	}
	for k := range count {
		c := z + d.Door.Leaf.Height*measure.Length(2*k+1)/measure.Length(2*count)
		s := b.ofRun(fmt.Sprintf("%s/hinge%d.%d", bay.Name, n+1, k+1), id, Hardware, bay.Run, v)
		s.Parts = parts(b.run[bay.Run].frame, rod(Up, c-hingeTall/2, c+hingeTall/2, at, -d.Door.Leaf.Depth/2-gap, gap, rodCorners))
		s.Sheer = true
		b.add(s)
	}
}

// track is a sliding door's rail on its brackets before the top tube, its stops,
// and the rollers that hang the leaf from it.
func (b *builder) track(v int, d *fit.DoorFit, y measure.Length) {
	bay := &b.Layout.Bays[v]
	r, f := &b.Layout.Runs[bay.Run], b.run[bay.Run].frame
	slide := d.Door.Slide
	run := b.datum(r) + r.Zone + slide.Rail // running face
	x0 := b.Fit.BayAt(b.Layout, v) + b.Fit.Pieces[d.Track.Piece].X
	x1 := x0 + d.Track.Length
	low := run - min(slide.Stop, d.Stem)
	s := b.ofPiece(d.Track.Piece, Hardware)
	s.Parts = parts(f, box(x0, x1, y-railThick/2, y+railThick/2, low, run))
	b.add(s)
	b.trackBrackets(v, d, x0, x1, y, low, run)
	if w := slide.StopWidth; w > 0 {
		for side, x := range [2]measure.Length{x0, x1 - w} {
			e := b.ofRun(fmt.Sprintf("%s/%s stop", bay.Name, [2]string{"left", "right"}[side]), b.comes(d.Door, kit.GoesHang), Hardware, bay.Run, v)
			e.Parts = parts(f, box(x, x+w, y-railThick/2-measure.Inch/4, y+railThick/2+measure.Inch/4, run, run+wheel/2))
			b.add(e)
		}
	}
	leafX, z := b.leafAt(v, 0)
	top := z + d.Door.Leaf.Height
	n := measure.Length(slide.Rollers)
	for k := range n {
		c := leafX + d.Leaf*(2*k+1)/(2*n)
		if n == 2 { // near the leaf's ends
			c = leafX + d.Leaf/6 + measure.Length(k)*d.Leaf*2/3
		}
		w := b.ofRun(fmt.Sprintf("%s/roller%d", bay.Name, k+1), b.comes(d.Door, kit.GoesRollers), Hardware, bay.Run, v)
		front := y - wheelWide/2 - strapDeep
		w.Parts = parts(f,
			rod(Across, y-wheelWide/2, y+wheelWide/2, run+wheel/2, c, wheel, wheelCorners),
			box(c-strap/2, c+strap/2, front, front+strapDeep, top, run+wheel*3/4),
			box(c-strap/2, c+strap/2, front+strapDeep, y+wheelWide/2, top, top+min(strapDeep, (low-top)/2)))
		w.Sheer = true
		b.add(w)
	}
}

// trackBrackets hold the rail off the top tube, evenly along it.
func (b *builder) trackBrackets(v int, d *fit.DoorFit, x0, x1, y, low, run measure.Length) {
	bay := &b.Layout.Bays[v]
	r, f := &b.Layout.Runs[bay.Run], b.run[bay.Run].frame
	id, count := b.comes(d.Door, kit.GoesTrack), 0
	facts := kit.Facts{Opening: d.Opening, Leaf: d.Leaf}
	for i := range d.Door.With {
		if w := &d.Door.With[i]; w.Use == id && id != "" {
			if c, err := w.Count.Count(&facts); err == nil {
				count = c
			}
		}
	}
	tube := b.Kit.Tube(r.Assembly.Top)
	if count < 2 || tube == nil {
		return
	}
	back := -tube.Width / 2
	if k := b.Kit.Bracket(r.Assembly.Bracket); k != nil {
		back -= k.Plate
	}
	for k := range measure.Length(count) {
		c := x0 + 2*measure.Inch + (x1-x0-4*measure.Inch)*k/measure.Length(count-1)
		s := b.ofRun(fmt.Sprintf("%s/track bracket%d", bay.Name, k+1), id, Hardware, bay.Run, v)
		s.Parts = parts(f, box(c-strap/2, c+strap/2, y+railThick/2, max(back, y+railThick/2+measure.Millimetre), low, min(run, b.datum(r)+r.Zone+tube.Depth)))
		s.Sheer = true
		b.add(s)
	}
}
