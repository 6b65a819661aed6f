package pdf

import (
	"math"
	"strconv"

	"stallwright/paper/draw"
)

// point writes "x y " in micrometres.
func (p *printer) point(v draw.PaperPoint) {
	b := p.out.AvailableBuffer()
	b = strconv.AppendInt(b, int64(v.X), 10)
	b = append(b, ' ')
	b = strconv.AppendInt(b, int64(v.Y), 10)
	b = append(b, ' ')
	p.out.Write(b)
}

// shade writes a lightness in percent as a grey of PDF: 0 black, 1 white.
func shade(percent uint8) string {
	switch v := min(percent, 100); v {
	case 0:
		return "0"
	case 100:
		return "1"
	default:
		return "." + string('0'+v/10) + string('0'+v%10)
	}
}

// pen sets line width, grey and dashes; false where the pen draws nothing.
func (p *printer) pen(v draw.Pen) bool {
	if v.Weight <= 0 {
		return false
	}
	p.printf("%d w %s G [", v.Weight, shade(min(v.Grey, 60)))
	for i, m := range v.Type.Pattern(v.Weight) {
		if i > 0 {
			p.printf(" ")
		}
		p.printf("%d", m)
	}
	p.printf("] 0 d\n")
	return true
}

// fill sets the grey to fill with; false where nothing is filled.
func (p *printer) fill(f draw.Fill) bool {
	switch f.Kind {
	case draw.WhiteFill:
		p.printf("1 g\n")
	case draw.TintFill:
		p.printf("%s g\n", shade(f.Grey))
	default:
		return false
	}
	return true
}

// paint is the operator that ends a path.
func paint(line, fill, closed bool) string {
	switch {
	case line && fill && closed:
		return "b*\n"
	case line && fill:
		return "B*\n"
	case fill:
		return "f*\n"
	case line && closed:
		return "s\n"
	case line:
		return "S\n"
	}
	return "n\n"
}

func (p *printer) stroke(s draw.Stroke) {
	line, fill := p.pen(s.Pen), p.fill(s.Fill)
	if !line && !fill || len(s.Runs) == 0 {
		return
	}
	for _, r := range s.Runs {
		if s.Closed && p.rectangle(r) {
			continue
		}
		for i, v := range r {
			p.point(v)
			if i == 0 {
				p.out.WriteString("m\n")
			} else {
				p.out.WriteString("l\n")
			}
		}
		if s.Closed {
			p.out.WriteString("h\n")
		}
	}
	p.out.WriteString(paint(line, fill, false))
	p.black(fill)
}

// rectangle writes an upright rectangle in short: a code on a label has hundreds.
func (p *printer) rectangle(r []draw.PaperPoint) bool {
	if len(r) != 4 {
		return false
	}
	a, b, c, d := r[0], r[1], r[2], r[3]
	if !(a.X == b.X && b.Y == c.Y && c.X == d.X && d.Y == a.Y || a.Y == b.Y && b.X == c.X && c.Y == d.Y && d.X == a.X) {
		return false
	}
	p.point(a)
	p.point(draw.PaperPoint{X: c.X - a.X, Y: c.Y - a.Y})
	p.out.WriteString("re\n")
	return true
}

// black sets the fill back to what text is written in.
func (p *printer) black(filled bool) {
	if filled {
		p.out.WriteString("0 g\n")
	}
}

// on is the point of a circle in a direction, to the nearest micrometre.
func on(c draw.PaperPoint, r draw.Micron, a draw.Angle) draw.PaperPoint {
	v, _ := draw.Curve{Centre: c, Radius: r, Start: a}.Ends()
	return v
}

// curve writes an arc as Bézier curves of at most 45 degrees each. Such a curve
// strays from its circle by less than 1/200000 of the radius.
func (p *printer) curve(c draw.Curve) {
	line, fill := p.pen(c.Pen), p.fill(c.Fill)
	if !line && !fill {
		return
	}
	n := draw.Angle(1)
	for c.Sweep/n > 45*draw.Degree {
		n++
	}
	arm := arm(c.Radius, c.Sweep, n)
	p.point(on(c.Centre, c.Radius, c.Start))
	p.out.WriteString("m\n")
	for k := range n {
		a, b := c.Start+c.Sweep*k/n, c.Start+c.Sweep*(k+1)/n
		from, to := on(c.Centre, c.Radius, a), on(c.Centre, c.Radius, b)
		p.point(on(from, arm, a+90*draw.Degree))
		p.point(on(to, arm, b-90*draw.Degree))
		p.point(to)
		p.out.WriteString("c\n")
	}
	p.out.WriteString(paint(line, fill, c.Sweep >= 360*draw.Degree))
	p.black(fill)
}

// arm is how far the control points of each of n curves lie from its ends:
// 4/3 tan(angle/4) of the radius. Rounding to a micrometre takes away what
// processors might differ in.
func arm(radius draw.Micron, sweep, n draw.Angle) draw.Micron {
	quarter := float64(sweep) / float64(n) / 4 * (math.Pi / 180_000)
	return draw.Micron(math.Round(float64(radius) * (math.Tan(quarter) * 4 / 3)))
}
