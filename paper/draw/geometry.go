package draw

import "slices"

// quad is a convex four-sided area, usually a turned rectangle.
type quad [4]PaperPoint

// cross is the z part of the cross product of two paper vectors. Sheets are
// under 2 m, so that it stays below 10^13.
func cross(a, b PaperPoint) int64 { return int64(a.X)*int64(b.Y) - int64(a.Y)*int64(b.X) }

func dot(a, b PaperPoint) int64 { return int64(a.X)*int64(b.X) + int64(a.Y)*int64(b.Y) }

// disjoint says whether two convex areas (or a segment of two points) share no
// inner point: whether some side of either separates them. Touching areas are
// disjoint. It is exact.
func disjoint(a, b []PaperPoint) bool { return separates(a, b, 0) || separates(b, a, 0) }

// touching says whether two convex areas or segments share any point, ends and
// corners included.
func touching(a, b []PaperPoint) bool { return !separates(a, b, 1) && !separates(b, a, 1) }

// separates tries the directions square to the sides of a for a gap of least or
// more.
func separates(a, b []PaperPoint, least int64) bool {
	n := len(a)
	if n == 2 {
		n = 1
	}
	for i := range n {
		side := a[(i+1)%len(a)].sub(a[i])
		normal := PaperPoint{-side.Y, side.X}
		aLo, aHi := spread(a, normal)
		bLo, bHi := spread(b, normal)
		if bLo-aHi >= least || aLo-bHi >= least {
			return true
		}
	}
	return false
}

func spread(pts []PaperPoint, along PaperPoint) (lo, hi int64) {
	lo = dot(pts[0], along)
	hi = lo
	for _, p := range pts[1:] {
		d := dot(p, along)
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}

// boxQuad is a rectangle given in axes turned by a about at.
func boxQuad(at PaperPoint, a Angle, local PaperRect) quad {
	q := local.corners()
	for i := range q {
		q[i] = rotated(at, a, q[i])
	}
	return q
}

// holds says whether a point lies in a convex counter-clockwise area or on its
// edge.
func (q quad) holds(p PaperPoint) bool {
	for i := range q {
		if cross(q[(i+1)%4].sub(q[i]), p.sub(q[i])) < 0 {
			return false
		}
	}
	return true
}

// inPolygon is the even-odd test; points on an edge may fall either way.
func inPolygon(p PaperPoint, poly []PaperPoint) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (b.Y > p.Y) {
			left := cross(b.sub(a), p.sub(a)) > 0
			if left == (b.Y > a.Y) {
				in = !in
			}
		}
	}
	return in
}

// contains says whether a convex area lies inside a polygon.
func contains(poly []PaperPoint, q quad) bool {
	for _, p := range q {
		if !inPolygon(p, poly) {
			return false
		}
	}
	for i, a := range poly {
		if !disjoint([]PaperPoint{a, poly[(i+1)%len(poly)]}, q[:]) {
			return false
		}
	}
	return true
}

// cut is a stretch of a line between two shares of its length, in units of 1/cutOne.
type cut struct{ from, to int64 }

const cutOne = 1_000_000

// inside is the stretch of a-b that lies in a convex counter-clockwise area.
func (q quad) inside(a, b PaperPoint) (cut, bool) {
	c := cut{0, cutOne}
	dir := b.sub(a)
	for i := range q {
		side := q[(i+1)%4].sub(q[i])
		at, rate := cross(side, a.sub(q[i])), cross(side, dir)
		switch {
		case rate == 0 && at <= 0:
			return cut{}, false
		case rate > 0:
			c.from = max(c.from, share(-at, rate))
		case rate < 0:
			c.to = min(c.to, share(at, -rate))
		}
	}
	return c, c.from < c.to
}

// share is num/den in units of 1/cutOne, held within [-cutOne, 2 cutOne] so
// that products stay in 64 bits.
func share(num, den int64) int64 {
	if num <= -den {
		return -cutOne
	}
	if num >= 2*den {
		return 2 * cutOne
	}
	return num * (cutOne / 1000) / max(den/1000, 1)
}

// outside returns what is left of the segment a-b where boxes are taken out.
func outside(a, b PaperPoint, boxes []quad) [][]PaperPoint {
	var gone []cut
	seg := bounds([]PaperPoint{a, b})
	for _, q := range boxes {
		if bb := bounds(q[:]); bb.Min.X > seg.Max.X || bb.Max.X < seg.Min.X || bb.Min.Y > seg.Max.Y || bb.Max.Y < seg.Min.Y {
			continue
		}
		if c, ok := q.inside(a, b); ok {
			gone = append(gone, c)
		}
	}
	if len(gone) == 0 {
		return [][]PaperPoint{{a, b}}
	}
	slices.SortFunc(gone, func(x, y cut) int { return int(x.from - y.from) })
	var out [][]PaperPoint
	at := int64(0)
	emit := func(from, to int64) {
		p, q := between(a, b, from), between(a, b, to)
		if distance(p, q) >= MM/2 { // shorter ends look like dirt
			out = append(out, []PaperPoint{p, q})
		}
	}
	for _, c := range gone {
		if c.from > at {
			emit(at, c.from)
		}
		at = max(at, c.to)
	}
	if at < cutOne {
		emit(at, cutOne)
	}
	return out
}

func between(a, b PaperPoint, t int64) PaperPoint {
	switch t {
	case 0:
		return a
	case cutOne:
		return b
	}
	return PaperPoint{
		a.X + Micron(divRound(int64(b.X-a.X)*t, cutOne)),
		a.Y + Micron(divRound(int64(b.Y-a.Y)*t, cutOne)),
	}
}

// hatchOne is the length of the direction vector used for hatching; it keeps
// the products below in 64 bits for sheets up to 2 m.
const hatchOne = 100_000

// hatchLines fills a polygon with parallel lines, even-odd. The lines are laid
// from the sheet's origin, so that neighbouring areas hatch in step.
func hatchLines(poly []PaperPoint, a Angle, pitch Micron) [][]PaperPoint {
	cos, sin := a.vector()
	dir := PaperPoint{Micron(divRound(cos, trigOne/hatchOne)), Micron(divRound(sin, trigOne/hatchOne))}
	step := int64(pitch) * hatchOne
	lo, hi := spread(poly, PaperPoint{-dir.Y, dir.X})
	var out [][]PaperPoint
	for k := floorDiv(lo, step) + 1; k*step < hi; k++ {
		out = append(out, chords(poly, dir, k*step)...)
	}
	return out
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// chords are the parts inside poly of the line dir × p = level.
func chords(poly []PaperPoint, dir PaperPoint, level int64) [][]PaperPoint {
	var hits []PaperPoint
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		dp, dq := cross(dir, p)-level, cross(dir, q)-level
		if (dp > 0) == (dq > 0) {
			continue
		}
		num, den := dp, dp-dq
		if den < 0 {
			num, den = -num, -den
		}
		hits = append(hits, PaperPoint{
			p.X + Micron(divRound(int64(q.X-p.X)*num, den)),
			p.Y + Micron(divRound(int64(q.Y-p.Y)*num, den)),
		})
	}
	slices.SortFunc(hits, func(x, y PaperPoint) int {
		switch d := dot(x, dir) - dot(y, dir); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	var out [][]PaperPoint
	for i := 0; i+1 < len(hits); i += 2 {
		if distance(hits[i], hits[i+1]) > MM/5 {
			out = append(out, hits[i:i+2:i+2])
		}
	}
	return out
}
