package book

import (
	"fmt"
	"runtime"
	"sync"

	"stallwright/engine/build"
	"stallwright/paper/draw"
	"stallwright/paper/page"
	"stallwright/paper/steps"
)

// How high a step's picture is at most, under half a page, so that what is to be
// done stands under it on the same page, and at least.
const (
	pictureMost  = 105 * draw.MM
	pictureLeast = 56 * draw.MM
)

// pictureLanes is how many rows of pictures are drawn side by side. It does not
// depend on the machine: how a run's steps are looked at hangs together.
const pictureLanes = 8

// stepGroup is steps that share a page.
type stepGroup struct {
	index   []int // into Build.Steps
	steps   []*build.Step
	repeats []*repeat  // what is the same at several places; none for a single step
	high    steps.High // of their picture
}

// manyAlike is from how many operations on a step that does one thing at each of
// several places says it once.
const manyAlike = 3

// stepGroups puts together the steps that share a page.
func (b *binder) stepGroups(d *steps.Drawer) []stepGroup {
	var out []stepGroup
	for _, index := range d.Alike() {
		g := stepGroup{index: index}
		for _, i := range index {
			g.steps = append(g.steps, &b.Build.Steps[i])
		}
		round := b.oneThing(g.steps[0])
		if len(index) > 1 || round {
			g.repeats = b.repeats(g.steps, round || steps.Round(b.Build, g.steps[0]))
		}
		if len(index) == 2 && !steps.Round(b.Build, g.steps[0]) && len(g.repeats[0].letters) > mostLetters {
			out = append(out, b.alone(d, index[0]), b.alone(d, index[1]))
			continue
		}
		if d.Shows(index[0]) {
			g.high = b.pictureHigh(&g)
		}
		out = append(out, g)
	}
	return out
}

// mostLetters is how many letters a text may hold that only two places share: one
// with more is harder to follow than two pages.
const mostLetters = 5

// alone is a step with a page of its own.
func (b *binder) alone(d *steps.Drawer, index int) stepGroup {
	g := stepGroup{index: []int{index}, steps: []*build.Step{&b.Build.Steps[index]}}
	if b.oneThing(g.steps[0]) {
		g.repeats = b.repeats(g.steps, true)
	}
	if d.Shows(index) {
		g.high = b.pictureHigh(&g)
	}
	return g
}

// pictureHigh is how high a group's picture should be: as high as the page has room
// for beside what is said, or as half a page has where that is enough.
func (b *binder) pictureHigh(g *stepGroup) steps.High {
	f := page.New(b.format)
	l := &stepPage{binder: b, f: f, steps: g.steps, repeats: g.repeats, picture: &draw.Sheet{}}
	l.set(page.Body)
	l.fill()
	if f.Page() > 0 {
		return steps.High{}
	}
	text := f.Tall() - f.Left()
	const white = 12 * draw.MM // before the second step of a page, and round a picture
	if half := f.Tall()/2 - white - text; half >= pictureLeast {
		return steps.High{Wanted: min(half, pictureMost), Coarsest: 45}
	}
	if whole := f.Tall() - white/2 - text; whole >= pictureLeast {
		return steps.High{Wanted: min(whole, pictureMost), Coarsest: 60}
	}
	return steps.High{}
}

// oneThing says whether a step does one and the same thing at several places.
func (b *binder) oneThing(s *build.Step) bool {
	if len(s.Ops) < manyAlike {
		return false
	}
	shapes := map[string]bool{}
	for _, k := range s.Ops {
		shapes[shapeOf(&b.Build.Operations[k])] = true
	}
	return len(shapes)*manyAlike <= len(s.Ops)
}

// pictures draws one picture for each group of steps, as wide as text runs; nil for
// steps with nothing to show. Steps at one run are drawn in order, so that they are
// looked at from one side.
func (b *binder) pictures(f *page.Flow) ([]stepGroup, []*draw.Sheet, error) {
	first := steps.New(b.Plan, b.words, steps.Options{Width: f.Width(), Height: pictureMost})
	groups := b.stepGroups(first)
	out, errs := make([]*draw.Sheet, len(groups)), make([]error, pictureLanes)
	var lanes [pictureLanes][]int
	for i, g := range groups {
		k := (b.runOf(g.steps[0]) + 1) % pictureLanes
		lanes[k] = append(lanes[k], i)
	}
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), pictureLanes) {
		wait.Go(func() {
			for k := range next {
				d := first.Beside()
				for _, i := range lanes[k] {
					if out[i], errs[k] = d.Shared(groups[i].index, groups[i].called(), groups[i].high); errs[k] != nil {
						errs[k] = fmt.Errorf("step %d: %w", groups[i].steps[0].No, errs[k])
						break
					}
				}
			}
		})
	}
	for k := range lanes {
		next <- k
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, nil, err
		}
	}
	return groups, out, nil
}

// called is how a picture names places; nil where it leaves their names.
func (g *stepGroup) called() func(string) string {
	if len(g.index) == 1 || len(g.repeats) == 0 {
		return nil
	}
	return g.repeats[0].called
}

// runOf is the run that a step is about, as far as its place and its pieces say;
// -1 for none.
func (b *binder) runOf(s *build.Step) int {
	if s.Place.Run >= 0 {
		return s.Place.Run
	}
	run := -1
	for _, p := range s.Adds {
		r := b.Fit.Pieces[p].Run
		if run >= 0 && r != run {
			return -1
		}
		run = r
	}
	return run
}
