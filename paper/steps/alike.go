package steps

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/solid"
)

// alikeWithin is how far, in metres, a part may lie or reach otherwise in two
// steps that one picture serves: a millimetre on paper at 1:30, less than the eye
// takes for another place.
const alikeWithin = 0.03

// Alike puts together steps that one page serves: the same work on the same
// parts, with pictures that are the same but for labels, sizes and what stands
// around. Each group lists steps by index in their order, the groups in the order
// of their first steps; every step is in one group. Lengths may differ by less
// than a picture shows; what is taken, by kind and count, may not, nor who does it
// with which tools and cautions.
//
// Rounds on which nothing is added and that go on over several steps are one
// group too.
func (d *Drawer) Alike() [][]int {
	var out [][]int
	open := map[string][]int{} // groups by what their steps say
	views := map[int][]footprint{}
	for i := range d.build.Steps {
		key := d.work(i)
		if key == "" {
			out = append(out, []int{i})
			continue
		}
		shape := d.footprints(i)
		joined := false
		for _, g := range open[key] {
			if sameShape(views[out[g][0]], shape) && (len(shape) > 0 || out[g][len(out[g])-1] == i-1) {
				out[g] = append(out[g], i)
				joined = true
				break
			}
		}
		if joined {
			continue
		}
		views[i] = shape
		open[key] = append(open[key], len(out))
		out = append(out, []int{i})
	}
	return out
}

// work says what a step is but for places and lengths; empty where no other step
// could share its page.
func (d *Drawer) work(step int) string {
	s := &d.build.Steps[step]
	round := Round(d.build, s)
	if _, ok := d.axes(s); !round && !ok {
		return ""
	}
	var w strings.Builder
	put := func(parts ...string) {
		for _, p := range parts {
			w.WriteString(p)
			w.WriteByte('|')
		}
	}
	num := func(list ...int) {
		for _, n := range list {
			w.WriteString(strconv.Itoa(n))
			w.WriteByte('|')
		}
	}
	num(s.Place.Structure)
	put(s.Title.Key)
	if round {
		put(string(d.build.Operations[s.Ops[0]].Kind))
		return w.String()
	}
	for _, k := range s.Ops {
		o := &d.build.Operations[k]
		put("op", string(o.Kind))
		told(put, o.Do)
		for _, h := range o.How {
			told(put, h)
		}
		for _, c := range o.Cautions {
			told(put, c)
		}
		num(o.People, o.Cure)
		for _, t := range o.Tools {
			put(t.Key)
			num(int(t.Size / 1000))
		}
		if o.Lift != nil {
			put("lift", yes(o.Lift.Aid))
			num(o.Lift.People)
		}
		if o.Check != nil {
			put("check")
			told(put, o.Check.What)
		}
		for _, p := range o.Adds {
			v := &d.Fit.Pieces[p]
			put(string(v.Kind), v.Item, yes(v.Treated))
			num(len(v.Notches))
		}
		for _, list := range [2][]build.Use{o.Parts, o.Bolts} {
			for _, u := range list {
				put("use", u.Item, u.Length.In(d.Job.Units))
				num(u.Count)
			}
		}
	}
	return w.String()
}

// Round says whether a step does one thing at one place after the other, with
// nothing added and nothing to see: it goes round with a tape, a saw, a file.
func Round(r *build.Result, s *build.Step) bool {
	for _, k := range s.Ops {
		o := &r.Operations[k]
		if o.Kind != r.Operations[s.Ops[0]].Kind || len(o.Adds)+len(o.Parts)+len(o.Bolts) > 0 || moves[o.Kind] {
			return false
		}
	}
	return true
}

// moves are kinds of operation that have a picture though they add nothing.
var moves = map[build.Kind]bool{
	build.Stand: true, build.Move: true, build.Tighten: true, build.Square: true, build.Hang: true, build.Adjust: true,
	build.Handle: true, build.Unhang: true, build.Roof: true, build.Anchor: true, build.Brace: true,
}

// told puts what a phrase says but for names, lengths and counts in it.
func told(put func(...string), p phrase.Phrase) {
	put(p.Key)
	for _, a := range p.Args {
		put(a.Name)
		if q, ok := a.Value.(phrase.Phrase); ok {
			put(q.Key)
		}
	}
}

// footprint is where a part of a step is, from the nearest corner of all of them,
// in the axes of the step's run or
// of the plan.
type footprint struct {
	kind solid.Kind
	item string
	box  solid.Box
}

// footprints are those of everything that a step adds or moves; none for a round
// or where there is nothing to see.
func (d *Drawer) footprints(step int) []footprint {
	s := &d.build.Steps[step]
	f, ok := d.axes(s)
	if !ok || Round(d.build, s) {
		return nil
	}
	var out []footprint
	lo := solid.Vec{X: math.Inf(1), Y: math.Inf(1)}
	for _, i := range d.shown(s) {
		v := &d.scene.Solids[i]
		b := v.Within(f)
		lo.X, lo.Y = math.Min(lo.X, b.Min.X), math.Min(lo.Y, b.Min.Y)
		out = append(out, footprint{kind: v.Kind, item: v.Item, box: b})
	}
	for i := range out {
		out[i].box = solid.Box{Min: out[i].box.Min.Sub(lo), Max: out[i].box.Max.Sub(lo)}
	}
	return out
}

// axes are those in which a step's parts are compared: its run's, or the plan's
// own where it stands a single post.
func (d *Drawer) axes(s *build.Step) (solid.Frame, bool) {
	if run := d.runOf(s); run >= 0 {
		r := &d.Layout.Runs[run]
		return solid.NewFrame(d.Layout.Posts[r.From].At, d.Layout.Posts[r.To].At.Sub(d.Layout.Posts[r.From].At)), true
	}
	if s.Place.Post >= 0 {
		return solid.NewFrame(d.Layout.Posts[s.Place.Post].At, frame.Point{X: measure.Metre}), true
	}
	return solid.Frame{}, false
}

// shown lists the solids that a step adds or moves.
func (d *Drawer) shown(s *build.Step) []int {
	p := &picture{Drawer: d, step: s, first: s.Ops[0], last: s.Ops[len(s.Ops)-1]}
	var out []int
	for k := p.first; k <= p.last; k++ {
		out = append(out, d.brought[k]...)
	}
	if p.bench() >= 0 {
		return out
	}
	for i := range p.moved() {
		out = append(out, i)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// sameShape says whether one picture serves two steps.
func sameShape(a, b []footprint) bool {
	if len(a) != len(b) {
		return false
	}
	near := func(u, v solid.Vec) bool {
		return math.Abs(u.X-v.X) <= alikeWithin && math.Abs(u.Y-v.Y) <= alikeWithin && math.Abs(u.Z-v.Z) <= alikeWithin
	}
	taken := make([]bool, len(b))
	for i := range a {
		p, found := &a[i], false
		for k := range b {
			q := &b[k]
			if !taken[k] && p.kind == q.kind && p.item == q.item && near(p.box.Min, q.box.Min) && near(p.box.Max, q.box.Max) {
				taken[k], found = true, true
				break
			}
		}
		if !found {
			return false
		}
	}
	return true
}

// runOf is the run that a step is about, by its place or else by its pieces; -1
// for none.
func (d *Drawer) runOf(s *build.Step) int {
	if s.Place.Run >= 0 {
		return s.Place.Run
	}
	run := -1
	for _, p := range s.Adds {
		r := d.Fit.Pieces[p].Run
		if run >= 0 && r != run {
			return -1
		}
		run = r
	}
	return run
}

func yes(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}
