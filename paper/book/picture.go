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

// pictureHigh is how high a step's picture is at most: under half a page, so that
// what is to be done stands under it on the same page.
const pictureHigh = 105 * draw.MM

// pictureGroups is how many groups of steps are drawn side by side. It does not
// depend on the machine: how a group's steps are looked at hangs together.
const pictureGroups = 8

// pictures draws every step, as wide as text runs; nil for a step with nothing to
// show. Steps at one run are in one group and are drawn in order, so that they are
// looked at from one side.
func (b *binder) pictures(f *page.Flow) ([]*draw.Sheet, error) {
	out, errs := make([]*draw.Sheet, len(b.Build.Steps)), make([]error, pictureGroups)
	first := steps.New(b.Plan, b.words, steps.Options{Width: f.Width(), Height: pictureHigh})
	var groups [pictureGroups][]int
	for i := range b.Build.Steps {
		g := (b.runOf(&b.Build.Steps[i]) + 1) % pictureGroups
		groups[g] = append(groups[g], i)
	}
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), pictureGroups) {
		wait.Go(func() {
			for g := range next {
				d := first.Beside()
				for _, i := range groups[g] {
					if out[i], errs[g] = d.Picture(i); errs[g] != nil {
						errs[g] = fmt.Errorf("step %d: %w", b.Build.Steps[i].No, errs[g])
						break
					}
				}
			}
		})
	}
	for g := range groups {
		next <- g
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
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
