package main

import (
	"errors"

	"github.com/spf13/cobra"

	"stallwright/engine/build"
	"stallwright/paper/packet"
)

func repairCommand() *cobra.Command {
	var lang, catalogue string
	c := &cobra.Command{
		Use:   "repair JOB.yaml BAY COURSE",
		Short: "tell how to replace a board",
		Long: `Repair prints the least that must come out to replace one course of a bay, in
order, the new board's length and work, and how everything goes back in. Courses
count from 1 at the bottom. Where a course holds several boards, beside a window or
in two leaves, end the number as the label does: 12L, 3.2.

` + exitHelp,
		Example: "  stallwright repair farm.yaml A1-A2 7\n  stallwright repair farm.yaml A2-back 12L --language es",
		Args:    cobra.ExactArgs(3),
		ValidArgsFunction: func(c *cobra.Command, args []string, to string) ([]string, cobra.ShellCompDirective) {
			if len(args) < 2 {
				return completeWhy(c, args, to)
			}
			return nil, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			p, err := makePlan(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			w, err := wordsFor(p.Job, lang, catalogue)
			if err != nil {
				return err
			}
			r, err := p.Repair(args[1], args[2])
			var repair *build.RepairError
			if errors.As(err, &repair) {
				return usageError{err}
			}
			if err != nil {
				return err
			}
			_, err = c.OutOrStdout().Write(packet.RepairText(p, r, w))
			return err
		},
	}
	languageFlags(c, &lang, &catalogue)
	return c
}
