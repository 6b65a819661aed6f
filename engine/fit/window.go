package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// WindowFit is a window set into cut boards.
type WindowFit struct {
	Window      *kit.Window
	X           measure.Length    // from the bay's left web to the window's left side
	Sill        measure.Length    // above the datum
	Head        measure.Length    // above the datum
	Boards      [2]measure.Length // length of the cut boards on its left and right
	Hold        [2]measure.Length // their least depth in the window's side channels
	CutCourses  int
	NotchBottom measure.Length // cut from the course below (its tongue)
	NotchTop    measure.Length // cut from the course above
	Piece       int
}

// windowBay fills a bay with boards and sets a window into the courses it
// crosses.
func (f *fitter) windowBay(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	if out.Board <= 0 {
		return
	}
	w := f.pickWindow(i)
	if w == nil {
		return
	}
	r := &f.lay.Runs[b.Run]
	clamp := f.clampOf(r)
	n := f.fullCourses(r.Zone, nil, clamp)
	p := f.stack(r.Zone, n, nil, clamp)
	fit := f.placeWindow(i, w, n)
	if fit == nil {
		return
	}
	why := f.whyLength(out.Board, out.WhyClear)
	segs := f.beside(i, fit)
	c := f.board.Coverage
	sill := int(fit.Sill / c)
	for k, z := range p.z {
		switch {
		case k == sill-1 && fit.NotchBottom > 0:
			at := f.course(i, "full", z, c, why)
			f.notch(i, at, fit, Notch{Edge: "top", Depth: fit.NotchBottom, Why: "the window's sill stands on this course: its tongue is cut away"})
		case k >= sill && k < sill+fit.CutCourses:
			f.courseAt(i, "cut", z, c, segs)
		case k == sill+fit.CutCourses && fit.NotchTop > 0:
			at := f.course(i, "closing", z, c, why)
			f.notch(i, at, fit, Notch{Edge: "bottom", Depth: fit.NotchTop, Why: "the window's head reaches into this course"})
		case k == sill+fit.CutCourses:
			f.course(i, "closing", z, c, why)
		default:
			f.course(i, "full", z, c, why)
		}
	}
	f.close(i, p, why)
	fit.Piece = f.add(Piece{
		Label: b.Name + "/window", Kind: Window, Item: w.ID, Run: b.Run, Bay: i, Length: w.Width, Height: w.Height, X: fit.X, Z: fit.Sill, State: out.State,
		Why: reason.Of(phrase.Of("why.window-in", phrase.With("bay", phrase.Name(b.Name))), phrase.Of("amount.by", size("width", w.Width), size("height", w.Height)), phrase.Of("rule.window", phrase.With("below", phrase.Count(sill)), phrase.With("cut", phrase.Count(fit.CutCourses))), f.kitSource("windows "+w.ID, w.Pos().Line), out.WhyClear, f.coverage),
	})
	out.Window = fit
	f.settle(i, p, clamp, courses(n), phrase.Of("rule.courses", count("n", n)))
}

func (f *fitter) pickWindow(i int) *kit.Window {
	b := &f.lay.Bays[i]
	if b.Fill.Window != "" {
		if w := f.kit.Window(b.Fill.Window); w != nil {
			return w
		}
		f.find(finding.WindowPlace, finding.Error, b.Name, fmt.Sprintf("the kit %s has no window %q", f.kit.Kit, b.Fill.Window), phrase.Of("way.name-window"))
		f.say("found.no-such-window", called("kit", f.kit.Kit), called("window", b.Fill.Window))
		return nil
	}
	if len(f.kit.Windows) == 0 {
		f.find(finding.WindowPlace, finding.Error, b.Name, "the kit "+f.kit.Kit+" makes no windows", phrase.Of("way.another-fill"), phrase.Of("way.another-kit"))
		f.say("found.no-windows", called("kit", f.kit.Kit))
		return nil
	}
	return &f.kit.Windows[0]
}

