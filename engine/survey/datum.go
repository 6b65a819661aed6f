package survey

import (
	"math"

	"stallwright/engine/phrase"
)

// datum is the frame results are given in: coordinates moved and turned into
// it, covariances transformed with them (Baarda's S-transformation).
type datum struct {
	s  *solution
	xy []float64 // adjusted coordinates in the datum

	free bool          // there is something to transform; else the internal frame is the datum
	cos  float64       // turn from the internal frame
	sin  float64       //
	cx   float64       // centre the turn's column of G refers to
	cy   float64       //
	m    [3][3]float64 // (BᵀG)⁻¹
	c    [3][]float64  // Q·B, one column each
	w    [3][3]float64 // BᵀQB
}

// basis are the constraints Bᵀdx = 0 of a datum, a sparse row each.
type basis [3]map[int]float64

// asked resolves the datum asked for: the points to fit, or origin and toward.
func (p *plane) asked(loose []bool) (fit []int, origin, toward int) {
	origin, toward = -1, -1
	fixed := p.fixedPoints()
	find := func(name string) int {
		i, ok := p.index[name]
		switch {
		case !ok:
			p.problem(BadDatum, nil, []string{name}, phrase.Of("slip.datum-unknown", called("post", name)), "The datum names post %s, which is not among the posts.", quoted(name))
			return -1
		case loose[i]:
			p.problem(BadDatum, nil, []string{name}, phrase.Of("slip.datum-untied", called("post", name)), "The datum names post %s, which the readings do not tie to the rest.", name)
			return -1
		}
		return i
	}
	d := p.net.Datum
	if len(fixed) == 1 {
		origin, toward = fixed[0], p.held[1]
		if d.Toward != "" {
			if t := find(d.Toward); t >= 0 && t != origin {
				toward = t
			}
		}
		return nil, origin, toward
	}
	if d.Origin != "" || d.Toward != "" {
		o, t := find(d.Origin), find(d.Toward)
		if o >= 0 && t >= 0 && o != t {
			return nil, o, t
		}
		if o >= 0 && o == t {
			p.problem(BadDatum, nil, []string{d.Origin}, phrase.Of("slip.datum-itself", called("post", d.Origin)), "The datum runs from post %s to itself; name another post to run toward.", d.Origin)
		}
	}
	for _, name := range d.Fit {
		if i := find(name); i >= 0 {
			fit = append(fit, i)
		}
	}
	if len(d.Fit) > 0 && len(fit) < 2 {
		p.problem(BadDatum, nil, d.Fit, phrase.Of("slip.datum-two"), "A datum fitted to posts needs at least two that the readings tie; all posts are fitted instead.")
		fit = nil
	}
	if fit == nil {
		for i, l := range loose {
			if !l {
				fit = append(fit, i)
			}
		}
	}
	return fit, -1, -1
}

// datum brings a solution into the datum asked for.
func (p *plane) datum(s *solution, loose []bool) *datum {
	d := &datum{s: s, xy: append([]float64(nil), s.xy...), cos: 1}
	if p.held[0] < 0 || p.held[1] < 0 {
		return d
	}
	fit, origin, toward := p.asked(loose)
	if origin >= 0 && toward < 0 || origin < 0 && len(fit) < 2 {
		return d
	}
	d.free = true
	if origin >= 0 {
		d.alignLine(p, origin, toward)
	} else {
		d.alignFit(p, fit)
	}
	d.transform(p.basisOf(d, fit, origin, toward))
	return d
}

// alignLine puts the origin back where it was drawn and turns the toward point
// into its drawn direction.
func (d *datum) alignLine(p *plane, o, t int) {
	ux, uy, _ := unit(p.drawn[2*t]-p.drawn[2*o], p.drawn[2*t+1]-p.drawn[2*o+1])
	vx, vy, _ := unit(d.xy[2*t]-d.xy[2*o], d.xy[2*t+1]-d.xy[2*o+1])
	d.cos = float64(ux*vx) + float64(uy*vy)
	d.sin = float64(uy*vx) - float64(ux*vy)
	d.move(d.xy[2*o], d.xy[2*o+1], p.drawn[2*o], p.drawn[2*o+1])
}

