package views

import (
	"fmt"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
)

// remarks gathers notes, each with the bays it is true of.
type remarks struct {
	texts []string
	bays  map[string][]string
}

func (r *remarks) add(text, bay string) {
	if r.bays == nil {
		r.bays = map[string][]string{}
	}
	if _, known := r.bays[text]; !known {
		r.texts = append(r.texts, text)
	}
	r.bays[text] = append(r.bays[text], bay)
}

func (r *remarks) list() []string {
	out := make([]string, len(r.texts))
	for i, t := range r.texts {
		out[i] = list(r.bays[t]) + ": " + t + "."
	}
	return out
}

// notes are what an elevation says in words.
func (t *tables) notes(s stretch, drawn []string) []string {
	var out []string
	if len(drawn) > 0 {
		if len(s.like) > 0 {
			drawn = append(drawn, "all that are like it")
		}
		out = append(out, "Cut nothing from this sheet where a bay is drawn, not measured: "+list(drawn)+".")
	}
	if len(s.like) > 0 {
		names := make([]string, len(s.like))
		for i, r := range s.like {
			names[i] = t.standsFor(r)
		}
		out = append(out, fmt.Sprintf("Drawn is %s. The sheet stands for these too: %s.", t.standsFor(s.runs[0]), strings.Join(names, ", ")))
	}
	var r remarks
	bays := t.baysOf(s.runs)
	for _, v := range bays {
		t.bayRemarks(&r, v)
	}
	out = append(out, r.list()...)
	if w := t.legend(bays); w != "" {
		out = append(out, w)
	}
	if t.bent(s) {
		out = append(out, "The posts do not stand in one line: the wall is drawn unfolded.")
	}
	return out
}

func (t *tables) bayRemarks(r *remarks, v int) {
	b, f := &t.Layout.Bays[v], &t.Fit.Bays[v]
	for _, m := range t.faults(v) {
		r.add("DOES NOT FIT: "+m, b.Name)
	}
	if w := t.taperWords(f); w != "" {
		r.add(w, b.Name)
	}
	for _, w := range t.cutWords(v) {
		r.add(w, b.Name)
	}
	if f.Door != nil {
		r.add(t.doorWords(f.Door), b.Name)
	}
	if w := f.Window; w != nil {
		r.add(t.windowWords(v, w), b.Name)
	}
	if fd := f.Feeder; fd != nil {
		r.add(t.feederWords(f), b.Name)
	}
	if s := f.Stack; s != nil && s.Clamp != nil {
		if n := t.clamps[b.Name]; n > 0 {
			r.add(fmt.Sprintf("%d × %s, spread evenly", n, s.Clamp.Name), b.Name)
		}
	}
	for i := range f.Courses {
		if c := &f.Courses[i]; c.Kind == "ripped" {
			r.add(fmt.Sprintf("c%d is ripped to %s, its tongue cut off", c.No, t.show(c.Height)), b.Name)
		}
	}
}

// feederWords tells what a feeder stands on and what stands beside it.
func (t *tables) feederWords(f *fit.BayFit) string {
	fd := f.Feeder
	s := fmt.Sprintf("the feeder stands on c%d; %s beside it are %s long", fd.Feeder.On, courseRange(fd.Feeder.On+1, fd.Feeder.On+fd.Shorts), t.show(fd.Short))
	if f.Grille != nil {
		s += ", the grille " + t.show(f.Grille.Width)
	}
	return s + "; it swings out " + t.show(fd.Feeder.Swing)
}

