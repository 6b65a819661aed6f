package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/book"
	"stallwright/paper/draw"
	"stallwright/paper/offer"
	"stallwright/paper/packet"
	"stallwright/paper/words"
	"stallwright/paper/workbook"
)

// packetOptions are what a call says of the packet.
type packetOptions struct {
	paper, address string
	parts          []book.Part
	offer          *price.Offer // nil: none is printed
}

// bookOf reads what a call says of the packet.
func bookOf(o packetOptions) (book.Options, error) {
	size, err := packet.PaperOf(o.paper)
	if err != nil {
		return book.Options{}, err
	}
	if o.address != "" {
		if !job.IsAddress(o.address) {
			return book.Options{}, usageError{fmt.Errorf("--address %s is no address; write it as https://stalls.example/open", o.address)}
		}
	}
	b := book.Options{Paper: size, Only: o.parts, Address: o.address}
	if slices.Contains(o.parts, book.Offer) { // the packet as a whole goes to the crew
		b.Offer = o.offer
	}
	return b, nil
}

// packetFiles are the files of a plan's folder, the packet's PDF among them.
func packetFiles(p *plan.Plan, w *words.Words, o packetOptions) ([]packet.File, error) {
	b, err := bookOf(o)
	if err != nil {
		return nil, err
	}
	if b.Drawings, err = packet.Sheets(p, o.paper, w); err != nil {
		return nil, err
	}
	if b.Days, err = p.Days(context.Background(), 0); err != nil {
		return nil, err
	}
	files, err := packet.Files(p, packet.Options{Paper: o.paper, Words: w, Sheets: b.Drawings, Days: b.Days})
	if err != nil {
		return nil, err
	}
	pages, err := book.Make(p, w, b)
	if err != nil {
		return nil, err
	}
	data, err := pages.PDF()
	if err != nil {
		return nil, err
	}
	table, err := workbook.Make(p, w, workbook.Options{A4: b.Paper == draw.A4 || b.Paper == (draw.PaperSize{}) && p.Job.Units == measure.Metric, Offer: o.offer})
	if err != nil {
		return nil, err
	}
	files = append(files, packet.File{Name: packet.PDFName, Data: data}, packet.File{Name: packet.TakeoffName, Data: table})
	if o.offer != nil {
		list, err := offer.CSV(p, o.offer, false)
		if err != nil {
			return nil, err
		}
		files = append(files, packet.File{Name: packet.OfferName, Data: offer.Customer(p, o.offer, w).Text()}, packet.File{Name: packet.OfferListName, Data: list})
	}
	return files, nil
}

// partsName is the usual name of some parts' PDF: farm-saw-labels.pdf.
func partsName(base string, parts []book.Part) string {
	for _, p := range parts {
		base += "-" + string(p)
	}
	return base + ".pdf"
}

// printParts writes one PDF of some parts, whole or not at all.
func printParts(out io.Writer, p *plan.Plan, w *words.Words, o packetOptions, path string) error {
	b, err := bookOf(o)
	if err != nil {
		return err
	}
	pages, err := book.Make(p, w, b)
	if err != nil {
		return err
	}
	data, err := pages.PDF()
	if err != nil {
		return err
	}
	if err := replacePDF(path, data); err != nil {
		return err
	}
	fmt.Fprintf(out, "Wrote %d pages to %s.\n", len(pages.Pages), path)
	return nil
}

// replacePDF writes a PDF beside its place and then moves it there. What is there
// already is replaced only if it is a PDF.
func replacePDF(path string, data []byte) error {
	switch old, err := os.Open(path); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	default:
		head := make([]byte, 5)
		_, err := io.ReadFull(old, head)
		_ = old.Close()
		if err != nil || !bytes.Equal(head, []byte("%PDF-")) {
			return usageError{fmt.Errorf("%s is there and is no PDF; choose another name with --out", path)}
		}
	}
	fresh, err := os.CreateTemp(filepath.Dir(path), ".stallwright-new-*.pdf")
	if err != nil {
		return err
	}
	defer os.Remove(fresh.Name()) // gone already once it was moved
	_, err = fresh.Write(data)
	if err = errors.Join(err, fresh.Chmod(0o644), fresh.Close()); err != nil {
		return err
	}
	return os.Rename(fresh.Name(), path)
}
