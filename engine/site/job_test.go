package site_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/site"
)

const postSize = 5*measure.Inch + measure.Inch/2

// barn is the text of a barn of n stalls a row, 12 ft bays, 5 1/2 in posts.
func barn(rows string, n int, more string) string {
	aisle := ""
	if rows == "facing" {
		aisle = "      aisle: 14'\n"
	}
	return fmt.Sprintf(`job: Test barn
units: feet
kit: fernhollow
farm: {name: Test farm}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [8', 12', 16']}
structures:
  - barn-row:
      name: A
      rows: %s
      post: 5 1/2 in x 5 1/2 in
      spacing: 12'
      depth: 12'
%s      rooms: [%s]
%s`, rows, aisle, strings.TrimSuffix(strings.Repeat("stall, ", n), ", "), more)
}

var fernhollow *kit.Kit

// draw reads a job and frames it as drawn.
func draw(t testing.TB, src string) (*job.Job, *kit.Kit, *frame.Layout) {
	t.Helper()
	if fernhollow == nil {
		file, text, _ := kit.Shipped("fernhollow")
		k, err := kit.Read(file, text)
		if err != nil {
			t.Fatal(err)
		}
		fernhollow = k
	}
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	l, err := frame.Build(j, fernhollow)
	if err != nil {
		t.Fatal(err)
	}
	return j, fernhollow, l
}

func adjust(t testing.TB, src string) (*site.Site, *frame.Layout) {
	t.Helper()
	j, k, l := draw(t, src)
	return site.Adjust(j, k, l), l
}

// said is the findings of one code.
func said(s *site.Site, code finding.Code) []finding.Finding {
	var out []finding.Finding
	for _, f := range s.Findings {
		if f.Code == code {
			out = append(out, f)
		}
	}
	return out
}

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

// line is one line under readings.
func line(task *site.Task, v measure.Length) string {
	return fmt.Sprintf("  - {%s: [%s, %s], is: %s, between: %s, by: Sam}\n", task.Kind, task.Posts[0], task.Posts[1], v, task.Between)
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
