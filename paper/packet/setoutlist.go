package packet

import (
	"fmt"

	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/setout"
)

// setoutRows gathers the numbers of the setting out, one a row.
type setoutRows struct {
	p    *plan.Plan
	tape measure.Tape
	name string // of the structure
	rows [][]string
}

// setoutList is every number of the setting out: where it is read, what it is,
// as the tape shows it, and exact.
func setoutList(p *plan.Plan) [][]string {
	r := &setoutRows{p: p, tape: fieldTape(p.Job.Units)}
	r.rows = [][]string{{"structure", "table", "at", "to", "what", "reading", "value_mm", "value_mm3"}}
	for i := range p.Setout.Structures {
		s := &p.Setout.Structures[i]
		r.name = s.Name
		r.pen(s.Pen)
		r.grid(s.Grid)
		for k := range s.Lines {
			l := &s.Lines[k]
			table := "line, " + string(l.Kind)
			if l.Kind == setout.LineWall {
				table = "line " + l.Name
			}
			for _, m := range l.Marks {
				r.length(table, m.At, l.Zero, string(m.What), m.From)
				if m.Own.Value != 0 {
					r.length(table, m.At, "the post on its left", string(m.What), m.Own)
				}
			}
		}
		r.bases(s.Bases)
		r.site(s.Site)
	}
	return r.rows
}

func (r *setoutRows) add(table, at, to, what, reading, mm string) {
	r.rows = append(r.rows, []string{r.name, table, at, to, what, reading, mm, ""})
}

func (r *setoutRows) length(table, at, to, what string, n setout.Number) {
	r.add(table, at, to, what, r.tape.Show(r.tape.Round(n.Value, measure.Nearest)), millimetres(n.Value))
}

func (r *setoutRows) volume(table, at, what, reading string, v measure.Volume) {
	const litre = int64(measure.Litre)
	mm3, _ := measure.MulDiv(int64(v), 1_000_000, litre, measure.Nearest)
	r.rows = append(r.rows, []string{r.name, table, at, "", what, reading, "", fmt.Sprint(mm3)})
}

func (r *setoutRows) pen(p *setout.Pen) {
	if p == nil {
		return
	}
	r.length("size", "", "", "pin circle", p.Pins)
	r.length("size", "", "", "inside flats", p.Flats)
	r.length("size", "", "", "inside corners", p.Corners)
	r.length("centre", "centre", "gate", "gate's middle on the baseline", p.Gate)
	n := len(p.Piers)
	for i := range p.Piers {
		q := &p.Piers[i]
		r.length("piers", q.Name, "centre", "radius", p.Radius)
		r.add("piers", q.Name, "", "angle from the baseline", setout.DegMinSec(q.Angle.Value), "")
		r.length("piers", q.Name, p.Piers[(i+1)%n].Name, "chord", q.Chord)
		r.length("piers", q.Name, p.Piers[(i+2)%n].Name, "skip chord", q.Skip)
		r.length("piers", q.Name, q.Far, "across", q.Across)
		r.length("piers", q.Name, "", "along the baseline", q.X)
		r.length("piers", q.Name, "", "left of the baseline", q.Y)
	}
	r.length("pins", "", "", "play of a section", p.Play)
	r.length("pins", "", "", "play round the ring", p.TakeUp)
	r.length("pins", "", "", "seat of a pin", p.Seat)
	if c := p.Closing; c != nil {
		r.length("closing", "", "", "closing error", setout.Number{Value: c.End})
		for i := range c.Off {
			r.length("closing", c.Piers[i], "", "pin off its pier", setout.Number{Value: c.Off[i]})
		}
		for _, m := range c.Moves {
			r.length("closing", c.Piers[m.Pier], "", "move by", setout.Number{Value: m.By})
			r.length("closing", c.Piers[m.Pier], "", "move to, along the baseline", setout.Number{Value: m.To.X})
			r.length("closing", c.Piers[m.Pier], "", "move to, left of the baseline", setout.Number{Value: m.To.Y})
		}
	}
}

