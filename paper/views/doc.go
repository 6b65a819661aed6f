// Package views draws a plan's structures: the plan view of each, and an
// elevation of each wall seen from its front, on sheets of a job's paper size.
//
// In comes a *plan.Plan; out go sheets to print. Everything drawn stands where
// frame and fit put it: nothing is fitted here again, so that the board on the
// drawing is the board on the list. What always holds of the sheets returned:
//
//   - they are true to the scale written on them, and no two texts overlap;
//   - every bay of the job has its name on an elevation, or, where nothing
//     fills its wall, on the plan;
//   - a sheet that shows a bay nobody has measured says so in its title block;
//   - their names are different, and safe as file names everywhere;
//   - the same plan gives the same sheets.
package views

import (
	"fmt"

	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// Options say how sheets are made. The zero Options are what most want.
type Options struct {
	Paper draw.PaperSize // zero: Letter for jobs in feet, A4 for metric ones
	First int            // number of the first sheet; 0 counts as 1
	Of    int            // sheets in the whole set; 0: those returned, and those before First
	Words *words.Words   // language of the sheets; nil: English
}

// words are those to use for people whose tapes are marked in units.
func (o Options) words(units measure.System) (*words.Words, error) {
	if o.Words != nil {
		return o.Words, nil
	}
	return words.For(words.English, units)
}

// paper is the paper size to use.
func (o Options) paper(sys measure.System) draw.PaperSize {
	switch {
	case o.Paper.Width > 0:
		return o.Paper
	case sys == measure.Metric:
		return draw.A4
	}
	return draw.Letter
}

// Sheet is one finished sheet.
type Sheet struct {
	Name  string // safe as a file name, without extension; no two are alike
	Title string
	*draw.Sheet
}

// Plan draws the plan view of each structure on one or more sheets. The error
// names the sheet that cannot be laid out and what would help.
func Plan(p *plan.Plan, o Options) ([]Sheet, error) { return lay(p, o, (*tables).planSheets) }

// Elevations draws every wall that holds anything, seen from its front, from
// left to right. Walls of one run that are alike in everything share a sheet
// that names them all, as do a pen's sections.
func Elevations(p *plan.Plan, o Options) ([]Sheet, error) {
	return lay(p, o, (*tables).elevationSheets)
}

// All draws plans, elevations and what is set out, numbered as one set.
func All(p *plan.Plan, o Options) ([]Sheet, error) {
	return lay(p, o, (*tables).planSheets, (*tables).elevationSheets, (*tables).setoutSheets)
}

// sheetError says which sheet an error belongs to.
func sheetError(title string, err error) error { return fmt.Errorf("sheet %q: %w", title, err) }
