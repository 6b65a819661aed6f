package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// governs is the height of the finished floor that a run's datum counts from: the
// highest of its structure, less how much the line has stepped down to the run.
func (f *fitter) governs(r *frame.Run) measure.Length {
	return f.highest[r.Structure].Height - r.Drop
}

// floorUnder is the floor at a post of a run. A door post that nobody read stands
// on the way between the run's posts; where those are not known either, the floor
// counts as the one that governs.
func (f *fitter) floorUnder(post int, r *frame.Run) measure.Length {
	if fl, ok := f.floor[f.lay.Posts[post].Name]; ok {
		return fl.Height
	}
	from, okFrom := f.floor[f.lay.Posts[r.From].Name]
	to, okTo := f.floor[f.lay.Posts[r.To].Name]
	x, along := f.alongRun(post, r)
	if !okFrom || !okTo || !along {
		return f.governs(r)
	}
	rise, _ := measure.MulDiv(int64(to.Height-from.Height), int64(x), int64(max(r.Centres, 1)), measure.Nearest)
	return from.Height + measure.Length(rise).Round(f.kit.Board.Mark, measure.Nearest)
}

// alongRun is where a door post's face toward its doorway stands, from the axis
// of its run's left post.
func (f *fitter) alongRun(post int, r *frame.Run) (measure.Length, bool) {
	for _, i := range r.Bays {
		b := &f.lay.Bays[i]
		for side, e := range b.Ends {
			if e.Post == post && b.IsDoor() {
				x := r.Ends[0].Reach + b.Start
				if side == 1 {
					x += b.Clear
				}
				return x, true
			}
		}
	}
	return 0, false
}

// skirts adds the boards that close the gaps under bays where the job asks for
// them: as long as the lowest board, ripped to follow the floor from end to end.
func (f *fitter) skirts() {
	if f.job.Datum == nil {
		return
	}
	for k := range f.job.Datum.Skirts {
		s := &f.job.Datum.Skirts[k]
		if i, ok := f.lay.Bay(s.Bay); ok && len(f.out.Bays[i].Courses) > 0 {
			f.skirt(i, job.Written(s.Pos()))
		}
	}
}

func (f *fitter) skirt(i int, source phrase.Phrase) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	r := &f.lay.Runs[b.Run]
	// Down to a mark, so that it goes in under the board without being forced.
	ends := [2]measure.Length{}
	for k, x := range [2]measure.Length{0, out.Clear} {
		ends[k] = max(0, f.datumAbove(i, x)-r.Datum).Round(f.kit.Board.Mark, measure.Down)
	}
	high := max(ends[0], ends[1])
	switch {
	case high <= 0:
		f.find(finding.FloorGap, finding.Note, b.Name, "the floor does not fall under it: its skirt board is left out", phrase.Of("way.take-out"))
		f.say("found.no-skirt")
		return
	case high > f.board.Coverage:
		f.find(finding.FloorGap, finding.Error, b.Name,
			fmt.Sprintf("its skirt would be %s high, more than the %s of a board", f.show(high), f.show(f.board.Coverage)), phrase.Of("way.fill-floor"), phrase.Of("way.step-line"))
		f.say("found.skirt-high", size("height", high), size("most", f.board.Coverage))
		return
	}
	first := &f.out.Pieces[out.Courses[0].Pieces[0]]
	f.add(Piece{
		Label: b.Name + "/skirt", Kind: Skirt, Item: Lumber, Run: b.Run, Bay: i, Length: first.Length, Height: high, X: first.X, Z: -high,
		Cut: true, Ripped: true, Fasten: true, Treated: first.Treated, State: out.State,
		Why: reason.Of(phrase.Of("why.skirt", phrase.With("bay", phrase.Name(b.Name))), phrase.Of("amount.skirt", size("left", ends[0]), size("right", ends[1])), phrase.Of("rule.skirt"), source, first.Why),
	})
	f.find(finding.FloorGap, finding.Note, b.Name, fmt.Sprintf("a skirt board closes the gap under it: ripped to %s at the left end and %s at the right, screwed to both posts", f.show(ends[0]), f.show(ends[1])))
	f.say("found.skirt", size("left", ends[0]), size("right", ends[1]))
}
