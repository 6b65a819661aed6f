package packet

import (
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/ring"
	"stallwright/engine/setout"
)

// setout writes what is staked, strung, dug and poured.
func (w *writer) setout() {
	w.doc.Setout = []SetoutDoc{}
	if w.p.Setout == nil {
		return
	}
	for i := range w.p.Setout.Structures {
		s := &w.p.Setout.Structures[i]
		d := SetoutDoc{Structure: s.Name, Kind: string(s.Kind)}
		if s.Pen != nil {
			d.Pen = w.setoutPen(s.Pen)
		}
		if s.Grid != nil {
			d.Grid = w.setoutGrid(s.Grid)
		}
		for k := range s.Lines {
			d.Lines = append(d.Lines, w.setoutLine(&s.Lines[k]))
		}
		if s.Bases != nil {
			d.Bases = w.setoutBases(s.Bases)
		}
		if s.Site != nil {
			d.Ground = w.setoutGround(s.Site)
		}
		w.doc.Setout = append(w.doc.Setout, d)
	}
}

// taped is a length as the crew's tape shows it.
func (w *writer) taped(n setout.Number) TapedDoc {
	t := fieldTape(w.p.Job.Units)
	return TapedDoc{t.Show(t.Round(n.Value, measure.Nearest)), int64(n.Value), w.why(n.Why)}
}

func (w *writer) mayTape(n *setout.Number) *TapedDoc {
	if n == nil {
		return nil
	}
	d := w.taped(*n)
	return &d
}

func (w *writer) tapes(list ...setout.Number) []TapedDoc {
	out := make([]TapedDoc, 0, len(list))
	for _, n := range list {
		out = append(out, w.taped(n))
	}
	return out
}

func (w *writer) earth(b setout.Bulk) VolumeDoc {
	return VolumeDoc{setout.ShowEarth(b.Value, w.p.Job.Units), int64(b.Value), w.why(b.Why)}
}

func (w *writer) concrete(b setout.Bulk) *VolumeDoc {
	return &VolumeDoc{showConcrete(b.Value, w.p.Job.Units), int64(b.Value), w.why(b.Why)}
}

func (w *writer) setoutPen(p *setout.Pen) *SetoutPenDoc {
	d := &SetoutPenDoc{
		Asked: string(p.Asked), AskedNM: int64(p.AskedFor), PinCircle: w.taped(p.Pins), Flats: w.taped(p.Flats), Corners: w.taped(p.Corners),
		Radius: w.taped(p.Radius), Gate: w.taped(p.Gate), Toward: setout.DegMinSec(setout.Compass(p.Toward)), TowardND: int64(setout.Compass(p.Toward)), Piers: []PierDoc{},
		Play: w.taped(p.Play), TakeUp: w.taped(p.TakeUp), Seat: w.taped(p.Seat), Loose: p.Loose,
	}
	if p.AskedFor > 0 {
		d.AskedFor = w.show(p.AskedFor)
	}
	for i := range p.Piers {
		q := &p.Piers[i]
		d.Piers = append(d.Piers, PierDoc{
			Post: q.Name, Angle: TurnDoc{setout.DegMinSec(q.Angle.Value), int64(q.Angle.Value), w.why(q.Angle.Why)},
			Next: w.taped(q.Chord), Skip: w.taped(q.Skip), Across: w.taped(q.Across), AcrossTo: q.Far, X: w.taped(q.X), Y: w.taped(q.Y),
		})
	}
	if c := p.Closing; c != nil {
		d.Closing = w.closing(c)
	}
	return d
}

func (w *writer) closing(c *setout.Closing) *ClosingDoc {
	d := &ClosingDoc{Fits: c.Fits, LacksNM: int64(c.Sum), TakeUpNM: int64(c.TakeUp), EndXNM: int64(c.EndX), EndYNM: int64(c.EndY), EndNM: int64(c.End), Sections: []SectionDoc{}, Reason: w.why(c.Why)}
	for i, s := range c.Sections {
		q := SectionDoc{From: c.Piers[i], To: c.Piers[(i+1)%len(c.Piers)], PiersNM: int64(s.Piers), LacksNM: int64(s.Lacks)}
		if i < len(c.Off) {
			q.OffNM = int64(c.Off[i])
		}
		d.Sections = append(d.Sections, q)
	}
	moves := func(list []ring.Move) []MoveDoc {
		var out []MoveDoc
		for _, m := range list {
			out = append(out, MoveDoc{c.Piers[m.Pier], int64(m.By), int64(m.Outward), int64(m.Sideways), int64(m.To.X), int64(m.To.Y)})
		}
		return out
	}
	d.Moves, d.Instead = moves(c.Moves), moves(c.Instead)
	return d
}

