package fit

import (
	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// room is the least and the most clear width over a height.
type room struct{ least, most measure.Length }

// profile is a bay's clear width with height above the datum: straight between
// its knots, from the lowest up, and even below the first and above the last.
type profile struct{ z, w []measure.Length }

// profileOf takes readings of a clear width where they are taken: the bottom one
// at the underside of the lowest board (the datum), the middle one half way up the
// board zone, the top one at the zone's top, where the highest board ends.
func profileOf(w job.Width, zone measure.Length) profile {
	p := profile{[]measure.Length{0}, []measure.Length{w.Bottom}}
	if w.Middle != 0 {
		p.add(zone/2, w.Middle)
	}
	if w.Top != 0 {
		p.add(zone, w.Top)
	}
	return p
}

func (p *profile) add(z, w measure.Length) { p.z, p.w = append(p.z, z), append(p.w, w) }

// at is the clear width at a height, down and up to the nanometre.
func (p profile) at(z measure.Length) room {
	n := len(p.z)
	switch {
	case z <= p.z[0]:
		return room{p.w[0], p.w[0]}
	case z >= p.z[n-1]:
		return room{p.w[n-1], p.w[n-1]}
	}
	k := 1
	for z > p.z[k] {
		k++
	}
	rise, over := p.w[k]-p.w[k-1], p.z[k]-p.z[k-1]
	down, ok1 := measure.MulDiv(int64(rise), int64(z-p.z[k-1]), int64(over), measure.Down)
	up, ok2 := measure.MulDiv(int64(rise), int64(z-p.z[k-1]), int64(over), measure.Up)
	if !ok1 || !ok2 {
		return p.all()
	}
	return room{p.w[k-1] + measure.Length(down), p.w[k-1] + measure.Length(up)}
}

// over is the least and the most clear width between two heights.
func (p profile) over(from, to measure.Length) room {
	a, b := p.at(from), p.at(to)
	r := room{min(a.least, b.least), max(a.most, b.most)}
	for k, z := range p.z {
		if from < z && z < to {
			r.least, r.most = min(r.least, p.w[k]), max(r.most, p.w[k])
		}
	}
	return r
}

// all is the least and the most of all heights.
func (p profile) all() room {
	r := room{p.w[0], p.w[0]}
	for _, w := range p.w {
		r.least, r.most = min(r.least, w), max(r.most, w)
	}
	return r
}

// even says whether the bay is as wide at every height.
func (p profile) even() bool { r := p.all(); return r.least == r.most }
