package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"

	"stallwright/engine/cut/instances"
	"stallwright/engine/cut/search"
)

// mostPatterns is the size beyond which a model is not written out: the
// general-purpose solvers would spend minutes on reading it.
const mostPatterns = 20_000

// solvers are the general-purpose solvers and how to read their answers.
var solvers = []struct {
	name   string
	args   func(model, answer string, seconds int) []string
	answer *regexp.Regexp // the proven optimum
	proof  *regexp.Regexp
}{
	{"glpsol", func(m, a string, s int) []string { return []string{"--lp", m, "-o", a, "--tmlim", strconv.Itoa(s)} },
		regexp.MustCompile(`(?m)^Objective: +\S+ = (\S+)`), regexp.MustCompile(`(?m)^Status: +INTEGER OPTIMAL`)},
	{"cbc", func(m, a string, s int) []string {
		return []string{m, "ratio", "0", "allow", "0", "sec", strconv.Itoa(s), "solve", "solution", a}
	}, regexp.MustCompile(`^Optimal - objective value (\S+)`), regexp.MustCompile(`^Optimal - `)},
}

// against solves the same instances here and by the general-purpose solvers on
// the pattern model, one after the other on the same machine, and compares
// optima and times: processor time, theirs of the whole process. A run that does
// not end within the limit counts as the limit, which flatters the solver.
func against(list []instances.Named, seconds int) error {
	dir, err := os.MkdirTemp("", "cutmodel")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	type tally struct {
		logs         float64
		n, over, bad int
	}
	sums := make([]tally, len(solvers))
	large, written := 0, 0
	for _, x := range list {
		path := filepath.Join(dir, "model.lp")
		f, err := os.Create(path)
		if err != nil {
			return err
		}
		err = writeModel(f, &x.Instance, mostPatterns)
		if cerr := f.Close(); err == nil {
			err = cerr
		}
		if errors.Is(err, errTooMany) {
			large++
			continue
		}
		if err != nil {
			return err
		}
		written++
		start := processorTime()
		r := search.Solve(context.Background(), &x.Instance, search.Options{})
		ours := max(1e-6, (processorTime() - start).Seconds())
		line := fmt.Sprintf("%-12s m=%-3d cost %d proven %v %.4fs", x.Name, len(x.Len), r.Cost, r.Proven, ours)
		for k, s := range solvers {
			cost, done, took, err := runSolver(dir, path, k, seconds)
			if err != nil {
				return fmt.Errorf("%s: %w", s.name, err)
			}
			t := &sums[k]
			t.n++
			t.logs += math.Log(took / ours)
			switch {
			case !done:
				t.over++
				line += fmt.Sprintf("; %s over %.0fs", s.name, took)
			case math.Abs(cost-float64(r.Cost)) > 0.5:
				t.bad++
				line += fmt.Sprintf("; %s COST %.2f in %.3fs", s.name, cost, took)
			default:
				line += fmt.Sprintf("; %s same in %.3fs", s.name, took)
			}
		}
		fmt.Println(line)
	}
	fmt.Printf("%d instances written out, %d have more than %d patterns\n", written, large, mostPatterns)
	for k, s := range solvers {
		if t := sums[k]; t.n > 0 {
			fmt.Printf("%-7s %d runs, %d same optimum, %d other, %d over the limit; time ratio %.1f (geometric mean)\n",
				s.name, t.n, t.n-t.bad-t.over, t.bad, t.over, math.Exp(t.logs/float64(t.n)))
		}
	}
	return nil
}

// runSolver runs one solver on a model.
func runSolver(dir, model string, k, seconds int) (cost float64, done bool, took float64, err error) {
	answer := filepath.Join(dir, "answer.txt")
	os.Remove(answer)
	s := solvers[k]
	run := exec.Command(s.name, s.args(model, answer, seconds)...)
	if out, err := run.CombinedOutput(); err != nil {
		return 0, false, 0, fmt.Errorf("%w: %.300s", err, out)
	}
	took = (run.ProcessState.UserTime() + run.ProcessState.SystemTime()).Seconds()
	text, err := os.ReadFile(answer)
	if err != nil {
		return 0, false, took, nil // nothing found in time
	}
	m := s.answer.FindSubmatch(text)
	if m == nil || !s.proof.Match(text) {
		return 0, false, took, nil
	}
	cost, err = strconv.ParseFloat(string(m[1]), 64)
	return cost, true, took, err
}
