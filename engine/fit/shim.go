package fit

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// Shim is what goes behind a channel at one of its lags.
type Shim struct {
	Z     measure.Length // of the lag, above the datum
	Thick measure.Length
}

// Cost is what one way to deal with a taper takes in boards and labour.
type Cost struct {
	Lengths  int      // distinct lengths of boards from web to web
	Boards   []Bought // boards bought for them
	Settings int      // of the saw's stop beyond the first
	Shims    int
	Minutes  int    // of one person's work beyond a parallel bay's
	Source   string // of the minutes
}

// Bought is boards of one length that the yard sells.
type Bought struct {
	Length measure.Length
	Count  int
}

// fewLags is how many lags hold a channel where the kit does not say (common
// practice, no published source).
const fewLags = 3

// lags is how many lag screws hold each channel of a bay's run, by the kit's rule.
func (f *fitter) lags(i int) int {
	b := &f.lay.Bays[i]
	facts := f.lay.Facts(b.Run)
	facts.Board, facts.Web, facts.Courses = f.board.Thickness, f.lay.Runs[b.Run].Channel.Web, len(f.out.Bays[i].Courses)
	n := 0
	for k := range f.kit.Joints {
		rule := &f.kit.Joints[k]
		if fa := f.kit.Fastener(rule.Use); rule.At != kit.JointChannel || fa == nil || fa.Kind != kit.LagScrew {
			continue
		}
		if ok, err := rule.When.Holds(&facts); err != nil || !ok {
			continue
		}
		if count, err := rule.Count.Count(&facts); err == nil {
			n += count
		}
	}
	if n == 0 || n > mostLags {
		return fewLags
	}
	return n
}

// mostLags is more than any channel takes; beyond it the kit's rule is wrong, which
// the take-off tells.
const mostLags = 100

// shims are what makes a bay parallel, behind one channel: at each of its lags what
// the bay is wider than at its narrowest, down to the mark, so that no board is
// pinched. Lags stand evenly over the board zone, half a step from its ends.
func (f *fitter) shims(i int, t *TaperFit) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	r := &f.lay.Runs[b.Run]
	if r.Channel == nil {
		return
	}
	t.Right = true
	if l := f.leaning(i); l != nil {
		t.Right = l.along[1].Abs() >= l.along[0].Abs() // the post that leans more
	}
	n := measure.Length(f.lags(i))
	for k := range n {
		z := (r.Zone * (2*k + 1) / (2 * n)).Round(f.kit.Board.Mark, measure.Nearest)
		t.Shims = append(t.Shims, Shim{z, (out.profile.at(z).least - out.Clear).Round(f.kit.Board.Mark, measure.Down)})
	}
}

// costs reckons both ways in boards and labour.
func (f *fitter) costs(i int, t *TaperFit, spans []lengths) {
	shim, setting, source := f.job.Labour.Minutes()
	var cut, same []measure.Length
	for _, s := range spans {
		cut, same = append(cut, s.longest(t.Lengths)), append(same, f.out.Bays[i].Board)
	}
	t.ByCut = Cost{Lengths: len(t.Lengths), Boards: f.bought(cut), Settings: len(t.Lengths) - 1, Minutes: (len(t.Lengths) - 1) * setting, Source: source}
	t.ByShim = Cost{Lengths: 1, Boards: f.bought(same), Source: source}
	for _, s := range t.Shims {
		if s.Thick > 0 {
			t.ByShim.Shims++
		}
	}
	t.ByShim.Minutes = t.ByShim.Shims * shim
}

// bought is how many boards of which lengths give pieces, each cut from the
// shortest board sold that holds it, and each board cut to one length only: enough,
// and seldom the least. The cut plan, over all bays, finds the least.
func (f *fitter) bought(pieces []measure.Length) []Bought {
	sold := f.job.Lumber.Sold(false)
	count := map[measure.Length]int{}
	for _, l := range pieces {
		count[l]++
	}
	need := map[measure.Length]int{}
	for l, n := range count {
		k := slices.IndexFunc(sold, func(s measure.Length) bool { return s >= l })
		if k < 0 {
			continue // none is long enough: the take-off tells
		}
		saw := f.job.Sawing()
		per := max(int((sold[k] - 2*saw.Trim + saw.Kerf).DivDown(l+saw.Kerf)), 1)
		need[sold[k]] += (n + per - 1) / per
	}
	var out []Bought
	for _, s := range slices.Compact(sold) {
		if need[s] > 0 {
			out = append(out, Bought{s, need[s]})
		}
	}
	return out
}

// cutWords tells what cutting by height takes.
func (f *fitter) cutWords(t *TaperFit) string {
	c := &t.ByCut
	return fmt.Sprintf("%s, %s, %d min (%s)", f.boardWords(c.Boards), several(c.Settings, "more saw setting"), c.Minutes, c.Source)
}

// shimWords tells what shims take and where they go.
func (f *fitter) shimWords(t *TaperFit) string {
	c, side := &t.ByShim, "left"
	if t.Right {
		side = "right"
	}
	var at []string
	for _, s := range t.Shims {
		if s.Thick > 0 {
			at = append(at, fmt.Sprintf("%s at %s", f.show(s.Thick), f.show(s.Z)))
		}
	}
	return fmt.Sprintf("%s, %s behind the %s channel (%s above the datum, at its lags, which are that much longer), %d min (%s)", f.boardWords(c.Boards), several(c.Shims, "shim"), side, strings.Join(at, ", "), c.Minutes, c.Source)
}

func (f *fitter) boardWords(list []Bought) string {
	var out []string
	for _, b := range list {
		out = append(out, fmt.Sprintf("%s of %s", several(b.Count, "board"), f.show(b.Length)))
	}
	if len(out) == 0 {
		return "no board sold is long enough"
	}
	return strings.Join(out, " and ")
}

// several counts things in words.
func several(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
