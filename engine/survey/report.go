package survey

import (
	"math"

	"stallwright/engine/measure"
	"stallwright/engine/portable"
	"stallwright/engine/survey/chance"
)

func angle(y, x float64) float64 { return portable.Atan2(y, x) }

// report puts the adjustment into lengths, in the datum asked for.
func (p *plane) report(c *cleaned) Result {
	d := p.datum(c.solution, c.loose)
	r := Result{Test: p.globalTest(c), Suspects: p.suspects(c), Wanted: p.wanted(c.solution, c.loose)}
	for i, pt := range p.net.Points {
		r.Points = append(r.Points, p.adjustedPoint(d, i, pt, c.loose[i]))
	}
	for i, rd := range p.net.Readings {
		a := AdjustedReading{Name: rd.label(), Status: Unusable, Value: rd.Value}
		if p.usable[i] {
			a = c.reading(p.opt, i)
			a.Name, a.Say, a.Value = rd.label(), rd.say(), rd.Value
			a.Residual = a.Adjusted - a.Value
			if c.skipped[i] {
				a.Status = SetAside
			}
		}
		r.Readings = append(r.Readings, a)
	}
	r.Spans = p.spans(c)
	r.Problems = p.problems
	return r
}

func (p *plane) adjustedPoint(d *datum, i int, pt Point, loose bool) AdjustedPoint {
	a := AdjustedPoint{Name: pt.Name, X: pt.X, Y: pt.Y, Fixed: pt.Fixed, Determined: !loose}
	if pt.Fixed {
		return a
	}
	a.X = p.originX + toLength(d.xy[2*i])
	a.Y = p.originY + toLength(d.xy[2*i+1])
	if loose {
		return a
	}
	xx, yy, xy := d.covariance(i)
	a.SigmaX, a.SigmaY = toLength(math.Sqrt(xx)), toLength(math.Sqrt(yy))
	major, minor, dir := axes(xx, yy, xy)
	a.Ellipse = Ellipse{Major: toLength(major), Minor: toLength(minor), Direction: toAngle(dir)}
	if a.Ellipse.Direction >= 180*measure.Degree {
		a.Ellipse.Direction -= 180 * measure.Degree
	}
	return a
}

// reading is what the estimate says of reading i, without name, value and
// residual.
func (e *estimate) reading(o Options, i int) AdjustedReading {
	a := AdjustedReading{Sigma: toLength(e.sigma[i]), Redundancy: e.redundancy(i), W: e.w(i)}
	a.Adjusted = toLength(e.adjusted(i))
	if !e.loose(i) {
		a.SigmaAdjusted = toLength(math.Sqrt(max(0, e.cofactor[i])))
	}
	if r := a.Redundancy; r > 0 {
		d := o.noncentrality()
		a.Smallest = toLength(float64(d*e.sigma[i]) / math.Sqrt(r))
		a.Influence = float64(d * math.Sqrt((1-r)/r))
	}
	return a
}

// Confidence is the ellipse that holds the point with the given chance between
// 0 and 1: both half axes times √χ²(2). The zero ellipse for another chance.
func (e Ellipse) Confidence(chanceInside float64) Ellipse {
	if !(chanceInside > 0 && chanceInside < 1) {
		return Ellipse{}
	}
	f := math.Sqrt(chance.ChiSquareCritical(1-chanceInside, 2))
	return Ellipse{
		Major:     toLength(float64(metres(e.Major) * f)),
		Minor:     toLength(float64(metres(e.Minor) * f)),
		Direction: e.Direction,
	}
}
