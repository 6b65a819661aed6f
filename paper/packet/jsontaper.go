package packet

import (
	"stallwright/engine/fit"
	"stallwright/engine/measure"
)

// tapers writes what is done about a bay's taper and its boards' thickness.
func (w *writer) tapers(bd *BayDoc, f *fit.BayFit) {
	if t := f.Thick; t != nil && t.Leaning {
		bd.Thick = &ThickDoc{int64(t.Inside), int64(t.Wet), int64(t.Twist), int64(t.Play), w.why(t.Why)}
	}
	t := f.Taper
	if t == nil || t.ByCut.Lengths < 2 && !t.Shimmed {
		return // one length does for all courses
	}
	d := &TaperDoc{Shimmed: t.Shimmed, ByCut: cost(&t.ByCut), Reason: w.why(t.Why)}
	_, d.HeightsNM = w.lengths(t.Heights)
	d.Widths, d.WidthsNM = w.lengths(t.Widths)
	d.Lengths, d.LengthsNM = w.lengths(t.Lengths)
	if len(t.Shims) > 0 {
		d.ByShim, d.ShimSide = cost(&t.ByShim), "left"
		if t.Right {
			d.ShimSide = "right"
		}
	}
	for _, s := range t.Shims {
		d.Shims = append(d.Shims, ShimDoc{int64(s.Z), w.show(s.Thick), int64(s.Thick)})
	}
	for _, c := range t.Courses {
		d.Courses = append(d.Courses, HoldDoc{c.Course, int64(c.Clear[0]), int64(c.Clear[1]), int64(c.Length), int64(c.Hold[0]), int64(c.Hold[1])})
	}
	bd.Taper = d
}

func (w *writer) lengths(list []measure.Length) (texts []string, exact []int64) {
	for _, l := range list {
		texts, exact = append(texts, w.show(l)), append(exact, int64(l))
	}
	return texts, exact
}

func cost(c *fit.Cost) *CostDoc {
	d := &CostDoc{Lengths: c.Lengths, Boards: []BoughtDoc{}, Settings: c.Settings, Shims: c.Shims, Minutes: c.Minutes, Source: c.Source}
	for _, b := range c.Boards {
		d.Boards = append(d.Boards, BoughtDoc{int64(b.Length), b.Count})
	}
	return d
}

func (w *writer) obstruction(o *fit.ObstructionFit) ObstructionDoc {
	d := ObstructionDoc{
		What: string(o.What), XNM: int64(o.X), WidthNM: int64(o.Width), ZNM: int64(o.Z), HeightNM: int64(o.Height),
		Face: string(o.Face), IntoNM: int64(o.Into), Through: o.Through, Reason: w.why(o.Why),
	}
	for _, i := range o.Cut {
		d.Cuts = append(d.Cuts, w.p.Fit.Pieces[i].Label)
	}
	return d
}
