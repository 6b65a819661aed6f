package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"time"

	"github.com/spf13/cobra"

	"stallwright/app/cutfile"
)

const cutExitHelp = `Exit codes:
  0  a plan was written; "proven" says whether a cheaper one is ruled out
  1  no plan within the budget, or the output could not be written
  2  the call or a file is at fault, told with file, line and column
  3  no plan exists; the piece that cannot be cut is named`

// toldError ends a call whose messages are written already.
type toldError struct{ code int }

func (e toldError) Error() string { return fmt.Sprintf("exit %d", e.code) }

func cutCommand() *cobra.Command {
	var a cutfile.Args
	c := &cobra.Command{
		Use:   "cut --pieces PIECES.csv --stock STOCK.csv",
		Short: "cut pieces out of stock lengths at the least cost, and prove it",
		Long: `Cut reads what is wanted and what can be bought, and writes which boards to take
and how to cut each one. It spends as little money as any plan can, and says so
when that is proven; otherwise it says how far off it may be.

  pieces.csv  length,count,label,material      one row for each label
              and, if you like, tolerance      how much longer it may turn out
              and opening                      what turns out longer together
  stock.csv   length,price,available,material  blank available: any number
              and, if you like, square         yes: no end trim (offcuts on hand)
              and defects                      boards in a hundred too bad to use

Lengths are read as everywhere: 11' 6 5/8", 3513 mm, 3.5 m; bare numbers only
with --unit. Prices have at most two decimals. An offcut on hand is a row of
stock with price 0 and a number available.

The saw loses the kerf between two pieces and once more after the last when
something is left; the trim comes off each end of a board first. What is left
and at least as long as --keep is kept, shorter rests are scrap.

Kept offcuts earn nothing unless you say what they are worth: --worth 0.40 --per 1'
takes 0.40 off the cost for each full foot kept.

With tolerances you also get what to order before the measuring: as drawn, ready
for --at-once openings longer than drawn at once, and ready for all of them, with
what each costs and which openings drive the price.

To go on after some boards were sawn, or pieces measured anew, give the earlier
answer (--after, as --json wrote it): its boards are there and paid for, and as
much of it stays as costs nothing. --sawn tells the boards that went through the
saw, right or wrong:

  sawn.csv    length,count,material,pieces,left  pieces: the good ones, as a1; a2 x 2
                                                 left: usable rest of each, or blank

Without --json you get a page for the saw: each ticket is boards cut alike, with
tape marks that run on from one end (the kerfs are in them, so hook the tape
once). Interrupt a long search, or give it a --budget, and you get the best plan
so far. docs/cut.md explains how to read the answer.

` + cutExitHelp,
		Example: `  stallwright cut --pieces pieces.csv --stock stock.csv --kerf '1/8"' --trim '1/2"' --keep "2'"
  stallwright cut --pieces tubes.csv --stock steel.csv --unit mm --kerf 3 --json
  stallwright cut --pieces drawn.csv --stock stock.csv --at-once 3
  stallwright cut --pieces measured.csv --stock stock.csv --after cut.json --sawn sawn.csv`,
		Args:              cobra.NoArgs,
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(c *cobra.Command, _ []string) error {
			for _, name := range []string{"pieces", "stock"} {
				if f := c.Flag(name); f.Value.String() == "" {
					return usageError{fmt.Errorf("cut needs --%s FILE.csv; see stallwright cut --help", name)}
				}
			}
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
			defer stop()
			return runCut(ctx, c, a)
		},
	}
	f := c.Flags()
	f.StringVar(&a.PiecesName, "pieces", "", "CSV of the pieces wanted: length,count,label,material")
	f.StringVar(&a.StockName, "stock", "", "CSV of the stock: length,price,available,material")
	f.StringVar(&a.Kerf, "kerf", "", `width of the saw cut, as 1/8"`)
	f.StringVar(&a.Trim, "trim", "", `lost at each end of a board, as 1/2"`)
	f.StringVar(&a.Keep, "keep", "", "shortest offcut worth keeping, as 2'")
	f.StringVar(&a.Worth, "worth", "", "what a kept offcut is worth for each full --per, as 0.40")
	f.StringVar(&a.Per, "per", "", "the length of offcut that --worth is for, as 1'")
	f.IntVar(&a.Most, "most", 0, "most pieces from one board (default any number)")
	f.IntVar(&a.AtOnce, "at-once", 0, "openings that may turn out longer at once, to order for (default the square root of their number)")
	f.StringVar(&a.AfterName, "after", "", "an earlier answer in JSON, to go on from and keep to")
	f.StringVar(&a.SawnName, "sawn", "", "CSV of the boards sawn since: length,count,material,pieces,left")
	f.StringVar(&a.Unit, "unit", "", "unit of bare numbers: mm, cm, m, in, ft")
	f.Int64Var(&a.Budget, "budget", 0, "most elementary steps to search, the same on every machine (default 4000000000, some seconds)")
	f.BoolVar(&a.JSON, "json", false, "write the plan as JSON")
	for _, name := range []string{"pieces", "stock", "sawn"} {
		_ = c.MarkFlagFilename(name, "csv")
	}
	_ = c.MarkFlagFilename("after", "json")
	for _, name := range []string{"kerf", "trim", "keep", "worth", "per", "most", "at-once", "budget"} {
		_ = c.RegisterFlagCompletionFunc(name, cobra.NoFileCompletions)
	}
	_ = c.RegisterFlagCompletionFunc("unit", cobra.FixedCompletions([]string{"mm", "cm", "m", "in", "ft"}, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// runCut opens the files, plans, and tells the time it took on standard error,
// so that standard output stays the same from one run to the next.
func runCut(ctx context.Context, c *cobra.Command, a cutfile.Args) error {
	pieces, err := openText(a.PiecesName)
	if err != nil {
		return err
	}
	defer pieces.Close()
	stock, err := openText(a.StockName)
	if err != nil {
		return err
	}
	defer stock.Close()
	a.Pieces, a.Stock = pieces, stock
	if a.AfterName != "" {
		after, err := openText(a.AfterName)
		if err != nil {
			return err
		}
		defer after.Close()
		a.After = after
	}
	if a.SawnName != "" {
		sawn, err := openText(a.SawnName)
		if err != nil {
			return err
		}
		defer sawn.Close()
		a.Sawn = sawn
	}
	start := time.Now()
	if code := cutfile.Run(ctx, a, c.OutOrStdout(), c.ErrOrStderr()); code != cutfile.Done {
		return toldError{code}
	}
	fmt.Fprintf(c.ErrOrStderr(), "Planned in %.3f s.\n", time.Since(start).Seconds())
	return nil
}

// openText opens a file a person named.
func openText(path string) (*os.File, error) {
	f, err := os.Open(path)
	if os.IsNotExist(err) {
		return nil, usageError{fmt.Errorf("there is no file %s", path)}
	}
	if err != nil {
		return nil, err
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, usageError{fmt.Errorf("%s is a folder; name a CSV file in it", path)}
	}
	return f, nil
}
