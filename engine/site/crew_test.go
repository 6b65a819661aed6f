package site_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/site"
)

// standing is where posts really stand, in inches, and how a crew reads between
// them. It knows nothing of the engine's geometry.
type standing struct {
	at  map[string][2]float64
	rng *rand.Rand
}

// stand puts a layout's timber posts up to a few inches from where they are drawn.
func stand(l *frame.Layout, rng *rand.Rand, sigma float64) standing {
	st := standing{map[string][2]float64{}, rng}
	for i := range l.Posts {
		if p := &l.Posts[i]; p.Kind == frame.Timber {
			st.at[p.Name] = [2]float64{p.At.X.Inches() + sigma*rng.NormFloat64(), p.At.Y.Inches() + sigma*rng.NormFloat64()}
		}
	}
	return st
}

// tape is what the tape of a task shows, in inches: from the hook on the one 5 1/2
// in post to the hook on the other.
func (st standing) tape(task *site.Task) float64 {
	p, q := st.at[task.Posts[0]], st.at[task.Posts[1]]
	const half = 5.5 / 2
	dx, dy := q[0]-p[0], q[1]-p[1]
	hx, hy := math.Copysign(half, dx), math.Copysign(half, dy)
	if task.Kind == site.TaskDistance {
		if math.Abs(dx) > math.Abs(dy) {
			hy = 0
		} else {
			hx = 0
		}
	}
	switch task.Between {
	case job.BetweenAxes:
		hx, hy = 0, 0
	case job.BetweenOuter:
		hx, hy = -hx, -hy
	}
	return math.Hypot(dx-2*hx, dy-2*hy)
}

// read is the same as a crew writes it: with the tape's error, 1/16 in and one part
// in 5,000, on the nearest 1/16 in.
func (st standing) read(task *site.Task) measure.Length {
	v := st.tape(task)
	v += (1.0/16 + v/5000) * st.rng.NormFloat64()
	return measure.Length(math.Round(v*16)) * measure.SixteenthInch
}

// readAll reads every task.
func (st standing) readAll(tasks []site.Task) []measure.Length {
	out := make([]measure.Length, len(tasks))
	for i := range tasks {
		out[i] = st.read(&tasks[i])
	}
	return out
}

// written are the readings as lines of a job.
func written(tasks []site.Task, values []measure.Length) string {
	var b strings.Builder
	b.WriteString("readings:\n")
	for i, v := range values {
		t := &tasks[i]
		fmt.Fprintf(&b, "  - {%s: [%s, %s], is: %s, between: %s, by: Sam}\n", t.Kind, t.Posts[0], t.Posts[1], v, t.Between)
	}
	return b.String()
}

// tapeTasks are the distances and diagonals of a job's sheet.
func tapeTasks(t testing.TB, src string) ([]site.Task, *frame.Layout) {
	t.Helper()
	s, l := adjust(t, src)
	var out []site.Task
	for _, task := range site.NewSheet(s, l).Tasks {
		if task.Kind == site.TaskDistance || task.Kind == site.TaskDiagonal {
			out = append(out, task)
		}
	}
	return out, l
}

// called is how a finding begins that names the reading of a task.
func called(task *site.Task) string {
	name := fmt.Sprintf("%s %s–%s", task.Kind, task.Posts[0], task.Posts[1])
	switch {
	case task.Between == job.BetweenOuter && task.Kind == site.TaskDiagonal:
		name += " over the outer corners"
	case task.Between == job.BetweenOuter:
		name += " over the outer faces"
	}
	return strings.ToUpper(name[:1]) + name[1:] + " disagrees"
}
