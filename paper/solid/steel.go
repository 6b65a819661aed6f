package solid

import (
	"fmt"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// steel adds what a run is framed of: channels or posts of its own at its ends,
// tubes, brackets.
func (b *builder) steel(run int) {
	r := &b.Layout.Runs[run]
	for side, name := range [...]string{"left", "right"} {
		switch {
		case r.Channel != nil:
			if i, ok := b.ends[r.Name+"/"+name+" channel"]; ok {
				b.laggedChannel(run, side, i)
			}
		case r.EndPost != nil:
			if i, ok := b.ends[r.Name+"/"+name+" post"]; ok {
				b.integral(run, side, i)
			}
		}
	}
	f := &b.run[run]
	for _, t := range f.tubes {
		k := b.Kit.Tube(b.Fit.Pieces[t.piece].Item)
		outline, cover := hollow(-t.half, t.half, t.z[0], t.z[1], k.Wall)
		s := b.ofPiece(t.piece, Steel)
		s.Parts = parts(f.frame, Prism{Axis: Along, From: t.x[0], To: t.x[1], Outline: outline, Cover: cover})
		b.add(s)
		b.brackets(run, t)
	}
}

// laggedChannel is a channel on standing timber. Its legs are as thick as its
// web (common practice for bent sheet, no published source).
func (b *builder) laggedChannel(run, side, piece int) {
	r := &b.Layout.Runs[run]
	m := b.meets(run, side)
	bay := r.Bays[0]
	if side == 1 {
		bay = r.Bays[len(r.Bays)-1]
	}
	c := r.Channel
	s := b.ofPiece(piece, Steel)
	long := b.Fit.Pieces[piece].Length
	s.Parts = b.zoneChannel(bay, side, m.frame, m.web, m.web-c.Web, c.Inside, c.Leg, c.Web, b.datum(r), long)
	b.add(s)
	b.lags(run, side, kit.JointChannel, m, b.datum(r), b.datum(r)+long)
}

// bracketReach is how far along its tube a bracket's plates reach (common
// practice, no published source).
const bracketReach = 3 * measure.Inch

// brackets are plates on both faces of a tube where it meets a post: of each
// corner of the frame.
func (b *builder) brackets(run int, t tubeAt) {
	r, f := &b.Layout.Runs[run], &b.run[run]
	k := b.Kit.Bracket(r.Assembly.Bracket)
	if k == nil {
		return
	}
	name := "bottom"
	if t.top {
		name = "top"
	}
	for side, x := range t.x {
		atPost := [2]measure.Length{f.left, f.right}[side]
		if d := x - atPost; max(d, -d) > bracketReach {
			if v := b.panelOf(&b.Fit.Pieces[t.piece]); v < 0 || b.atDoorPost(v, side) {
				continue // it ends at a door post, which has bolts of its own
			}
		}
		// The plates begin where the post's face is.
		lo, hi := x, x+bracketReach
		if side == 1 {
			lo, hi = x-bracketReach, x
		}
		if face := b.bodyFace(run, side); face != 0 {
			if side == 0 {
				lo = max(lo, face)
				hi = lo + bracketReach
			} else {
				hi = min(hi, face)
				lo = hi - bracketReach
			}
		}
		s := b.ofRun(fmt.Sprintf("%s/%s %s bracket", r.Name, name, [2]string{"left", "right"}[side]), k.ID, Hardware, run, -1)
		s.Parts = parts(f.frame,
			box(lo, hi, -t.half-k.Plate, -t.half, t.z[0], t.z[1]),
			box(lo, hi, t.half, t.half+k.Plate, t.z[0], t.z[1]))
		b.add(s)
		b.cornerBolts(run, s.Name, lo, hi, t, k.Plate)
	}
}

// atDoorPost says whether a panel ends at a door post on a side.
func (b *builder) atDoorPost(bay, side int) bool {
	return b.Layout.Posts[b.Layout.Bays[bay].Ends[side].Post].Kind == frame.Door
}

// bodyFace is where the body of the post at a run's end ends, along the run; zero
// where the tube's plates lie on the post's own faces.
func (b *builder) bodyFace(run, side int) measure.Length {
	r, f := &b.Layout.Runs[run], &b.run[run]
	if r.Assembly.Ends != kit.EndsShared {
		return 0
	}
	p := &b.Layout.Posts[[2]int{r.From, r.To}[side]]
	half := p.Along / 2
	if f.frame.cos == 0 {
		half = p.Across / 2
	}
	if half == 0 {
		return 0
	}
	web := [2]measure.Length{f.left, f.right}[side]
	reach := r.Ends[side].Reach
	if side == 0 {
		return web - reach + half
	}
	return web + reach - half
}

// Sizes of what a post stands on that kits do not state (common practice, no
// published source).
const (
	plateThick = measure.Inch / 2
	padThick   = 4 * measure.Inch
)

// base is what a post stands on, its top at the floor.
func (b *builder) base(i int) {
	p := &b.Layout.Posts[i]
	if p.Base == nil {
		return
	}
	s := Solid{Name: p.Name + "/base", Piece: -1, Item: p.Base.ID, Kind: Hardware, Structure: p.Structure, Run: -1, Bay: -1, Post: i}
	f := NewFrame(p.At, frame.Point{X: 1})
	if p.Kind == frame.Joint {
		// A foot under a pen's joint lies square to the circle.
		f = NewFrame(p.At, wayOf(p.Turn))
	}
	h, top := p.Base.Size/2, -b.drop(i)
	switch p.Base.Kind {
	case kit.Pier:
		s.Kind = Concrete
		s.Parts = parts(f, rod(Up, top-p.Base.Depth, top, 0, 0, p.Base.Diameter, wheelCorners))
	case kit.Pad:
		s.Kind = Concrete
		s.Parts = parts(f, box(-h, h, -h, h, top-padThick, top))
	default:
		s.Parts = parts(f, box(-h, h, -h, h, top-plateThick, top))
	}
	b.add(s)
	at := h * 3 / 4
	if p.Base.Kind == kit.Pier {
		at = p.Base.Diameter / 4
	}
	b.baseBolts(i, f, at, top)
}

// wayOf is a way of a metre in a direction.
func wayOf(a measure.Angle) frame.Point {
	c, s := unit(int(a/(measure.Degree/1000)), 360_000)
	return frame.Point{X: scaled(measure.Metre, c), Y: scaled(measure.Metre, s)}
}

// Sizes of a pen's joints that kits do not state (common practice, no published
// source): lugs of plate round the pin, at a share of the wall's height.
const (
	lugThick = measure.Inch / 4
	lugWide  = 3 * measure.Inch / 2
)

// pins are the lugs of two sections and the pins through them, where both
// sections are built.
func (b *builder) pins(i int) {
	p := &b.Layout.Posts[i]
	ms := b.meetings(i)
	if len(ms) != 2 {
		return
	}
	pin := b.jointPin()
	r := &b.Layout.Runs[ms[0].run]
	diameter, length := 5*measure.Inch/8, 8*measure.Inch
	if pin != nil {
		diameter, length = pin.Diameter, pin.Lengths[0]
	}
	for n, z := range [...]measure.Length{r.Height / 6, r.Height * 5 / 6} {
		name := [2]string{"bottom", "top"}[n]
		for k, m := range ms {
			q := &b.Layout.Runs[m.run]
			if q.EndPost == nil {
				continue
			}
			back := m.web + q.EndPost.Leg - q.EndPost.Along
			s := b.ofRun(fmt.Sprintf("%s/%s lugs at %s", q.Name, name, p.Name), "", Hardware, m.run, -1)
			s.Post = i
			for _, up := range [2]measure.Length{0, length - 4*lugThick} {
				at := z + up + measure.Length(k)*lugThick
				s.Parts = append(s.Parts, parts(m.frame, box(-lugWide/2, back, -lugWide/2, lugWide/2, at, at+lugThick))...)
			}
			s.Sheer = true
			b.add(s)
		}
		s := Solid{Name: fmt.Sprintf("%s/%s pin", p.Name, name), Piece: -1, Kind: Hardware, Structure: p.Structure, Run: -1, Bay: -1, Post: i, Sheer: true}
		if pin != nil {
			s.Item = pin.ID
		}
		s.Parts = parts(NewFrame(p.At, frame.Point{X: 1}), rod(Up, z-lugThick, z-lugThick+length, 0, 0, diameter, rodCorners))
		b.add(s)
	}
}

// jointPin is the kit's pin for sections; nil where it has none.
func (b *builder) jointPin() *kit.Fastener {
	for i := range b.Kit.Joints {
		if j := &b.Kit.Joints[i]; j.At == kit.JointSections {
			if f := b.Kit.Fastener(j.Use); f != nil && f.Kind == kit.JointPin {
				return f
			}
		}
	}
	return nil
}

// Sizes of what crosses a wall, which nobody measures across it (common
// practice, no published source).
const crossing = 3 * measure.Inch

// obstruction is what crosses a bay: through the wall, or against a face of it.
func (b *builder) obstruction(o *fit.ObstructionFit) {
	v := &b.Layout.Bays[o.Bay]
	r := &b.Layout.Runs[v.Run]
	f := b.run[v.Run].frame
	x := b.Fit.BayAt(b.Layout, o.Bay) + o.X
	z := b.datum(r) + o.Z
	y := [2]measure.Length{-crossing, crossing}
	if !o.Through {
		y = [2]measure.Length{-crossing, -b.board/2 + o.Into}
		if o.Face == "back" {
			y = [2]measure.Length{b.board/2 - o.Into, crossing}
		}
	}
	s := b.ofRun(v.Name+"/"+string(o.What), string(o.What), Building, v.Run, o.Bay)
	s.Parts = parts(f, box(x, x+max(o.Width, measure.Millimetre), y[0], y[1], z, z+o.Height))
	s.Sheer = !o.Through && o.Into == 0
	b.add(s)
}
