package views

import (
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
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

func (r *remarks) list(t *tables) []string {
	out := make([]string, len(r.texts))
	for i, text := range r.texts {
		out[i] = t.say("views.remark", name("bays", t.words.Join(r.bays[text])), name("what", text))
	}
	return out
}

// notes are what an elevation says in words.
func (t *tables) notes(s stretch, drawn []string) []string {
	var out []string
	if len(drawn) > 0 {
		if len(s.like) > 0 {
			drawn = append(drawn, t.say("views.all-like-it"))
		}
		out = append(out, t.say("views.cut-nothing", name("bays", t.words.Join(drawn))))
	}
	if len(s.like) > 0 {
		names := make([]string, len(s.like))
		for i, r := range s.like {
			names[i] = t.standsFor(r)
		}
		out = append(out, t.say("views.stands-for", name("drawn", t.standsFor(s.runs[0])), name("others", strings.Join(names, ", "))))
	}
	var r remarks
	bays := t.baysOf(s.runs)
	for _, v := range bays {
		t.bayRemarks(&r, v)
	}
	out = append(out, r.list(t)...)
	if w := t.legend(bays); w != "" {
		out = append(out, w)
	}
	if t.bent(s) {
		out = append(out, t.say("views.unfolded"))
	}
	return out
}

func (t *tables) bayRemarks(r *remarks, v int) {
	b, f := &t.Layout.Bays[v], &t.Fit.Bays[v]
	for _, m := range t.faults(v) {
		r.add(t.say("views.no-fit", name("what", m)), b.Name)
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
			r.add(t.say("views.clamps", number("n", n), t.item("clamp", s.Clamp.ID, s.Clamp.Name)), b.Name)
		}
	}
	for i := range f.Courses {
		if c := &f.Courses[i]; c.Kind == "ripped" {
			r.add(t.say("views.ripped", name("course", courseRange(c.No, c.No)), size("height", c.Height)), b.Name)
		}
	}
}

// feederWords tells what a feeder stands on and what stands beside it.
func (t *tables) feederWords(f *fit.BayFit) string {
	fd := f.Feeder
	on, beside := name("on", courseRange(fd.Feeder.On, fd.Feeder.On)), name("courses", courseRange(fd.Feeder.On+1, fd.Feeder.On+fd.Shorts))
	short, swing := size("short", fd.Short), size("swing", fd.Feeder.Swing)
	if f.Grille != nil {
		return t.say("views.feeder-grille", on, beside, short, size("grille", f.Grille.Width), swing)
	}
	return t.say("views.feeder-stands", on, beside, short, swing)
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
				edge := "views.notch-bottom"
				if n.Edge == "top" {
					edge = "views.notch-top"
				}
				cuts = append(cuts, t.say(edge, name("course", courseRange(c.No, c.No)), size("from", n.X), size("width", n.Width), size("depth", n.Depth)))
			}
		}
	}
	if len(cuts) == 0 {
		return t.say("views.no-notches")
	}
	return t.say("views.notch", name("cuts", strings.Join(cuts, "; ")))
}

// taperWords tells how a tapered bay's boards are held, or where its shims go.
func (t *tables) taperWords(f *fit.BayFit) string {
	v := f.Taper
	if v == nil || len(v.Courses) == 0 {
		return ""
	}
	if v.Shimmed {
		side := "views.shim-left"
		if v.Right {
			side = "views.shim-right"
		}
		var at []string
		for _, s := range v.Shims {
			if s.Thick > 0 {
				at = append(at, t.say("views.shim-at", size("thickness", s.Thick), size("height", s.Z)))
			}
		}
		return t.say(side, name("shims", t.words.Join(at)))
	}
	if len(v.Lengths) < 2 {
		return ""
	}
	least := v.Courses[0].Hold[0]
	for _, c := range v.Courses {
		least = min(least, c.Hold[0], c.Hold[1])
	}
	return t.say("views.tapers", number("n", len(v.Lengths)), size("hold", least.Round(t.Kit.Board.Mark, measure.Down)))
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
			var work []string
			for _, do := range t.Todo(p) {
				work = append(work, t.words.Say(do))
			}
			if len(work) > 0 {
				code += ": " + strings.Join(work, "; ")
			}
			cuts = append(cuts, code)
		}
		out = append(out, t.say("views.cut-for", phrase.With("what", obstructionName(o)), name("cuts", strings.Join(cuts, "; "))))
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
	return t.sentence(plain{treated, "views.shaded-treated"}, plain{ripped, "views.hatched-ripped"},
		plain{packed, "views.packing-dark"}, plain{parked, "views.parked-dashed"})
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