// windowWords tells what is cut out of the courses above and below a window.
func (t *tables) windowWords(v int, w *fit.WindowFit) string {
	var cuts []string
	for i := range t.Fit.Bays[v].Courses {
		c := &t.Fit.Bays[v].Courses[i]
		for _, p := range c.Pieces {
			for _, n := range t.Fit.Pieces[p].Notches {
				if n.Edge == "top" && n.Depth != w.NotchBottom || n.Edge == "bottom" && n.Depth != w.NotchTop || n.X != w.X-t.Fit.Pieces[p].X {
					continue // for an obstruction
				}
				cuts = append(cuts, fmt.Sprintf("from the %s of c%d, %s from its left end: %s wide, %s deep", n.Edge, c.No, t.show(n.X), t.show(n.Width), t.show(n.Depth)))
			}
		}
	}
	if len(cuts) == 0 {
		return "no notches at the window"
	}
	return "notch " + strings.Join(cuts, "; ")
}

// taperWords tells how a tapered bay's boards are held, or where its shims go.
func (t *tables) taperWords(f *fit.BayFit) string {
	v := f.Taper
	if v == nil || len(v.Courses) == 0 {
		return ""
	}
	if v.Shimmed {
		side := "left"
		if v.Right {
			side = "right"
		}
		var at []string
		for _, s := range v.Shims {
			if s.Thick > 0 {
				at = append(at, fmt.Sprintf("%s at %s", t.show(s.Thick), t.show(s.Z)))
			}
		}
		return fmt.Sprintf("shim the %s channel: %s above the datum", side, list(at))
	}
	if len(v.Lengths) < 2 {
		return ""
	}
	least := v.Courses[0].Hold[0]
	for _, c := range v.Courses {
		least = min(least, c.Hold[0], c.Hold[1])
	}
	return fmt.Sprintf("it tapers: %s of boards from web to web, each at its own height; pushed to one end, the least of them stands %s in the other channel", count(len(v.Lengths), "length"), t.show(least.Round(t.Kit.Board.Mark, measure.Down)))
}

// cutWords tells what is cut out of which board for what crosses a bay.
func (t *tables) cutWords(v int) []string {
	var out []string
	for _, o := range t.crosses[v] {
		if len(o.Cut) == 0 {
			continue
		}
		var cuts []string
		for _, i := range o.Cut {
			p := &t.Fit.Pieces[i]
			_, code, _ := strings.Cut(p.Label, "/")
			if w := t.Work(p); w != "" {
				code += ": " + w
			}
			cuts = append(cuts, code)
		}
		out = append(out, fmt.Sprintf("cut for the %s: %s", obstructionName(o), strings.Join(cuts, "; ")))
	}
	return out
}

// legend explains the shadings that a sheet uses.
func (t *tables) legend(bays []int) string {
	treated, ripped, packed, parked := false, false, false, false
	for _, v := range bays {
		f := &t.Fit.Bays[v]
		for _, i := range f.Pieces {
			p := &t.Fit.Pieces[i]
			treated = treated || p.Treated
			ripped = ripped || p.Ripped && p.Kind == fit.Board
			packed = packed || p.Kind == fit.Packing
		}
		parked = parked || f.Door != nil && f.Door.Track != nil
	}
	return sentence(plain{treated, "shaded boards are treated"}, plain{ripped, "hatched boards are ripped"},
		plain{packed, "packing is dark"}, plain{parked, "a parked leaf is dashed"})
}

// bent says whether the posts of a stretch leave a straight line.
func (t *tables) bent(s stretch) bool {
	first, last := &t.Layout.Runs[s.runs[0]], &t.Layout.Runs[s.runs[len(s.runs)-1]]
	a, b := t.Layout.Posts[first.From].At, t.Layout.Posts[last.To].At
	v := b.Sub(a)
	for _, run := range s.runs[1:] {
		w := t.Layout.Posts[t.Layout.Runs[run].From].At.Sub(a)
		if (v.X == 0 && w.X != 0) || (v.Y == 0 && w.Y != 0) {
			return true
		}
		if v.X != 0 && v.Y != 0 && frame.Along(a, b, t.line[run]-t.line[s.runs[0]]) != t.Layout.Posts[t.Layout.Runs[run].From].At {
			return true
		}
	}
	return false
}
