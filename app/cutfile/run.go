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
	Worth, Per            string    // money that each full length Per of a kept offcut is worth; blank for nothing
	Most                  int       // most pieces from one board; zero for any number
	AtOnce                int       // openings that may turn out longer at once; zero for a number that suits
	Unit                  string    // of numbers without one; blank means they are refused
	Budget                int64     // work, zero for the default
	JSON                  bool

	AfterName, SawnName string    // for messages
	After               io.Reader // an earlier answer in JSON whose boards are there; may be nil
	Sawn                io.Reader // CSV of the boards sawn since; may be nil
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
	if err := a.saw(&p.Saw, bare); err != nil {
		return bad("%v", err)
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
	var before *Document
	rows := make([]int, len(p.Demands))
	for i := range rows {
		rows[i] = i
	}
	if len(faults) == 0 && (a.After != nil || a.Sawn != nil) {
		before, rows, faults = a.goOn(&p, bare)
	}
	if len(faults) > 0 {
		sortFaults(faults)
		for _, f := range faults {
			fmt.Fprintln(stderr, f)
		}
		return BadInput
	}
	if a.AtOnce > 0 && before == nil && p.Openings() == 0 {
		return bad("--at-once says how many openings may turn out longer, but no piece has a tolerance; add the column to %s", a.PiecesName)
	}
	out, err := a.plan(ctx, &p, before)
	var inf *cut.Infeasible
	switch {
	case errors.As(err, &inf):
		at := pieces.places[rows[inf.Demand]]
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
		err = e.Encode(document(&p, &out, sys))
	} else {
		err = writeTable(stdout, &p, &out, sys)
	}
	if err != nil {
		fmt.Fprintln(stderr, "the plan could not be written:", err)
		return Failed
	}
	return Done
}

// saw reads the flags of the saw.
func (a *Args) saw(s *cut.Saw, bare measure.Unit) error {
	for _, f := range []struct {
		name, text string
		to         *measure.Length
	}{{"--kerf", a.Kerf, &s.Kerf}, {"--trim", a.Trim, &s.Trim}, {"--keep", a.Keep, &s.Keep}, {"--per", a.Per, &s.CreditStep}} {
		if f.text == "" {
			continue
		}
		l, err := measure.ParseLength(f.text, bare)
		if err != nil {
			return fmt.Errorf("%s: %w", f.name, err)
		}
		if l < 0 {
			return fmt.Errorf("%s: %s is below zero", f.name, f.text)
		}
		*f.to = l
	}
	if (a.Worth == "") != (a.Per == "") {
		return errors.New("--worth and --per go together: what each full length of a kept offcut is worth, as --worth 0.40 --per 1'")
	}
	if a.Worth != "" {
		m := money.FindStringSubmatch(a.Worth)
		if m == nil {
			return fmt.Errorf("--worth: %q; want an amount such as 0.40", a.Worth)
		}
		if s.Keep == 0 {
			return errors.New("--worth needs --keep, the shortest offcut worth keeping")
		}
		s.Credit = hundredths(m)
	}
	if a.Budget < 0 {
		return fmt.Errorf("--budget: %d is below zero", a.Budget)
	}
	if a.Most < 0 {
		return fmt.Errorf("--most: %d is below zero", a.Most)
	}
	if a.AtOnce < 0 {
		return fmt.Errorf("--at-once: %d is below zero", a.AtOnce)
	}
	s.MostPieces = a.Most
	return nil
}

// goOn reads what was planned before and sawn since, and takes it off.
func (a *Args) goOn(p *cut.Problem, bare measure.Unit) (before *Document, rows []int, faults []Fault) {
	if a.After != nil {
		d, f := readAfter(a.AfterName, a.After)
		if f != nil {
			return nil, nil, []Fault{*f}
		}
		before = &d
	}
	var list []sawn
	t := &table{}
	if a.Sawn != nil {
		if list, t = readSawn(a.SawnName, a.Sawn, bare); len(t.faults) > 0 {
			return nil, nil, t.faults
		}
	}
	rows = goOn(p, before, list, t)
	return before, rows, t.faults
}

// answer is a plan, what stayed of an earlier one, and the orders that survive
// the measuring.
type answer struct {
	plan   cut.Plan
	before bool // there was an earlier plan
	kept   int64
	safety *cut.Safety
}

// orderBudget is the work one order may take where the call states none.
const orderBudget = 1_000_000_000

// plan solves the problem, and where pieces may turn out longer and nothing was
// bought yet, plans orders.
func (a *Args) plan(ctx context.Context, p *cut.Problem, before *Document) (answer, error) {
	out := answer{before: before != nil}
	var told []cut.Told
	if before != nil {
		told = before.told()
	}
	var err error
	if out.plan, out.kept, err = cut.Again(ctx, *p, told, cut.Options{Budget: a.Budget}); err != nil {
		return out, err
	}
	if n := p.Openings(); n > 0 && before == nil {
		gamma := a.AtOnce
		if gamma == 0 {
			gamma = someAtOnce(n)
		}
		budget := a.Budget
		if budget == 0 {
			budget = orderBudget
		}
		s, err := cut.Weigh(ctx, *p, gamma, mostDrivers, cut.Options{Budget: budget})
		if err != nil {
			return out, err
		}
		out.safety = &s
	}
	return out, nil
}

// mostDrivers is how many kinds of openings are looked at for what drives the
// price of an order.
const mostDrivers = 6

// someAtOnce is how many of n openings to be ready for where nobody says: the
// square root, rounded up. Errors of n tapes that do not depend on each other add
// up as their square root does.
func someAtOnce(n int) int {
	g := 1
	for g*g < n {
		g++
	}
	return g
}

// system is how to write lengths: as the unit says, else metric if every length
// is whole in tenths of a millimetre and not in 64ths of an inch.
func system(p *cut.Problem, bare measure.Unit) measure.System {
	if bare != measure.NoUnit {
		return bare.System()
	}
	const sixtyFourth = measure.Inch / 64
	for _, d := range p.Demands {
		if d.Length%sixtyFourth != 0 || d.Tolerance%sixtyFourth != 0 {
			return measure.Metric
		}
	}
	return measure.FeetInches
}
