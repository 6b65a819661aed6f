package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// FeederFit is a feeder standing on full courses, short courses and a narrowed
// grille beside it.
type FeederFit struct {
	Feeder *kit.Feeder
	Left   bool           // it stands at the bay's left end
	X      measure.Length // from the bay's left web to its left side
	Z      measure.Length // what it stands on, above the datum
	Top    measure.Length // its top above the datum
	Level  measure.Length // its top above the grille's (negative: below)
	Short  measure.Length // length of the short boards
	Hold   measure.Length // their least depth in the feeder's side channel
	Shorts int            // short courses beside it
	Piece  int
}

// levelWithin is how far feeder and grille tops may differ before it shows and
// the closing course rocks (common practice, no published source).
const levelWithin = measure.Inch / 8

// feederBay fills a bay with a feeder at one end.
func (f *fitter) feederBay(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	if out.Board <= 0 {
		return
	}
	fd := f.pickFeeder(i)
	if fd == nil {
		return
	}
	below, above := f.layers(i)
	short := out.Clear - fd.Width
	other := b.Ends[0].Leg // the wall's channel at the far end of the short courses
	if b.Fill.Hand != job.Right {
		other = b.Ends[1].Leg
	}
	l, err := f.length(short)
	if err != nil || l < max(f.kit.Board.LeastStub, fd.Leg+other) || below <= fd.On {
		f.find(finding.FeederWidth, finding.Error, b.Name,
			fmt.Sprintf("a feeder %s wide on %d courses leaves no room for short courses in a bay %s wide with its grille on %d", f.show(fd.Width), fd.On, f.show(out.Clear), below), phrase.Of("way.wider-bay"), phrase.Of("way.another-feeder"), phrase.Of("way.more-below-grille"))
		f.say("found.feeder-room", size("width", fd.Width), size("clear", out.Clear))
		return
	}
	g, made := f.pickGrille(i, short, true)
	if g == nil {
		return
	}
	r := &f.lay.Runs[b.Run]
	clamp := f.clampOf(r)
	mid := &band{after: below, height: g.Height - g.Lower - g.Upper}
	if above == 0 {
		above = max(f.fullCourses(r.Zone, mid, clamp)-below, 1)
	}
	p := f.stack(r.Zone, below+above, mid, clamp)
	fit := f.placeFeeder(i, fd, short, l, below, p)
	f.feederCourses(i, fit, g, made, p, below, short)
	f.settle(i, p, clamp, fmt.Sprintf("%d + grille + %d courses", below, above), phrase.Of("rule.courses-grille", count("below", below), count("above", above)))
}

func (f *fitter) pickFeeder(i int) *kit.Feeder {
	b := &f.lay.Bays[i]
	if b.Fill.Feeder != "" {
		if fd := f.kit.Feeder(b.Fill.Feeder); fd != nil {
			return fd
		}
		f.find(finding.FeederWidth, finding.Error, b.Name, fmt.Sprintf("the kit %s has no feeder %q", f.kit.Kit, b.Fill.Feeder), phrase.Of("way.name-feeder"))
		f.say("found.no-such-feeder", called("kit", f.kit.Kit), called("feeder", b.Fill.Feeder))
		return nil
	}
	if len(f.kit.Feeders) == 0 {
		f.find(finding.FeederWidth, finding.Error, b.Name, "the kit "+f.kit.Kit+" makes no feeders", phrase.Of("way.another-fill"), phrase.Of("way.another-kit"))
		f.say("found.no-feeders", called("kit", f.kit.Kit))
		return nil
	}
	return &f.kit.Feeders[0]
}

// placeFeeder sets the feeder on its course and compares its top with the
// grille's.
func (f *fitter) placeFeeder(i int, fd *kit.Feeder, short, l measure.Length, below int, p plan) *FeederFit {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	fit := &FeederFit{
		Feeder: fd, Left: b.Fill.Hand != job.Right, Short: l, Shorts: below - fd.On,
		Z: measure.Length(fd.On) * f.board.Coverage, Hold: min(fd.Leg, b.Ends[0].Leg, b.Ends[1].Leg) - (short - l),
	}
	if !fit.Left {
		fit.X = short
	}
	fit.Top = fit.Z + fd.Height
	fit.Level = fit.Top - p.z[below]
	if fit.Level.Abs() > levelWithin {
		way, do := "above", phrase.Of("way.lower-feeder")
		if fit.Level < 0 {
			way, do = "below", phrase.Of("way.pack-feeder")
		}
		f.find(finding.FeederHeight, finding.Warning, b.Name,
			fmt.Sprintf("with boards of %s coverage the feeder's top comes %s %s the grille's", f.show(f.board.Coverage), f.show(fit.Level.Abs()), way), do)
		f.say(map[bool]string{true: "found.feeder-below", false: "found.feeder-above"}[fit.Level < 0], size("by", fit.Level.Abs()))
	}
	f.holds(i, "beside the feeder", l, fit.Hold)
	out.Feeder = fit
	return fit
}

// feederCourses adds full, short and closing courses, the grille and the
// feeder, from the bottom up.
func (f *fitter) feederCourses(i int, fit *FeederFit, g *kit.Grille, made measure.Length, p plan, below int, short measure.Length) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	fd := fit.Feeder
	why := f.whyLength(out.Board, out.WhyClear)
	whyShort := f.whyLength(fit.Short, reason.Of(phrase.Of("why.clear-beside-feeder"), phrase.Length(short), phrase.Of("rule.less-feeder"), f.kitSource("feeders "+fd.ID+".width", fd.Of("width").Line), out.WhyClear))
	x := (short - fit.Short) / 2
	start := measure.Length(0)
	if fit.Left {
		start = fd.Width
	}
	for k, z := range p.z {
		switch {
		case k < fd.On:
			f.course(i, "full", z, f.board.Coverage, why)
		case k < below:
			f.courseAt(i, "short", z, f.board.Coverage, []segment{{x: start + x, length: fit.Short, why: whyShort}})
		default:
			if k == below {
				f.setGrille(i, g, made, start, short, p.z[below-1])
			}
			f.course(i, "closing", z, f.board.Coverage, why)
		}
	}
	f.close(i, p, why)
	fit.Piece = f.add(Piece{
		Label: b.Name + "/feeder", Kind: Feeder, Item: fd.ID, Run: b.Run, Bay: i, Length: fd.Width, Height: fd.Height, X: fit.X, Z: fit.Z, State: out.State,
		Why: reason.Of(phrase.Of("why.feeder-in", phrase.With("bay", phrase.Name(b.Name))), phrase.Of("amount.by", size("width", fd.Width), size("height", fd.Height)), phrase.Of("rule.feeder", phrase.With("on", phrase.Count(fd.On)), phrase.With("short", phrase.Count(fit.Shorts))), f.kitSource("feeders "+fd.ID, fd.Pos().Line), f.coverage),
	})
}