// alignFit moves and turns the adjusted points so that the squares of what the
// fitted ones are off their drawn places add up to least.
func (d *datum) alignFit(p *plane, fit []int) {
	var ax, ay, bx, by float64
	for _, i := range fit {
		ax += d.xy[2*i]
		ay += d.xy[2*i+1]
		bx += p.drawn[2*i]
		by += p.drawn[2*i+1]
	}
	n := float64(len(fit))
	ax, ay, bx, by = ax/n, ay/n, bx/n, by/n
	var along, across float64
	for _, i := range fit {
		px, py := d.xy[2*i]-ax, d.xy[2*i+1]-ay
		qx, qy := p.drawn[2*i]-bx, p.drawn[2*i+1]-by
		along += float64(px*qx) + float64(py*qy)
		across += float64(px*qy) - float64(py*qx)
	}
	d.cos, d.sin, _ = unit(along, across)
	d.move(ax, ay, bx, by)
}

// move turns all points about (ax, ay) and carries that point to (bx, by).
func (d *datum) move(ax, ay, bx, by float64) {
	for i := 0; i < len(d.xy); i += 2 {
		x, y := d.xy[i]-ax, d.xy[i+1]-ay
		d.xy[i] = float64(d.cos*x) - float64(d.sin*y) + bx
		d.xy[i+1] = float64(d.sin*x) + float64(d.cos*y) + by
	}
}

// basisOf gives the datum's constraints in the internal frame, where the
// covariances are: a fitted point takes part in all three, an origin in the
// two moves, the toward point across its direction.
func (p *plane) basisOf(d *datum, fit []int, o, t int) basis {
	b := basis{{}, {}, {}}
	xy := d.s.xy
	if o >= 0 {
		ux, uy, _ := unit(xy[2*t]-xy[2*o], xy[2*t+1]-xy[2*o+1])
		b[0][2*o] = 1
		b[1][2*o+1] = 1
		b[2][2*t], b[2][2*t+1] = -uy, ux
		d.cx, d.cy = xy[2*o], xy[2*o+1]
		return b
	}
	n := float64(len(fit))
	for _, i := range fit {
		d.cx += xy[2*i] / n
		d.cy += xy[2*i+1] / n
	}
	for _, i := range fit {
		b[0][2*i] = 1
		b[1][2*i+1] = 1
		b[2][2*i], b[2][2*i+1] = -(xy[2*i+1] - d.cy), xy[2*i]-d.cx
	}
	return b
}

// g is how coordinate c changes with a unit move along x, along y and a unit
// turn about the centre: its row of G.
func (d *datum) g(c int) [3]float64 {
	if c%2 == 0 {
		return [3]float64{1, 0, -(d.s.xy[c+1] - d.cy)}
	}
	return [3]float64{0, 1, d.s.xy[c-1] - d.cx}
}

// transform prepares S = I − G(BᵀG)⁻¹Bᵀ applied to the internal covariance.
func (d *datum) transform(b basis) {
	n := len(d.s.xy)
	var bg [3][3]float64
	for k := 0; k < 3; k++ {
		rhs := make([]float64, d.s.design.Unknowns)
		for c := 0; c < n; c++ {
			v, ok := b[k][c]
			if !ok {
				continue
			}
			g := d.g(c)
			for a := 0; a < 3; a++ {
				bg[k][a] += float64(v * g[a])
			}
			if u := d.s.column[c]; u >= 0 {
				rhs[u] = v
			}
		}
		d.c[k] = d.s.factor.Solve(rhs)
	}
	for k := 0; k < 3; k++ {
		for c := 0; c < n; c++ {
			v, ok := b[k][c]
			if u := d.s.column[c]; ok && u >= 0 {
				for a := 0; a < 3; a++ {
					d.w[a][k] += float64(v * d.c[a][u])
				}
			}
		}
	}
	d.m = invert3(bg)
}

