package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stallwright/engine/finding"
	"stallwright/engine/plan"
	"stallwright/paper/packet"
)

func planCommand() *cobra.Command {
	var out, paper string
	c := &cobra.Command{
		Use:   "plan JOB.yaml",
		Short: "fit, count and draw a job",
		Long: `Plan reads a job and its kit and writes a folder:

  plan.json        the whole plan with a reason for every piece (docs/plan-json.md)
  summary.txt      to read: what is built, what to look at, boards, doors, order
  pieces.csv       every piece by label
  cut-pieces.csv   the cut pieces gathered by length
  takeoff.csv      the order, with spares and masses
  picks.csv        what goes with each frame
  saw-tickets.csv  boards and steel cut alike, with tape marks, for final sizes
  setout.txt       to stake and dig by: chords, diagonals, heights, concrete
  setout.csv       every number of it
  drawings/*.svg   plan views and an elevation of each wall, to scale

The folder is written whole or not at all. One that is already there is
replaced only once the new one is complete, and only if it holds a plan.

` + exitHelp,
		Example: "  stallwright plan farm.yaml --out farm-plan\n  stallwright plan farm.yaml --out farm-plan --paper a4",
		Args:    cobra.ExactArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(c *cobra.Command, args []string) error {
			if out == "" {
				base := filepath.Base(args[0])
				out = strings.TrimSuffix(base, filepath.Ext(base)) + "-plan"
			}
			p, err := makePlan(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			files, err := packet.Files(p, paper)
			if err != nil {
				return err
			}
			if err := packet.Write(out, files); err != nil {
				return err
			}
			return report(c.OutOrStdout(), p, out, len(files))
		},
	}
	c.Flags().StringVarP(&out, "out", "o", "", "folder to write (default: the job's name and -plan)")
	c.Flags().StringVar(&paper, "paper", "", "letter or a4 (default: letter for feet, a4 for metric)")
	_ = c.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions([]string{"letter", "a4"}, cobra.ShellCompDirectiveNoFileComp))
	_ = c.MarkFlagDirname("out")
	return c
}

// report tells on the terminal what was made, and what to look at.
func report(w io.Writer, p *plan.Plan, out string, files int) error {
	count := map[finding.Severity]int{}
	for _, f := range p.Findings {
		count[f.Severity]++
		if f.Severity != finding.Note {
			fmt.Fprintf(w, "%-8s %s: %s\n", strings.ToUpper(f.Severity.String()), f.Place, f.Message)
			for _, choice := range f.Choices {
				fmt.Fprintf(w, "         - %s\n", choice)
			}
		}
	}
	boards := 0
	for i := range p.Fit.Bays {
		for _, c := range p.Fit.Bays[i].Courses {
			boards += len(c.Pieces)
		}
	}
	fmt.Fprintf(w, "%s: %d bays, %d boards, %s to order. %d errors, %d warnings, %d notes.\n",
		p.Job.Job, len(p.Layout.Bays), boards, p.ShowMass(p.Takeoff.Mass), count[finding.Error], count[finding.Warning], count[finding.Note])
	fmt.Fprintf(w, "Wrote %d files to %s. Start with %s.\n", files, out, filepath.Join(out, "summary.txt"))
	if count[finding.Error] > 0 {
		return errCannot
	}
	return nil
}
