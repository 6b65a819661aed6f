package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stallwright/engine/plan"
)

func whyCommand() *cobra.Command {
	var prices, yard, lang, catalogue string
	c := &cobra.Command{
		Use:   "why JOB.yaml BAY[/COURSE|/PIECE]",
		Short: "tell the reason behind a number",
		Long: `Why prints how a number came about: each step with its rule, down to who
measured what or where the job or the kit states it.

` + exitHelp,
		Example: `  stallwright why farm.yaml A1-A2            everything of one bay
  stallwright why farm.yaml A1-A2/7          its seventh course
  stallwright why farm.yaml A1-front-left/grille
  stallwright why farm.yaml A.b1             a post: its length, its datum marks
  stallwright why farm.yaml A1-front/stand   an operation: its place in the order, people, minutes
  stallwright why farm.yaml offer/tube-2 --prices spring.yaml   an amount of the offer
  stallwright why farm.yaml A1-A2 --language es`,
		Args:              cobra.ExactArgs(2),
		ValidArgsFunction: completeWhy,
		RunE: func(c *cobra.Command, args []string) error {
			p, err := makePlanWith(args[0], planFrom{yard: yard}, c.ErrOrStderr())
			if err != nil {
				return err
			}
			said, err := wordsFor(p.Job, lang, catalogue)
			if err != nil {
				return err
			}
			ask := p.Why
			if args[1] == "offer" || strings.HasPrefix(args[1], "offer/") {
				ask = func(target string) ([]plan.Topic, error) { return whyOffer(p, args[0], prices, target) }
			}
			topics, err := ask(args[1])
			if err != nil {
				return err
			}
			w := c.OutOrStdout()
			for i, t := range topics {
				if i > 0 {
					fmt.Fprintln(w)
				}
				fmt.Fprintln(w, said.Say(t.Title))
				for _, line := range said.Chain(t.Why) {
					fmt.Fprintln(w, "  "+line)
				}
			}
			return nil
		},
	}
	languageFlags(c, &lang, &catalogue)
	c.Flags().StringVar(&prices, "prices", "", "the price book that an offer is asked about (default: the job's own)")
	c.Flags().StringVar(&yard, "yard", "", "the lumber yard's list (default: the job's own)")
	_ = c.MarkFlagFilename("prices", "yaml", "yml")
	_ = c.MarkFlagFilename("yard", "yaml", "yml")
	return c
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