// placeWindow works out where the window stands among n courses.
func (f *fitter) placeWindow(i int, w *kit.Window, n int) *WindowFit {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	c := f.board.Coverage
	sill := w.Sill
	if b.Fill.Sill != 0 {
		sill = b.Fill.Sill
	}
	x := ((out.Clear - w.Width) / 2).Round(f.kit.Board.Mark, measure.Down)
	if b.Fill.From != 0 {
		x = b.Fill.From
	}
	fit := &WindowFit{Window: w, X: x, Sill: measure.Length(sill) * c}
	fit.Head = fit.Sill + w.Height
	if sill > 0 {
		fit.NotchBottom = f.board.Tongue
	}
	fit.CutCourses = int(w.Height.DivDown(c))
	fit.NotchTop = w.Height - measure.Length(fit.CutCourses)*c
	if c-fit.NotchTop < f.kit.Board.LeastRip && fit.NotchTop > 0 {
		// Too little of that course would be left over the window: it is cut
		// through, and the head is packed up to the next.
		f.find(finding.Packed, finding.Note, b.Name,
			fmt.Sprintf("only %s would be left of the course over the window: it is cut through, and a packing strip that thick goes over the head", f.show(c-fit.NotchTop)))
		f.say("found.over-window", size("left", c-fit.NotchTop))
		fit.CutCourses++
		fit.NotchTop = 0
	}
	lens := [2]measure.Length{x, out.Clear - x - w.Width}
	stub := max(f.kit.Board.LeastStub, b.Ends[0].Leg+w.Leg)
	for side, clear := range lens {
		l, err := f.length(clear)
		if err != nil || l < stub {
			f.find(finding.WindowPlace, finding.Error, b.Name,
				fmt.Sprintf("a window %s wide leaves boards of only %s on its %s", f.show(w.Width), f.show(max(l, 0)), []string{"left", "right"}[side]), phrase.Of("way.window-from", phrase.With("key", phrase.Name("from"))), phrase.Of("way.narrower-window"), phrase.Of("way.wider-bay"))
			f.say([]string{"found.window-left", "found.window-right"}[side], size("width", w.Width), size("board", max(l, 0)))
			return nil
		}
		fit.Boards[side] = l
		fit.Hold[side] = min(b.Ends[side].Leg, w.Leg) - (clear - l)
		f.holds(i, "beside the window", l, fit.Hold[side])
	}
	if sill+fit.CutCourses >= n {
		f.find(finding.WindowPlace, finding.Error, b.Name,
			fmt.Sprintf("a window %s high on %d courses leaves no closing course: the wall has %d", f.show(w.Height), sill, n), phrase.Of("way.fewer-below", phrase.With("key", phrase.Name("sill"))), phrase.Of("way.lower-window"))
		f.say("found.no-closing", size("height", w.Height), count("sill", sill), count("courses", n))
		return nil
	}
	return fit
}

// beside are the boards on the window's left and right.
func (f *fitter) beside(i int, fit *WindowFit) []segment {
	out := &f.out.Bays[i]
	right := out.Clear - fit.X - fit.Window.Width
	why := func(what string, clear, l measure.Length) *reason.Reason {
		return f.whyLength(l, reason.Of(phrase.Of(what), phrase.Length(clear), phrase.Of("rule.web-to-web"), f.kitSource("windows "+fit.Window.ID+".width", fit.Window.Of("width").Line), out.WhyClear))
	}
	return []segment{
		{suffix: "L", length: fit.Boards[0], why: why("why.clear-left-of-window", fit.X, fit.Boards[0])},
		{suffix: "R", x: fit.X + fit.Window.Width + (right-fit.Boards[1])/2, length: fit.Boards[1], why: why("why.clear-right-of-window", right, fit.Boards[1])},
	}
}

// notch cuts the window's width out of a course's edge.
func (f *fitter) notch(i, course int, fit *WindowFit, n Notch) {
	out := &f.out.Bays[i]
	p := &f.out.Pieces[out.Courses[course].Pieces[0]]
	// The board may lie pushed to either end of its channels, and the window with it
	// to neither: the notch is longer by what the board can move.
	mark, loose := f.kit.Board.Mark, max(f.wide(i, p).most-p.Length, 0)
	from := max((fit.X-p.X-loose).Round(mark, measure.Down), 0)
	to := min((fit.X-p.X+fit.Window.Width).Round(mark, measure.Up), p.Length)
	n.X, n.Width = from, to-from
	p.Notches = append(p.Notches, n)
}
