package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"stallwright/app/notebook"
	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/engine/yard"
)

// readText reads a text a person wrote, and no more of it than the reader
// accepts; a longer one is refused there with its size.
func readText(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, usageError{fmt.Errorf("there is no file %s", path)}
		}
		return nil, err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, usageError{fmt.Errorf("%s is a folder; name a job file in it", path)}
	}
	return io.ReadAll(io.LimitReader(f, document.MaxBytes+1))
}

// readJob reads a job, the kit and the yard's list it names.
func readJob(path string) (*job.Job, *kit.Kit, error) { return readJobFrom(path, "") }

// readJobFrom is readJob with boards from another yard's list than the job's, unless
// its path is blank.
func readJobFrom(path, yardFile string) (*job.Job, *kit.Kit, error) {
	src, err := readText(path)
	if err != nil {
		return nil, nil, err
	}
	j, err := job.Read(path, src)
	if err != nil {
		return nil, nil, err
	}
	k, err := readKit(j, filepath.Dir(path))
	if err != nil {
		return nil, nil, err
	}
	file, text := yardFile, []byte(nil)
	switch {
	case yardFile != "":
		text, err = readText(yardFile)
	case j.Lumber.Yard != "":
		file, text, err = readBeside(j, path, j.Lumber.Yard, j.Lumber.Of("yard"), "lumber.yard")
	default:
		return j, k, nil
	}
	if err != nil {
		return nil, nil, err
	}
	y, err := yard.Read(file, text)
	if err != nil {
		return nil, nil, err
	}
	j, err = yard.Supply(j, y)
	return j, k, err
}

// readBeside reads a file that a job names by a path from its own folder. What is
// wrong with the name is told at its place in the job.
func readBeside(j *job.Job, jobPath, named string, at document.Pos, key string) (path string, src []byte, err error) {
	path = named
	if !filepath.IsAbs(path) {
		path = filepath.Join(filepath.Dir(jobPath), path)
	}
	src, err = readText(path)
	var usage usageError
	if errors.As(err, &usage) {
		r := j.Reporter()
		r.Add(at, key, named, err.Error(), "a path from the job's own folder")
		err = r.Err()
	}
	return path, src, err
}

// readKit finds a job's kit: a shipped one by name, or a file beside the job.
func readKit(j *job.Job, dir string) (*kit.Kit, error) {
	if file, src, ok := kit.Shipped(j.Kit); ok {
		return kit.Read(file, src)
	}
	if !strings.ContainsAny(j.Kit, `./\`) {
		r := j.Reporter()
		names := kit.ShippedNames()
		hint := "shipped: " + strings.Join(names, ", ") + "; or a path to a kit file, as ./our-kit.yaml"
		if near, ok := document.Nearest(j.Kit, names); ok {
			hint = "did you mean " + near + "? " + hint
		}
		r.Add(j.Of("kit"), "kit", j.Kit, fmt.Sprintf("no kit %q ships with the program", j.Kit), hint)
		return nil, r.Err()
	}
	path, src, err := readBeside(j, filepath.Join(dir, "job"), j.Kit, j.Of("kit"), "kit")
	if err != nil {
		return nil, err
	}
	return kit.Read(path, src)
}

// makePlan reads a job, its kit and the notebook beside it, and works it through.
// What was read of a notebook is said on tell.
func makePlan(path string, tell ...io.Writer) (*plan.Plan, error) {
	return makePlanWith(path, planFrom{}, tell...)
}

// planFrom is what a plan is made from besides the job and its notebook.
type planFrom struct {
	after string // an earlier plan, its folder or plan.json, that told the saw; blank: none
	yard  string // a yard's list in place of the job's; blank: the job's
}

// makePlanWith is makePlan with more than the job itself names.
func makePlanWith(path string, from planFrom, tell ...io.Writer) (*plan.Plan, error) {
	j, k, err := readJobFrom(path, from.yard)
	if err != nil {
		return nil, err
	}
	if from.after != "" {
		told, err := readTold(from.after)
		if err != nil {
			return nil, err
		}
		j.Tell(told)
	}
	book, err := notebook.Open(notebook.Path(path))
	if err != nil {
		return nil, err
	}
	for _, w := range tell {
		sayBook(w, notebook.Path(path), book)
	}
	return plan.MakeWith(j, k, book.Entries)
}

// sayBook says what was read of a notebook, and what of it does not count.
func sayBook(w io.Writer, path string, b notebook.Book) {
	if len(b.Entries) > 0 {
		fmt.Fprintf(w, "With %d entries of the notebook %s.\n", len(b.Entries), filepath.ToSlash(path))
	}
	for _, d := range b.Damaged {
		fmt.Fprintf(w, "%s: %s\n", filepath.ToSlash(path), d)
	}
}
