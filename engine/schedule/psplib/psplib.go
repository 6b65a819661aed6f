// Package psplib reads the single-mode instances of the project scheduling
// problem library (Kolisch & Sprecher 1997) for tests and benchmarks. In comes
// the text of an .sm file; out comes a schedule.Project on a clock that never
// stops, a period being a minute.
package psplib

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"stallwright/engine/schedule"
)

// Read reads one instance. The error names the line.
func Read(r io.Reader) (*schedule.Project, error) {
	p := &schedule.Project{}
	part := ""
	scan := bufio.NewScanner(r)
	for line := 1; scan.Scan(); line++ {
		text := scan.Text()
		switch {
		case strings.HasPrefix(text, "PRECEDENCE"), strings.HasPrefix(text, "REQUESTS"), strings.HasPrefix(text, "RESOURCEAVAIL"):
			part = text[:3]
			continue
		}
		f, numbers := fields(text)
		if !numbers {
			continue
		}
		var err error
		switch part {
		case "PRE":
			err = precedence(p, f)
		case "REQ":
			err = request(p, f)
		case "RES":
			for i, c := range f {
				p.Resources = append(p.Resources, schedule.Resource{Name: fmt.Sprint("R", i+1), Capacity: c})
			}
			part = ""
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", line, err)
		}
	}
	return p, scan.Err()
}

// fields reads a line of whole numbers.
func fields(text string) ([]int64, bool) {
	var out []int64
	for _, w := range strings.Fields(text) {
		v, err := strconv.ParseInt(w, 10, 64)
		if err != nil {
			return nil, false
		}
		out = append(out, v)
	}
	return out, len(out) > 0
}

// job is the activity of a number that counts from 1, made if it is not there.
func job(p *schedule.Project, n int64) (*schedule.Activity, error) {
	if n < 1 || n > 10_000 {
		return nil, fmt.Errorf("job %d; they count from 1", n)
	}
	for int64(len(p.Activities)) < n {
		p.Activities = append(p.Activities, schedule.Activity{ID: fmt.Sprint(len(p.Activities) + 1)})
	}
	return &p.Activities[n-1], nil
}

func precedence(p *schedule.Project, f []int64) error {
	if len(f) < 3 || int64(len(f)) != 3+f[2] || f[1] != 1 {
		return fmt.Errorf("want job, 1 mode, number of successors and as many successors")
	}
	if _, err := job(p, f[0]); err != nil {
		return err
	}
	for _, n := range f[3:] {
		a, err := job(p, n)
		if err != nil {
			return err
		}
		a.After = append(a.After, schedule.Link{Activity: int(f[0] - 1)})
	}
	return nil
}

func request(p *schedule.Project, f []int64) error {
	if len(f) < 3 {
		return fmt.Errorf("want job, mode, duration and amounts")
	}
	a, err := job(p, f[0])
	if err != nil {
		return err
	}
	a.Minutes = f[2]
	for r, u := range f[3:] {
		if u > 0 {
			a.Uses = append(a.Uses, schedule.Use{Resource: r, Amount: u})
		}
	}
	return nil
}
