package solid

import (
	"stallwright/engine/frame"
	"stallwright/engine/measure"
)

// doorPost is a post beside a doorway with its channel toward the panel.
func (b *builder) doorPost(i int) {
	p := &b.Layout.Posts[i]
	piece := b.pieceNamed(p.Name)
	if piece < 0 {
		return
	}
	q := &b.Fit.Pieces[piece]
	r, f := &b.Layout.Runs[q.Run], b.run[q.Run].frame
	if !b.run[q.Run].built {
		return
	}
	for _, v := range r.Bays {
		d := &b.Layout.Bays[v]
		if !d.IsDoor() {
			continue
		}
		x := b.Fit.BayAt(b.Layout, v)
		for side, e := range d.Ends {
			if e.Post != i {
				continue
			}
			axis := x - p.Along/2
			if side == 1 {
				axis = x + b.Fit.Bays[v].Clear + p.Along/2
			}
			b.jamb(i, piece, q.Run, f, axis)
		}
	}
}

// jamb adds a door post whose channel looks away from the doorway.
func (b *builder) jamb(post, piece, run int, f Frame, axis measure.Length) {
	p, r := &b.Layout.Posts[post], &b.Layout.Runs[run]
	k := p.Item
	s := b.ofPiece(piece, Steel)
	s.Post, s.Welded = post, true
	height := b.Fit.Pieces[piece].Length
	outline, cover := hollow(axis-p.Along/2, axis+p.Along/2, -p.Across/2, p.Across/2, attached(k))
	s.Parts = parts(f, Prism{Axis: Up, From: b.datum(r), To: b.datum(r) + height, Outline: outline, Cover: cover})
	for _, v := range r.Bays {
		d := &b.Layout.Bays[v]
		if d.IsDoor() || d.IsOpen() {
			continue
		}
		for side, e := range d.Ends {
			if e.Post != post {
				continue
			}
			web := b.Fit.BayAt(b.Layout, v)
			way := f.Way
			if side == 1 {
				web = -(web + b.Fit.Bays[v].Clear)
				way = frame.Point{X: -way.X, Y: -way.Y}
			}
			g := NewFrame(f.At, way)
			face := measure.Length(0)
			if side == 0 {
				face = axis + p.Along/2
			} else {
				face = -(axis - p.Along/2)
			}
			leg := attached(k)
			s.Parts = append(s.Parts, b.zoneChannel(v, side, g, web, min(face, web-measure.Millimetre/2), k.Inside, k.Leg, leg, b.datum(r), min(r.Zone, height))...)
		}
	}
	b.add(s)
}
