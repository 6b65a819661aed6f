package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stallwright/engine/finding"
	"stallwright/engine/plan"
	"stallwright/paper/book"
	"stallwright/paper/packet"
	"stallwright/paper/words"
)

func planCommand() *cobra.Command {
	var out, paper, lang, catalogue, only, address, after, prices, yard string
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
  steps.txt        how it is built, step by step
  packet.pdf       the packet on paper: from the cover to the owner's page
  takeoff.xlsx     the order, cut list and pieces with totals that recalculate
  crew-days.ics    the crew days for a calendar, where the job has a date
  drawings/*.svg   plan views and an elevation of each wall, to scale
  drawings/*.dxf   the same in true size, for drawing programs
  model.glb        the whole job in three dimensions, every piece by its label

With --prices also offer.txt and offer.csv: what it comes to, without costs.

The folder is written whole or not at all. One that is already there is
replaced only once the new one is complete, and only if it holds a plan.

With --only, one PDF of some parts of the packet is written in place of the
folder: ` + strings.Join(book.PartNames(), ", ") + `.

` + exitHelp,
		Example: "  stallwright plan farm.yaml --out farm-plan\n  stallwright plan farm.yaml --out farm-plan --paper a4\n  stallwright plan farm.yaml --language es\n  stallwright plan farm.yaml --only saw,labels --out saw.pdf",
		Args:    cobra.ExactArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(c *cobra.Command, args []string) error {
			parts, err := book.ParseParts(only)
			if err != nil {
				return err
			}
			p, err := makePlanWith(args[0], planFrom{after: after, yard: yard}, c.ErrOrStderr())
			if err != nil {
				return err
			}
			o := packetOptions{paper: paper, address: address, parts: parts}
			if prices != "" || slices.Contains(parts, book.Offer) {
				if o.offer, err = priced(p, args[0], prices); err != nil {
					return err
				}
			}
			w, err := wordsFor(p.Job, lang, catalogue)
			if err != nil {
				return err
			}
			base := strings.TrimSuffix(filepath.Base(args[0]), filepath.Ext(args[0]))
			if len(parts) > 0 {
				if out == "" {
					out = partsName(base, parts)
				}
				return printParts(c.OutOrStdout(), p, w, o, out)
			}
			if out == "" {
				out = base + "-plan"
			}
			files, err := packetFiles(p, w, o)
			if err != nil {
				return err
			}
			if err := packet.Write(out, files); err != nil {
				return err
			}
			return report(c.OutOrStdout(), p, w, out, len(files))
		},
	}
	c.Flags().StringVarP(&out, "out", "o", "", "folder to write (default: the job's name and -plan); with --only the PDF")
	c.Flags().StringVar(&after, "after", "", "the plan before this one (its folder, or its plan.json): its saw tickets stay where that costs nothing")
	c.Flags().StringVar(&prices, "prices", "", "a price book: the folder holds an offer too, offer.txt and offer.csv, without costs")
	c.Flags().StringVar(&yard, "yard", "", "the lumber yard's list, in place of the job's own")
	c.Flags().StringVar(&paper, "paper", "", "letter or a4 (default: letter for feet, a4 for metric)")
	c.Flags().StringVar(&only, "only", "", "print these parts of the packet alone, with commas between (docs/packet.md)")
	c.Flags().StringVar(&address, "address", "", "where the app answers, as https://stalls.example/open: the codes on labels lead there, whatever the job says under papers; without either they hold the piece's label")
	languageFlags(c, &lang, &catalogue)
	_ = c.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions([]string{"letter", "a4"}, cobra.ShellCompDirectiveNoFileComp))
	_ = c.RegisterFlagCompletionFunc("only", cobra.FixedCompletions(book.PartNames(), cobra.ShellCompDirectiveNoFileComp))
	_ = c.MarkFlagFilename("prices", "yaml", "yml")
	_ = c.MarkFlagFilename("yard", "yaml", "yml")
	_ = c.MarkFlagDirname("out")
	return c
}

// report tells on the terminal what was made, and what to look at.
func report(w io.Writer, p *plan.Plan, said *words.Words, out string, files int) error {
	count := map[finding.Severity]int{}
	for i := range p.Findings {
		f := &p.Findings[i]
		count[f.Severity]++
		if f.Severity != finding.Note {
			fmt.Fprintf(w, "%-8s %s: %s\n", strings.ToUpper(said.Say(words.Severity(f.Severity))), f.Place, said.Told(f))
			for _, choice := range said.Choices(f) {
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
