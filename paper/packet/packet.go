// Package packet turns a plan into the files that leave the computer: the plan
// as data (plan.json), a summary to read, lists for spreadsheets, and drawings.
// In goes a finished plan; out come files in memory, all of them or an error.
// The same plan gives the same bytes.
package packet

import (
	"context"

	"stallwright/engine/build"
	"stallwright/engine/plan"
	"stallwright/paper/views"
	"stallwright/paper/words"
)

// File is one file of a packet. Name uses / between folders.
type File struct {
	Name string
	Data []byte
}

// Options say how a packet is made. The zero Options are what most want.
type Options struct {
	Paper string       // letter or a4; the usual one of the job's units where left out
	Words *words.Words // language of what a crew reads; nil: English
	// Sheets are the drawings, where they were laid out already on the same paper
	// and in the same words; nil: they are laid out here.
	Sheets []views.Sheet
	// Days is the work that is left in time, where that was worked out already;
	// nil: it is worked out here.
	Days *build.Days
}

// Files makes every file of a plan's packet. Data for other programs, plan.json
// and the headers and codes of CSV files, is the same in every language.
func Files(p *plan.Plan, o Options) ([]File, error) {
	data, err := JSON(p)
	if err != nil {
		return nil, err
	}
	w := o.Words
	if w == nil {
		if w, err = words.For(words.English, p.Job.Units); err != nil {
			return nil, err
		}
	}
	files := []File{
		{"plan.json", data},
		{"summary.txt", Summary(p, w)},
		{"setout.txt", Setout(p, w)},
		{"steps.txt", Steps(p, w, false)},
	}
	lists, err := lists(p, w)
	if err != nil {
		return nil, err
	}
	files = append(files, lists...)
	drawings, err := drawings(p, o, w)
	if err != nil {
		return nil, err
	}
	files = append(files, drawings...)
	exchange, err := exchange(p, w)
	if err != nil {
		return nil, err
	}
	files = append(files, exchange...)
	days := o.Days
	if days == nil {
		if days, err = p.Days(context.Background(), 0); err != nil {
			return nil, err
		}
	}
	crewDays, err := CrewDays(p, days, w)
	if err != nil {
		return nil, err
	}
	if crewDays != nil {
		files = append(files, File{CrewDaysName, crewDays})
	}
	return files, nil
}
