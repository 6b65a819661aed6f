package fit

import (
	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// room is the least and the most clear width over a piece's height.
type room struct{ least, most measure.Length }

// widths is a bay's clear width over a piece's height: straight between the
// readings, the bottom one at the datum, the top one at the board zone's top.
func (a *comparison) widths(p *Piece) room {
	w := a.since.Width
	zone := a.f.lay.Runs[p.Run].Zone
	from, to := a.widthAt(w, zone, p.Z), a.widthAt(w, zone, p.Z+p.Height)
	r := room{min(from.least, to.least), max(from.most, to.most)}
	if half := zone / 2; w.Middle != 0 && p.Z < half && half < p.Z+p.Height {
		r.least, r.most = min(r.least, w.Middle), max(r.most, w.Middle)
	}
	return r
}

// widthAt is the clear width at a height, rounded down and up to the nanometre.
func (a *comparison) widthAt(w job.Width, zone, z measure.Length) room {
	z = min(max(z, 0), zone)
	low, high, from, over := w.Bottom, w.Top, measure.Length(0), zone
	switch {
	case w.Top == 0 && w.Middle == 0:
		return room{w.Bottom, w.Bottom}
	case w.Top == 0:
		high, over = w.Middle, zone/2
	case w.Middle != 0 && z <= zone/2:
		high, over = w.Middle, zone/2
	case w.Middle != 0:
		low, from, over = w.Middle, zone/2, zone-zone/2
	}
	at := min(z-from, over)
	down, ok1 := measure.MulDiv(int64(high-low), int64(at), int64(over), measure.Down)
	up, ok2 := measure.MulDiv(int64(high-low), int64(at), int64(over), measure.Up)
	if !ok1 || !ok2 {
		return room{w.Least(), w.Most()}
	}
	return room{low + measure.Length(down), low + measure.Length(up)}
}