func (r *setoutRows) grid(g *setout.Grid) {
	if g == nil {
		return
	}
	r.length("baseline", g.From, g.To, "length", g.Length)
	for i := range g.Squares {
		q := &g.Squares[i]
		r.length("right angle", q.At, q.Along, "leg", q.Legs[0])
		r.length("right angle", q.At, q.Across, "leg", q.Legs[1])
		r.length("right angle", q.At, "", "between the marks", q.Hyp)
	}
	for i := range g.Frames {
		c := &g.Frames[i]
		for k := range c.Sides {
			r.length("frame, "+string(c.Kind), c.Corners[k], c.Corners[(k+1)%4], "side", c.Sides[k])
		}
		for k := range c.Diagonals {
			r.length("frame, "+string(c.Kind), c.Corners[k], c.Corners[k+2], "diagonal", c.Diagonals[k])
		}
		r.length("frame, "+string(c.Kind), "", "", "tolerance", c.Tolerance)
	}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		r.length("stakes", k.Name, "", "along the baseline", k.X)
		r.length("stakes", k.Name, "", "left of the baseline", k.Y)
		if k.Ties[0].Why != nil {
			r.length("stakes", k.Name, g.From, "tie", k.Ties[0])
			r.length("stakes", k.Name, g.To, "tie", k.Ties[1])
		}
	}
}

func (r *setoutRows) bases(b *setout.Bases) {
	if b == nil {
		return
	}
	for i := range b.List {
		k := &b.List[i]
		if k.Ground != nil {
			r.length("bases", k.Name, "", "ground", *k.Ground)
			r.length("bases", k.Name, "", "top", *k.Top)
			r.length("bases", k.Name, "", "top above ground", *k.Out)
		}
		if k.Concrete.Value > 0 {
			r.length("bases", k.Name, "", "depth of hole", k.Depth)
			r.length("bases", k.Name, "", "length of pier", k.Length)
			r.volume("bases", k.Name, "concrete", showConcrete(k.Concrete.Value, r.p.Job.Units), k.Concrete.Value)
			r.add("bases", k.Name, "", b.Bag, fmt.Sprint(k.Bags), "")
		}
	}
}

func (r *setoutRows) site(s *setout.Site) {
	if s == nil {
		return
	}
	units := r.p.Job.Units
	r.length("ground", s.HighAt, "", "highest", s.High)
	r.length("ground", s.LowAt, "", "lowest", s.Low)
	r.length("ground", "", "", "fall", s.Fall)
	for i := range s.Levels {
		l := &s.Levels[i]
		table := "level, " + string(l.Kind)
		r.length(table, "", "", "height", l.At)
		r.volume(table, "", "cut", setout.ShowEarth(l.Cut.Value, units), l.Cut.Value)
		r.volume(table, "", "fill", setout.ShowEarth(l.Fill.Value, units), l.Fill.Value)
		for _, k := range l.Stakes {
			r.length(table, k.Name, "", "dig; less than nothing is fill", k.Dig)
		}
		for _, q := range l.Prisms {
			r.volume(table, q.Part.String(), "cut", setout.ShowEarth(q.Cut, units), q.Cut)
			r.volume(table, q.Part.String(), "fill", setout.ShowEarth(q.Fill, units), q.Fill)
		}
	}
	for _, k := range s.Stepped.Bays {
		r.length("steps", k.Part.String(), "", "level", k.At)
		r.length("steps", k.Part.String(), "", "gap at its lowest post", k.Gap)
	}
	r.length("steps", s.Stepped.At, "", "greatest step", s.Stepped.Most)
}

// showConcrete writes a volume of concrete for a list, as the sheet does.
func showConcrete(v measure.Volume, sys measure.System) string {
	n, unit := concreteOf(v, sys)
	if sys == measure.Metric {
		return fmt.Sprintf("%d %s", n, unit)
	}
	return fmt.Sprintf("%d.%02d %s", n/100, n%100, unit)
}
