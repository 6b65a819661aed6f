package survey

import (
	"math"

	"stallwright/engine/measure"
	"stallwright/engine/survey/normal"
)

// plane is a network made ready to compute: posts by index, metres from a
// local origin.
type plane struct {
	net      Network
	opt      Options
	index    map[string]int // first point of each name
	originX  measure.Length
	originY  measure.Length
	drawn    []float64  // x, y of each point where it was drawn
	equation []equation // of each reading; meaningless where not usable
	usable   []bool
	problems []Problem

	held [2]int // origin and toward point of the internal datum, -1 for none
}

func newPlane(net Network, o Options) *plane {
	p := &plane{net: net, opt: o, index: map[string]int{}, held: [2]int{-1, -1}}
	p.placePoints()
	p.resolve()
	p.gauge()
	return p
}

// placePoints moves the origin to the first point so that the numbers are
// small, exactly, before they become floats.
func (p *plane) placePoints() {
	if len(p.net.Points) > 0 {
		p.originX, p.originY = p.net.Points[0].X, p.net.Points[0].Y
	}
	p.drawn = make([]float64, 2*len(p.net.Points))
	for i, pt := range p.net.Points {
		p.drawn[2*i] = metres(pt.X - p.originX)
		p.drawn[2*i+1] = metres(pt.Y - p.originY)
		if _, ok := p.index[pt.Name]; !ok {
			p.index[pt.Name] = i
		}
	}
}

// gauge turns readings into equations with their standard deviations.
func (p *plane) gauge() {
	for i, r := range p.net.Readings {
		if p.usable[i] {
			e := &p.equation[i]
			e.sigma = p.opt.sigma(r, e.span(p.drawn))
		}
	}
}

// fixedCoordinate reports which coordinates do not move: those of points given
// as fixed, then the internal datum's.
func (p *plane) fixedCoordinate() []bool {
	fixed := make([]bool, len(p.drawn))
	for i, pt := range p.net.Points {
		fixed[2*i], fixed[2*i+1] = pt.Fixed, pt.Fixed
	}
	o, t := p.held[0], p.held[1]
	if o >= 0 {
		fixed[2*o], fixed[2*o+1] = true, true
	}
	if o >= 0 && t >= 0 {
		// Hold the coordinate that runs across the line from o to t.
		dx, dy := math.Abs(p.drawn[2*t]-p.drawn[2*o]), math.Abs(p.drawn[2*t+1]-p.drawn[2*o+1])
		if dx >= dy {
			fixed[2*t+1] = true
		} else {
			fixed[2*t] = true
		}
	}
	return fixed
}

// solution is a converged plane adjustment.
type solution struct {
	*estimate
	xy      []float64 // adjusted coordinates, in the internal datum
	column  []int     // unknown of each coordinate, -1 for one that is fixed
	settled bool
}

// columns numbers the coordinates that move.
func columns(fixed []bool) (column []int, unknowns int) {
	column = make([]int, len(fixed))
	for c, f := range fixed {
		column[c] = -1
		if !f {
			column[c] = unknowns
			unknowns++
		}
	}
	return column, unknowns
}

// linearise builds the system of all usable readings at coordinates xy.
func (p *plane) linearise(column []int, unknowns int, xy []float64) *system {
	value, sigma := make([]float64, len(p.equation)), make([]float64, len(p.equation))
	for i := range sigma {
		value[i], sigma[i] = p.equation[i].value, 1
		if p.usable[i] {
			sigma[i] = p.equation[i].sigma
		}
	}
	s := newSystem(unknowns, value, sigma)
	cols, vals := make([]int, 0, 6), make([]float64, 0, 6)
	for i, e := range p.equation {
		cols, vals = cols[:0], vals[:0]
		if p.usable[i] {
			value, grad := e.evaluate(xy)
			s.misclose[i] = e.value - value
			for k := 0; k < e.kind.posts(); k++ {
				for a := 0; a < 2; a++ {
					if c := column[2*e.post[k]+a]; c >= 0 {
						cols = append(cols, c)
						vals = append(vals, grad[2*k+a])
					}
				}
			}
		}
		s.design.Add(cols, vals)
	}
	s.addPriors()
	return s
}

// refresh puts new coordinates into an existing system.
func (p *plane) refresh(s *system, column []int, xy []float64) {
	for i, e := range p.equation {
		if !p.usable[i] {
			continue
		}
		value, grad := e.evaluate(xy)
		s.misclose[i] = e.value - value
		_, vals := s.design.Row(i)
		n := 0
		for k := 0; k < e.kind.posts(); k++ {
			for a := 0; a < 2; a++ {
				if column[2*e.post[k]+a] >= 0 {
					vals[n] = grad[2*k+a]
					n++
				}
			}
		}
	}
}

// Gauss–Newton limits.
const (
	mostSteps  = 40
	smallStep  = 1e-11 // metres: a hundredth of a nanometre
	steerStep  = 0.005 // metres: after a smaller step the factor is kept
	mostHalved = 12
)

// solve adjusts by Gauss–Newton from the coordinates start: readings marked
// active carry weight, points marked loose are held to where they were drawn.
func (p *plane) solve(start []float64, active, loose []bool) *solution {
	column, unknowns := columns(p.fixedCoordinate())
	hold := make([]bool, unknowns)
	drawn := make([]float64, unknowns)
	for c, u := range column {
		if u >= 0 {
			hold[u] = loose[c/2]
			drawn[u] = p.drawn[c]
		}
	}
	xy := append([]float64(nil), start...)
	s := p.linearise(column, unknowns, xy)
	s.setWeights(active, hold, priorSigma)
	structure := normal.Analyse(s.design)
	sol := &solution{column: column}
	drift := make([]float64, unknowns)
	cost := p.cost(s, column, xy, drawn)
	f := structure.Factorise(s.design, s.weight, pivotTolerance)
	for step := 0; step < mostSteps; step++ {
		for c, u := range column {
			if u >= 0 {
				drift[u] = xy[c] - drawn[u]
			}
		}
		dx := f.Solve(s.rightSide(drift))
		largest, part := 0.0, 1.0
		for _, v := range dx {
			largest = max(largest, math.Abs(v))
		}
		trial := make([]float64, len(xy))
		for half := 0; ; half++ {
			for c, u := range column {
				trial[c] = xy[c]
				if u >= 0 {
					trial[c] += float64(part * dx[u])
				}
			}
			p.refresh(s, column, trial)
			now := p.cost(s, column, trial, drawn)
			if now <= float64(cost*(1+1e-9))+1e-9 || half == mostHalved {
				cost = now
				break
			}
			part = float64(part * 0.5)
		}
		copy(xy, trial)
		if float64(largest*part) < smallStep {
			sol.settled = true
			break
		}
		// The last factor serves once steps are small: it only steers, and each
		// step is then some thousand times smaller than the one before.
		if largest > steerStep {
			f = structure.Factorise(s.design, s.weight, pivotTolerance)
		}
	}
	f = structure.Factorise(s.design, s.weight, pivotTolerance)
	sol.estimate = s.estimate(f, active, hold)
	sol.xy = xy
	return sol
}

// cost is what the adjustment makes least: Σ (misclose/σ)² and the pull of the
// held points.
func (p *plane) cost(s *system, column []int, xy, drawn []float64) float64 {
	sum := s.sumSquares()
	for c, u := range column {
		if u >= 0 {
			if w := s.weight[s.readings+u]; w != 0 {
				d := xy[c] - drawn[u]
				sum += float64(w * float64(d*d))
			}
		}
	}
	return sum
}
