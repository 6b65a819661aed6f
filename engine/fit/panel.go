package fit

import (
	"fmt"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// treated is how many courses of a bay are treated, and by what rule.
func (f *fitter) treated(i int) int {
	b := &f.lay.Bays[i]
	if b.Fill.Has("treated") {
		return b.Fill.Treated
	}
	facts := f.lay.Facts(b.Run)
	n := 0
	for k := range f.kit.Treated {
		t := &f.kit.Treated[k]
		if ok, err := t.When.Holds(&facts); err == nil && ok {
			n = max(n, t.Courses)
		}
	}
	return n
}

// course adds one course of one board from web to web.
func (f *fitter) course(i int, kind string, z, height measure.Length, why *reason.Reason) int {
	return f.courseAt(i, kind, z, height, []segment{{length: f.out.Bays[i].Board, why: why}})
}

// segment is one board of a course: x from the bay's left web.
type segment struct {
	suffix string // L or R beside a window
	x      measure.Length
	length measure.Length
	why    *reason.Reason
}

// courseAt adds one course of one or more boards and returns its place.
func (f *fitter) courseAt(i int, kind string, z, height measure.Length, segs []segment) int {
	out := &f.out.Bays[i]
	b := &f.lay.Bays[i]
	no := len(out.Courses) + 1
	c := Course{No: no, Z: z, Height: height, Kind: kind}
	treated := no <= f.treatedOnce(i)
	for _, s := range segs {
		c.Pieces = append(c.Pieces, f.add(Piece{
			Label: fmt.Sprintf("%s/c%d%s", b.Name, no, s.suffix), Kind: Board, Item: Lumber, Run: b.Run, Bay: i, Course: no,
			Length: s.length, Height: height, X: s.x, Z: z, Cut: true, Treated: treated, Ripped: kind == "ripped",
			State: out.State, Why: s.why,
		}))
	}
	out.Courses = append(out.Courses, c)
	return no - 1
}

// treatedOnce is treated, asked once a bay.
func (f *fitter) treatedOnce(i int) int {
	if f.treatedBay != i+1 {
		f.treatedBay, f.treatedCount = i+1, f.treated(i)
	}
	return f.treatedCount
}

// boardsBay fills a bay with boards from the datum up.
func (f *fitter) boardsBay(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	if out.Board <= 0 {
		return
	}
	r := &f.lay.Runs[b.Run]
	clamp := f.clampOf(r)
	n := f.fullCourses(r.Zone, nil, clamp)
	p := f.stack(r.Zone, n, nil, clamp)
	why := f.whyLength(out.Board, out.WhyClear)
	for _, z := range p.z {
		f.course(i, "full", z, f.board.Coverage, why)
	}
	f.close(i, p, why)
	f.settle(i, p, clamp, courses(n), phrase.Of("rule.courses", count("n", n)))
}

// close adds the ripped course and the packing strip a plan asks for.
func (f *fitter) close(i int, p plan, why *reason.Reason) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	if p.rip > 0 {
		f.course(i, "ripped", p.ripZ, p.rip, why)
	}
	if p.pack > 0 {
		f.add(Piece{
			Label: b.Name + "/pack", Kind: Packing, Item: Lumber, Run: b.Run, Bay: i, Length: out.Board, Height: p.pack,
			Z: p.top, Cut: true, Ripped: true, State: out.State, Why: why,
		})
	}
}

func courses(n int) string {
	if n == 1 {
		return "1 course"
	}
	return fmt.Sprintf("%d courses", n)
}
