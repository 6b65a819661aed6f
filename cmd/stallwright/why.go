package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

func whyCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "why JOB.yaml BAY[/COURSE|/PIECE]",
		Short: "tell the reason behind a number",
		Long: `Why prints how a number came about: each step with its rule, down to who
measured what or where the job or the kit states it.

` + exitHelp,
		Example: `  stallwright why farm.yaml A1-A2            everything of one bay
  stallwright why farm.yaml A1-A2/7          its seventh course
  stallwright why farm.yaml A1-front-left/grille
  stallwright why farm.yaml A.b1             a post: its length, its datum marks
  stallwright why farm.yaml A1-front/stand   an operation: its place in the order, people, minutes`,
		Args:              cobra.ExactArgs(2),
		ValidArgsFunction: completeWhy,
		RunE: func(c *cobra.Command, args []string) error {
			p, err := makePlan(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			topics, err := p.Why(args[1])
			if err != nil {
				return err
			}
			w := c.OutOrStdout()
			for i, t := range topics {
				if i > 0 {
					fmt.Fprintln(w)
				}
				fmt.Fprintln(w, t.Title)
				for _, line := range t.Why.Chain() {
					fmt.Fprintln(w, "  "+line)
				}
			}
			return nil
		},
	}
}

// completeWhy offers job files, then the job's bays.
func completeWhy(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	if len(args) > 1 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	p, err := makePlan(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return p.Layout.BayNames(), cobra.ShellCompDirectiveNoFileComp
}
