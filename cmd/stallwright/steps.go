package main

import (
	"context"

	"github.com/spf13/cobra"

	"stallwright/paper/packet"
)

func stepsCommand() *cobra.Command {
	var lang, catalogue string
	var remaining, days bool
	var budget int64
	c := &cobra.Command{
		Use:   "steps JOB.yaml",
		Short: "tell how it is built, step by step",
		Long: `Steps prints the order of work: each step with what to do, its parts by label,
fasteners with size and count, tools, people, minutes, what to measure and what can
go wrong. A crew that follows it never has to undo anything (docs/build.md).

With --remaining, steps that the job's states and notebook say are done are left
out. With --days, the work that is left is laid on crew days instead: who is needed
when, what holds the job up, and how near that is to the shortest possible.

` + exitHelp,
		Example:           "  stallwright steps farm.yaml\n  stallwright steps farm.yaml --language es --remaining\n  stallwright steps farm.yaml --days",
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: jobFiles,
		RunE: func(c *cobra.Command, args []string) error {
			p, err := makePlan(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			w, err := wordsFor(p.Job, lang, catalogue)
			if err != nil {
				return err
			}
			text := packet.Steps(p, w, remaining)
			if days {
				d, err := p.Days(context.Background(), budget)
				if err != nil {
					return err
				}
				text = packet.Days(p, d, w)
			}
			_, err = c.OutOrStdout().Write(text)
			return err
		},
	}
	languageFlags(c, &lang, &catalogue)
	c.Flags().BoolVar(&remaining, "remaining", false, "leave out what is done")
	c.Flags().BoolVar(&days, "days", false, "lay the work that is left on crew days")
	c.Flags().Int64Var(&budget, "budget", 0, "most elementary steps to search for a shorter schedule, the same on every machine")
	return c
}

func jobFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}
