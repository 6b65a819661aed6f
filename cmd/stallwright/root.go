package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stallwright/engine/document"
	"stallwright/engine/plan"
	"stallwright/paper/book"
	"stallwright/paper/packet"
)

// Exit codes, as docs and help state them.
const (
	exitDone     = 0 // done
	exitFailed   = 1 // the computer failed: a disk, a permission
	exitBadInput = 2 // the words of the call, the job or the kit are at fault
	exitCannot   = 3 // planned and written, but something cannot be built as described
)

const exitHelp = `Exit codes:
  0  done
  1  the computer failed: a disk, a permission
  2  the call, the job or the kit is at fault; nothing was written
  3  planned and written, but a finding says something cannot be built as described`

// usageError is a call whose words are off.
type usageError struct{ err error }

func (e usageError) Error() string { return e.err.Error() }
func (e usageError) Unwrap() error { return e.err }

// errCannot ends a plan that holds error findings; they were told already.
var errCannot = errors.New("something cannot be built as described")

// run runs one call and gives its exit code.
func run(args []string, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.Execute()
	if err == nil {
		return exitDone
	}
	var told toldError
	if errors.As(err, &told) {
		return told.code
	}
	code := exitCode(err)
	if code != exitCannot {
		fmt.Fprintln(stderr, sentence(err))
	}
	return code
}

// exitCode sorts an error by whose fault it is.
func exitCode(err error) int {
	var usage usageError
	var problems document.Problems
	var unknown *plan.UnknownError
	var notOurs *packet.NotOursError
	var paper *packet.PaperError
	var part *book.UnknownPartError
	switch {
	case errors.Is(err, errCannot):
		return exitCannot
	case errors.As(err, &usage), errors.As(err, &problems), errors.As(err, &unknown), errors.As(err, &notOurs), errors.As(err, &paper), errors.As(err, &part):
		return exitBadInput
	case strings.HasPrefix(err.Error(), "unknown command"), strings.Contains(err.Error(), "arg(s)"):
		return exitBadInput
	}
	return exitFailed
}

// sentence is an error as a person reads it.
func sentence(err error) string {
	var problems document.Problems
	if errors.As(err, &problems) {
		return problems.Error()
	}
	return "stallwright: " + err.Error()
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "stallwright",
		Short: "from tape measure to hung door: plan horse stalls and round pens",
		Long: `Stallwright turns a job (what a farm wants and what a crew measured) and a kit
(what a shop makes) into fitted boards, a counted order and drawings to scale.

Start with a job of your own:
  stallwright new barn-row > my-barn.yaml     write a commented starter job
  stallwright plan my-barn.yaml --out plan    fit it, count it, draw it
  stallwright why my-barn.yaml A1-A2/7        ask for the reason behind a board
  stallwright measure my-barn.yaml            measure it on site, each answer checked
  stallwright steps my-barn.yaml              build it, step by step
  stallwright offer my-barn.yaml --prices p.yaml   price it

` + exitHelp,
		SilenceUsage:  true,
		SilenceErrors: true,
		Version:       version(),
	}
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return usageError{flagHint(c, err)} })
	root.AddCommand(planCommand(), offerCommand(), whyCommand(), stepsCommand(), repairCommand(), measureCommand(), diffCommand(), cutCommand(), newCommand(), kitCommand(), schemaCommand(),
		serveCommand(), backupCommand(), restoreCommand(), accountCommand())
	root.CompletionOptions.HiddenDefaultCmd = false
	return root
}

// flagHint adds the nearest flag to an unknown one.
func flagHint(c *cobra.Command, err error) error {
	_, name, ok := strings.Cut(err.Error(), "unknown flag: --")
	if !ok {
		return err
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near, ok := document.Nearest(name, names); ok {
		return fmt.Errorf("there is no flag --%s; did you mean --%s?", name, near)
	}
	return fmt.Errorf("there is no flag --%s; see stallwright %s --help", name, c.Name())
}

// version is the build's own, where it was stamped.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "development"
	}
	return info.Main.Version
}
