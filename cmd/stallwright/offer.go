package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stallwright/engine/finding"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/book"
	"stallwright/paper/offer"
	"stallwright/paper/packet"
	"stallwright/paper/words"
)

const offerExitHelp = `Exit codes:
  0  done
  1  the computer failed: a disk, a permission
  2  the call, the job, the kit, the yard's list or the price book is at fault
  3  made, but not complete: something has no price, or a finding says that
     something cannot be built as described`

// offerArgs are what a call says of an offer.
type offerArgs struct {
	prices, yard, out, or, paper string
	json, customer               bool
	lang, catalogue              string
}

func offerCommand() *cobra.Command {
	var a offerArgs
	c := &cobra.Command{
		Use:   "offer JOB.yaml --prices BOOK.yaml",
		Short: "price a job by a price book",
		Long: `Offer plans a job and prices it: boards as the proven cut plan buys them, every
item of the kit, work, delivery, tax. Cost and price are kept apart; what has no
price is named, and the offer then says that it is not complete.

The book is the job's own (prices: in the job) where --prices is left out. Boards
are priced by the yard's list (lumber.yard, or --yard), or by lumber.lengths.

Printed is what the office reads, with costs and margins. --customer prints what
the customer reads. --or prices another job, the same with other fills say, and
shows what differs line by line. With --out a folder is written:

  offer.txt    for the customer
  offer.pdf    the same on paper
  office.txt   for the office, with costs
  offer.csv    every line, with cost and price
  offer.json   the same as data, with reasons

A book to begin with: stallwright new prices. docs/prices.md explains it.
stallwright why JOB.yaml offer/ITEM --prices BOOK.yaml tells how an amount came about.

` + offerExitHelp,
		Example: "  stallwright offer farm.yaml --prices spring.yaml\n  stallwright offer farm.yaml --prices spring.yaml --customer --language es\n  stallwright offer farm.yaml --prices spring.yaml --or farm-with-windows.yaml\n  stallwright offer farm.yaml --prices spring.yaml --out farm-offer",
		Args:    cobra.ExactArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(c *cobra.Command, args []string) error { return makeOffer(c, args[0], a) },
	}
	f := c.Flags()
	f.StringVar(&a.prices, "prices", "", "the price book (default: the job's own)")
	f.StringVar(&a.yard, "yard", "", "the lumber yard's list (default: the job's own)")
	f.StringVarP(&a.out, "out", "o", "", "folder to write")
	f.StringVar(&a.or, "or", "", "another job to price beside it")
	f.StringVar(&a.paper, "paper", "", "letter or a4 (default: letter for feet, a4 for metric)")
	f.BoolVar(&a.json, "json", false, "print the offer as JSON")
	f.BoolVar(&a.customer, "customer", false, "print what the customer reads: no costs")
	languageFlags(c, &a.lang, &a.catalogue)
	for _, name := range []string{"prices", "yard", "or"} {
		_ = c.MarkFlagFilename(name, "yaml", "yml")
	}
	_ = c.MarkFlagDirname("out")
	_ = c.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions([]string{"letter", "a4"}, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// makeOffer makes and prints or writes an offer.
func makeOffer(c *cobra.Command, path string, a offerArgs) error {
	p, o, err := offerFor(path, a, c.ErrOrStderr())
	if err != nil {
		return err
	}
	w, err := wordsFor(p.Job, a.lang, a.catalogue)
	if err != nil {
		return err
	}
	out := c.OutOrStdout()
	switch {
	case a.or != "":
		q, other, err := offerFor(a.or, a, c.ErrOrStderr())
		if err != nil {
			return err
		}
		if _, err := out.Write(offer.Beside(offer.Other{Plan: p, Offer: o, Name: filepath.Base(path)}, offer.Other{Plan: q, Offer: other, Name: filepath.Base(a.or)}, w)); err != nil {
			return err
		}
		if !other.Complete() {
			return errCannot
		}
	case a.json:
		data, err := offer.JSON(offer.NewDocument(p, o, w))
		if err != nil {
			return err
		}
		if _, err := out.Write(data); err != nil {
			return err
		}
	case a.out != "":
		if err := writeOffer(out, p, o, w, a); err != nil {
			return err
		}
	case a.customer:
		_, err = out.Write(offer.Customer(p, o, w).Text())
	default:
		_, err = out.Write(offer.Office(p, o, w))
	}
	if err != nil {
		return err
	}
	return sayOffer(c.ErrOrStderr(), p, o)
}

// sayOffer tells what stands in an offer's way.
func sayOffer(w io.Writer, p *plan.Plan, o *price.Offer) error {
	n := 0
	for _, f := range p.Findings {
		if f.Severity == finding.Error {
			n++
		}
	}
	if n > 0 {
		fmt.Fprintf(w, "%d findings say that something cannot be built as described; stallwright plan tells them.\n", n)
	}
	if !o.Complete() {
		fmt.Fprintf(w, "Not complete: %d things have no price.\n", len(o.Missing))
	}
	if n > 0 || !o.Complete() {
		return errCannot
	}
	return nil
}

// offerFor plans a job and prices it.
func offerFor(path string, a offerArgs, tell io.Writer) (*plan.Plan, *price.Offer, error) {
	p, err := makePlanWith(path, planFrom{yard: a.yard}, tell)
	if err != nil {
		return nil, nil, err
	}
	o, err := priced(p, path, a.prices)
	return p, o, err
}

// priced prices a plan by a book, or by the job's own where the path is blank.
func priced(p *plan.Plan, jobPath, prices string) (*price.Offer, error) {
	src, err := []byte(nil), error(nil)
	switch {
	case prices != "":
		src, err = readText(prices)
	case p.Job.Prices != "":
		prices, src, err = readBeside(p.Job, jobPath, p.Job.Prices, p.Job.Of("prices"), "prices")
	default:
		return nil, usageError{fmt.Errorf("an offer needs a price book: --prices BOOK.yaml, or prices: in the job; stallwright new prices writes one to begin with")}
	}
	if err != nil {
		return nil, err
	}
	b, err := price.Read(prices, src)
	if err != nil {
		return nil, err
	}
	return p.Offer(context.Background(), b, nil)
}

// writeOffer writes the folder.
func writeOffer(out io.Writer, p *plan.Plan, o *price.Offer, w *words.Words, a offerArgs) error {
	files, err := offerFiles(p, o, w, packetOptions{paper: a.paper})
	if err != nil {
		return err
	}
	if err := packet.WriteOffer(a.out, files); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s: %s in all.\nWrote %d files to %s. offer.txt and offer.pdf are for the customer, the others stay in the office.\n",
		p.Job.Job, o.Currency.Text(o.Total)+" "+string(o.Currency), len(files), a.out)
	return nil
}

// offerFiles are the files of an offer.
func offerFiles(p *plan.Plan, o *price.Offer, w *words.Words, po packetOptions) ([]packet.File, error) {
	list, err := offer.CSV(p, o, true)
	if err != nil {
		return nil, err
	}
	data, err := offer.JSON(offer.NewDocument(p, o, w))
	if err != nil {
		return nil, err
	}
	opt, err := bookOf(po)
	if err != nil {
		return nil, err
	}
	opt.Only, opt.Offer = []book.Part{book.Offer}, o
	pages, err := book.Make(p, w, opt)
	if err != nil {
		return nil, err
	}
	pdf, err := pages.PDF()
	if err != nil {
		return nil, err
	}
	return []packet.File{
		{Name: packet.OfferName, Data: offer.Customer(p, o, w).Text()}, {Name: packet.OfferPDFName, Data: pdf},
		{Name: packet.OfferOfficeName, Data: offer.Office(p, o, w)}, {Name: packet.OfferListName, Data: list}, {Name: packet.OfferDataName, Data: data},
	}, nil
}

// whyOffer answers a question about an offer: offer, offer/ITEM.
func whyOffer(p *plan.Plan, jobPath, prices, target string) ([]plan.Topic, error) {
	o, err := priced(p, jobPath, prices)
	if err != nil {
		return nil, err
	}
	list, ok := o.Why(target)
	if !ok {
		return nil, &plan.UnknownError{Target: target, Hint: "the offer holds: " + strings.Join(o.Names(), ", ")}
	}
	var out []plan.Topic
	for _, t := range list {
		out = append(out, plan.Topic{Title: t.Title, Why: t.Why})
	}
	return out, nil
}
