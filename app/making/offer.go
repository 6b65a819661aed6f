package making

import (
	"context"

	"stallwright/engine/price"
	"stallwright/paper/book"
	"stallwright/paper/draw"
	"stallwright/paper/offer"
	"stallwright/paper/packet"
	"stallwright/paper/words"
)

// Offer is an offer with its papers.
type Offer struct {
	Document *offer.Document
	made     *Made
	offer    *price.Offer
	words    *words.Words
	paper    Paper
}

// Offer prices a plan by a book. The error is document.Problems where the book does
// not go with the job.
func (v *Made) Offer(ctx context.Context, b *File, p Paper) (out *Offer, err error) {
	on, free, err := v.begin(ctx, p)
	if err != nil {
		return nil, err
	}
	defer free()
	defer guard(&err)
	read, err := price.Read(b.Name, []byte(b.Text))
	if err != nil {
		return nil, err
	}
	o, err := v.Plan.Offer(ctx, read, nil)
	if err != nil {
		return nil, fault(err)
	}
	return &Offer{offer.NewDocument(v.Plan, o, on.words), v, o, on.words, p}, nil
}

// Text is the customer's paper as plain text.
func (o *Offer) Text() []byte { return offer.Customer(o.made.Plan, o.offer, o.words).Text() }

// Office is the offer with costs, to read.
func (o *Offer) Office() []byte { return offer.Office(o.made.Plan, o.offer, o.words) }

// List is the offer's lines with costs, for a spreadsheet.
func (o *Offer) List() ([]byte, error) { return offer.CSV(o.made.Plan, o.offer, true) }

// PDF is the customer's paper.
func (o *Offer) PDF(ctx context.Context) (data []byte, err error) {
	free, err := o.made.slot(ctx)
	if err != nil {
		return nil, err
	}
	defer free()
	defer guard(&err)
	size := draw.PaperSize{}
	if o.paper.Size != "" {
		if size, err = packet.PaperOf(o.paper.Size); err != nil {
			return nil, err
		}
	}
	b, err := book.Make(o.made.Plan, o.words, book.Options{Paper: size, Only: []book.Part{book.Offer}, Offer: o.offer})
	if err != nil {
		return nil, fault(err)
	}
	return b.PDF()
}
