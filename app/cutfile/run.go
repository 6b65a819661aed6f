package cutfile

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
)

// Exit codes of Run.
const (
	Done       = 0 // a plan was written, proven or not
	Failed     = 1 // no plan within the budget, or the output could not be written
	BadInput   = 2 // every fault is on standard error with file, line and column
	Infeasible = 3 // no plan exists; the piece is named
)

// Args is what a run needs. Lengths are texts as people type them.
type Args struct {
	PiecesName, StockName string    // for messages
	Pieces, Stock         io.Reader // CSV
	Kerf, Trim, Keep      string    // blank means none
	Unit                  string    // of numbers without one; blank means they are refused
	Budget                int64     // work, zero for the default
	JSON                  bool
}

// Run reads, plans and writes, and returns the exit code. Standard output gets
// a whole plan or nothing.
func Run(ctx context.Context, a Args, stdout, stderr io.Writer) int {
	bad := func(format string, x ...any) int {
		fmt.Fprintf(stderr, format+"\n", x...)
		return BadInput
	}
	bare := measure.NoUnit
	if a.Unit != "" {
		u, err := measure.ParseUnit(a.Unit)
		if err != nil {
			return bad("--unit: %v", err)
		}
		bare = u
	}
	p := cut.Problem{}
	for _, f := range []struct {
		name, text string
		to         *measure.Length
	}{{"--kerf", a.Kerf, &p.Saw.Kerf}, {"--trim", a.Trim, &p.Saw.Trim}, {"--keep", a.Keep, &p.Saw.Keep}} {
		if f.text == "" {
			continue
		}
		l, err := measure.ParseLength(f.text, bare)
		if err != nil {
			return bad("%s: %v", f.name, err)
		}
		if l < 0 {
			return bad("%s: %s is below zero", f.name, f.text)
		}
		*f.to = l
	}
	if a.Budget < 0 {
		return bad("--budget: %d is below zero", a.Budget)
	}
	var pieces, stock *table
	p.Demands, pieces = readPieces(a.PiecesName, a.Pieces, bare)
	p.Stock, stock = readStock(a.StockName, a.Stock, bare)
	faults := append(append([]Fault(nil), pieces.faults...), stock.faults...)
	if len(faults) == 0 {
		for _, f := range p.Check() {
			faults = append(faults, locate(f, pieces, stock))
		}
	}
	if len(faults) > 0 {
		sortFaults(faults)
		for _, f := range faults {
			fmt.Fprintln(stderr, f)
		}
		return BadInput
	}
	plan, err := cut.Solve(ctx, p, cut.Options{Budget: a.Budget})
	var inf *cut.Infeasible
	switch {
	case errors.As(err, &inf):
		at := pieces.places[inf.Demand]
		fmt.Fprintf(stderr, "%s:%d:%d: %v\n", a.PiecesName, at.line, max(1, at.column["length"]), err)
		return Infeasible
	case err != nil:
		fmt.Fprintln(stderr, err)
		return Failed
	}
	sys := system(&p, bare)
	if a.JSON {
		e := json.NewEncoder(stdout)
		e.SetIndent("", "  ")
		e.SetEscapeHTML(false)
		err = e.Encode(document(&p, &plan, sys))
	} else {
		err = writeTable(stdout, &p, &plan, sys)
	}
	if err != nil {
		fmt.Fprintln(stderr, "the plan could not be written:", err)
		return Failed
	}
	return Done
}

// system is how to write lengths: as the unit says, else metric if every length
// is whole in tenths of a millimetre and not in 64ths of an inch.
func system(p *cut.Problem, bare measure.Unit) measure.System {
	if bare != measure.NoUnit {
		return bare.System()
	}
	const sixtyFourth = measure.Inch / 64
	for _, d := range p.Demands {
		if d.Length%sixtyFourth != 0 {
			return measure.Metric
		}
	}
	return measure.FeetInches
}