// invert3 is the inverse of a 3×3 matrix by cofactors; the datum's constraints
// make it regular.
func invert3(a [3][3]float64) [3][3]float64 {
	cof := func(i, j int) float64 {
		r, s := (i+1)%3, (i+2)%3
		c, t := (j+1)%3, (j+2)%3
		return float64(a[r][c]*a[s][t]) - float64(a[r][t]*a[s][c])
	}
	det := 0.0
	for j := 0; j < 3; j++ {
		det += float64(a[0][j] * cof(0, j))
	}
	var out [3][3]float64
	if det == 0 {
		return out
	}
	for i := 0; i < 3; i++ {
		for j := 0; j < 3; j++ {
			out[j][i] = cof(i, j) / det
		}
	}
	return out
}

// covariance is the 2×2 covariance of point i in the datum, m².
func (d *datum) covariance(i int) (xx, yy, xy float64) {
	internal := func(a, b int) float64 {
		u, v := d.s.column[2*i+a], d.s.column[2*i+b]
		if u < 0 || v < 0 {
			return 0
		}
		q, _ := d.s.inverse.At(u, v)
		return q
	}
	q := [2][2]float64{{internal(0, 0), internal(0, 1)}, {internal(1, 0), internal(1, 1)}}
	if d.free {
		q = d.shift(i, q)
	}
	// Turn with the coordinates.
	c, s := d.cos, d.sin
	cc, ss, cs := float64(c*c), float64(s*s), float64(c*s)
	xx = float64(cc*q[0][0]) - float64(float64(2*cs)*q[0][1]) + float64(ss*q[1][1])
	yy = float64(ss*q[0][0]) + float64(float64(2*cs)*q[0][1]) + float64(cc*q[1][1])
	xy = float64(cs*(q[0][0]-q[1][1])) + float64((cc-ss)*q[0][1])
	return max(0, xx), max(0, yy), xy
}

// shift is Q − GM(QB)ᵀ − (QB)MᵀGᵀ + GM(BᵀQB)MᵀGᵀ on the block of point i.
func (d *datum) shift(i int, q [2][2]float64) [2][2]float64 {
	var h, qb [2][3]float64 // rows of GM and of QB
	for a := 0; a < 2; a++ {
		g := d.g(2*i + a)
		for k := 0; k < 3; k++ {
			for l := 0; l < 3; l++ {
				h[a][k] += float64(g[l] * d.m[l][k])
			}
			if u := d.s.column[2*i+a]; u >= 0 {
				qb[a][k] = d.c[k][u]
			}
		}
	}
	for a := 0; a < 2; a++ {
		for b := 0; b < 2; b++ {
			for k := 0; k < 3; k++ {
				q[a][b] -= float64(h[a][k]*qb[b][k]) + float64(qb[a][k]*h[b][k])
				for l := 0; l < 3; l++ {
					q[a][b] += float64(float64(h[a][k]*d.w[k][l]) * h[b][l])
				}
			}
		}
	}
	return q
}

// axes are the half axes of the error ellipse and the direction of the greater.
func axes(xx, yy, xy float64) (major, minor, direction float64) {
	half := float64(0.5 * (xx - yy))
	root := math.Sqrt(float64(half*half) + float64(xy*xy))
	mean := float64(0.5 * (xx + yy))
	major = math.Sqrt(max(0, mean+root))
	minor = math.Sqrt(max(0, mean-root))
	if root <= float64(1e-12*mean) {
		return major, minor, 0 // a circle has no direction
	}
	direction = float64(0.5 * angle(xy, half))
	if direction < 0 {
		direction += math.Pi
	}
	return major, minor, direction
}