func (w *writer) setoutGrid(g *setout.Grid) *SetoutGridDoc {
	d := &SetoutGridDoc{From: g.From, To: g.To, Length: w.taped(g.Length), Stakes: []StakeDoc{}}
	for i := range g.Squares {
		q := &g.Squares[i]
		d.Squares = append(d.Squares, SquareDoc{q.At, q.Along, q.Across, w.tapes(q.Legs[:]...), w.taped(q.Hyp)})
	}
	for i := range g.Frames {
		f := &g.Frames[i]
		d.Frames = append(d.Frames, FrameDoc{string(f.Kind), f.Corners[:], w.tapes(f.Sides[:]...), w.tapes(f.Diagonals[:]...), w.taped(f.Tolerance)})
	}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		s := StakeDoc{Post: k.Name, Corner: k.Corner, X: w.taped(k.X), Y: w.taped(k.Y)}
		if k.Ties[0].Why != nil {
			s.Ties = w.tapes(k.Ties[:]...)
		}
		d.Stakes = append(d.Stakes, s)
	}
	return d
}

func (w *writer) setoutLine(l *setout.Line) SetoutLineDoc {
	d := SetoutLineDoc{Kind: string(l.Kind), Wall: l.Name, Zero: l.Zero, Marks: []SetoutMarkDoc{}}
	for i := range l.Marks {
		k := &l.Marks[i]
		m := SetoutMarkDoc{What: string(k.What), At: k.At, From: w.taped(k.From)}
		if k.Own.Value != 0 {
			m.Own = w.mayTape(&k.Own)
		}
		d.Marks = append(d.Marks, m)
	}
	return d
}

func (w *writer) setoutBases(b *setout.Bases) *BasesDoc {
	d := &BasesDoc{Bench: b.Bench, LaidNM: int64(b.Laid), List: []BaseDoc{}, Bags: b.Bags, Bag: b.Bag}
	if b.Bench != "" {
		d.Top = w.mayTape(&b.Top)
	}
	for i := range b.List {
		k := &b.List[i]
		q := BaseDoc{Post: k.Name, Item: k.Item.ID, Kind: string(k.Item.Kind), Ground: w.mayTape(k.Ground), Out: w.mayTape(k.Out)}
		if k.Item.Kind == kit.Pier {
			q.AcrossNM, q.Depth, q.Length, q.Bags = int64(k.Item.Diameter), w.mayTape(&k.Depth), w.mayTape(&k.Length), k.Bags
			dig := w.earth(k.Dig)
			q.Dig, q.Concrete = &dig, w.concrete(k.Concrete)
		}
		d.List = append(d.List, q)
	}
	if count(b) > 0 {
		dig := w.earth(b.Dig)
		d.Dig, d.Concrete = &dig, w.concrete(b.Concrete)
	}
	return d
}

func (w *writer) setoutGround(s *setout.Site) *GroundDoc {
	d := &GroundDoc{
		Bench: s.Bench, High: w.taped(s.High), HighAt: s.HighAt, Low: w.taped(s.Low), LowAt: s.LowAt, Fall: w.taped(s.Fall),
		Most: w.taped(s.Stepped.Most), MostAt: s.Stepped.At, StepFill: w.earth(s.Stepped.Fill),
	}
	for i := range s.Levels {
		l := &s.Levels[i]
		q := LevelDoc{Kind: string(l.Kind), At: w.taped(l.At), Cut: w.earth(l.Cut), Fill: w.earth(l.Fill), Stakes: []DepthDoc{}, Prisms: []PrismDoc{}}
		for _, k := range l.Stakes {
			q.Stakes = append(q.Stakes, DepthDoc{k.Name, w.taped(k.Dig)})
		}
		for _, v := range l.Prisms {
			q.Prisms = append(q.Prisms, PrismDoc{v.Part.String(), string(v.Shape), v.Corners, int64(v.Area), int64(v.Cut), int64(v.Fill), w.why(v.Why)})
		}
		d.Levels = append(d.Levels, q)
	}
	for _, k := range s.Stepped.Bays {
		d.Steps = append(d.Steps, GroundStepDoc{k.Part.String(), w.taped(k.At), w.taped(k.Gap), int64(k.Fill)})
	}
	return d
}
