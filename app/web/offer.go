package web

import (
	"context"
	"encoding/json"
	"net/http"

	"stallwright/app/making"
	"stallwright/paper/offer"
	"stallwright/paper/packet"
)

// OfferAnswer is a job's offer.
type OfferAnswer struct {
	Prices   string          `json:"prices" doc:"the price book's file"`
	Customer string          `json:"customer" doc:"what the customer reads: no costs"`
	Office   string          `json:"office" doc:"what the office reads"`
	Offer    json.RawMessage `json:"offer" doc:"as stallwright offer --json writes it (docs/prices.md)"`
}

// OfOffer names a job and the price book for it.
type OfOffer struct {
	OnPaper
	Prices string `query:"prices" pattern:"^([A-Za-z0-9][A-Za-z0-9._-]{0,59})?$" maxLength:"60" doc:"a price book of the shop; the job's own where left out"`
}

func (s *Server) handleOffer() {
	unplanned := answers[Mistakes](s, http.StatusUnprocessableEntity, "The job cannot be planned, or the price book does not go with it")
	op(s, "read-offer", s.readOffer, unplanned)
	op(s, "read-offer-file", s.readOfferFile, file("application/pdf", "text/plain", "text/csv", "application/json"), unplanned)
}

// offer makes the offer that is asked for.
func (s *Server) offer(ctx context.Context, in *OfOffer) (*making.Offer, *making.File, error) {
	src, err := s.source(ctx, in.Job, in.Revision)
	if err != nil {
		return nil, nil, err
	}
	b, err := src.PriceBook(in.Prices, s.shelf(ctx))
	if err != nil {
		return nil, nil, err
	}
	if b == nil {
		return nil, nil, bad("the job names no price book; choose one of the shop's, or add prices: to the job")
	}
	made, err := s.maker.Make(ctx, src)
	if err != nil {
		return nil, nil, err
	}
	o, err := made.Offer(ctx, b, in.paper())
	return o, b, err
}

func (s *Server) readOffer(ctx context.Context, in *OfOffer) (*struct{ Body OfferAnswer }, error) {
	o, b, err := s.offer(ctx, in)
	if err != nil {
		return nil, err
	}
	data, err := offer.JSON(o.Document)
	if err != nil {
		return nil, err
	}
	return &struct{ Body OfferAnswer }{OfferAnswer{b.Name, string(o.Text()), string(o.Office()), data}}, nil
}

func (s *Server) readOfferFile(ctx context.Context, in *struct {
	OfOffer
	Name string `query:"name" required:"true" enum:"offer.txt,offer.pdf,offer.csv,offer.json,office.txt"`
}) (*FileOut, error) {
	o, _, err := s.offer(ctx, &in.OfOffer)
	if err != nil {
		return nil, err
	}
	var data []byte
	kind := "text/plain; charset=utf-8"
	switch in.Name {
	case packet.OfferPDFName:
		kind = "application/pdf"
		data, err = o.PDF(ctx)
	case packet.OfferListName:
		kind = "text/csv; charset=utf-8"
		data, err = o.List()
	case packet.OfferDataName:
		kind = "application/json"
		data, err = offer.JSON(o.Document)
	case packet.OfferOfficeName:
		data = o.Office()
	default:
		data = o.Text()
	}
	if err != nil {
		return nil, err
	}
	return &FileOut{kind, disposition(in.Job + "-" + in.Name), filePolicy, again, "", data}, nil
}
