// Package book is the packet on paper: one PDF from the cover to the owner's page,
// or any of its parts alone.
//
// In come a finished plan and the words of a language; out come pages of package
// draw with a part, a title and a state each, and the PDF of them. Nothing is
// worked out here: a number on a page is a number of the plan, and a test reads
// the PDF back and holds it to plan.json. What always holds:
//
//   - every page carries job, revision, date, how far its bays are (drawn,
//     measured, released), a caution, and "page n of m";
//   - a page that shows a bay nobody has measured has a watermark that says so;
//   - no two texts overlap and none is cut off, whatever names a job holds;
//   - the same plan and words give the same bytes.
//
// Each part is a file of its own, named after it. A part is added by a line in
// the table of part.go and a method that fills pages.
package book

import (
	"fmt"
	"strconv"

	"stallwright/engine/build"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/draw"
	"stallwright/paper/page"
	"stallwright/paper/pdf"
	"stallwright/paper/views"
	"stallwright/paper/words"
)

// Options say what to print and on what. The zero Options print everything, on
// Letter for jobs in feet and on A4 for metric ones.
type Options struct {
	Paper    draw.PaperSize
	Only     []Part        // parts to print, in the packet's order; none: all
	Address  string        // where the app answers, for the codes on labels; empty: as the job says, else the piece's label alone
	Drawings []views.Sheet // of the same plan and paper, where they were laid out already; nil: laid out here
	Days     *build.Days   // of the same plan, where they were worked out already; nil: worked out here
	Offer    *price.Offer  // of the same plan, for the part that a customer reads; nil: no such part
}

// Page is one page.
type Page struct {
	*draw.Sheet
	Part  Part
	Title string // of the part, in the reader's language
	Label string // of the page within its part: saw 3
	State State
}

// Book is the packet.
type Book struct {
	Pages   []Page
	Outline []pdf.Entry
	info    pdf.Info
}

// PDF is the packet as one document.
func (b *Book) PDF() ([]byte, error) {
	pages := make([]pdf.Page, len(b.Pages))
	for i := range b.Pages {
		pages[i] = pdf.Page{Sheet: b.Pages[i].Sheet, Label: b.Pages[i].Label}
	}
	return pdf.Bytes(b.info, pages, b.Outline)
}

// Make makes the pages. The error names the drawing that cannot be laid out.
func Make(p *plan.Plan, w *words.Words, o Options) (*Book, error) {
	if o.Paper == (draw.PaperSize{}) {
		o.Paper = draw.Letter
		if p.Job.Units == measure.Metric {
			o.Paper = draw.A4
		}
	}
	if o.Address == "" && p.Job.Papers != nil {
		o.Address = p.Job.Papers.Address
	}
	b := &binder{Plan: p, words: w, o: o, format: page.Format{Size: o.Paper}}
	b.index()
	for _, part := range parts() {
		if part.name == Cover || !b.wanted(part.name) || part.name == Offer && o.Offer == nil {
			continue
		}
		if err := part.fill(b); err != nil {
			return nil, fmt.Errorf("the part %q of the packet: %w", part.name, err)
		}
	}
	if b.wanted(Cover) || len(b.sections) == 0 {
		b.coverPages()
	}
	return b.bind(), nil
}

// binder gathers the parts' pages.
type binder struct {
	*plan.Plan
	words    *words.Words
	o        Options
	format   page.Format
	sections []section
	pieces   map[string]int // by label, into Fit.Pieces
}

// section is one part's pages, before they are numbered.
type section struct {
	part   Part
	title  string
	pages  []leaf
	format page.Format
	marks  []mark          // entries of the outline below the part's own
	late   func(first int) // fills what tells page numbers: the part begins on page first
}

// leaf is one page of a section.
type leaf struct {
	sheet *draw.Sheet
	state State
	own   bool // a drawing: it has a title block of its own
	strip bool // filled with labels: one line above, one below
}

// mark is an entry of the outline within a section.
type mark struct {
	title string
	page  int
}

func (b *binder) index() {
	b.pieces = make(map[string]int, len(b.Fit.Pieces))
	for i := range b.Fit.Pieces {
		b.pieces[b.Fit.Pieces[i].Label] = i
	}
}

// say renders a message of the catalogues.
func (b *binder) say(key string, args ...phrase.Arg) string { return b.words.Text(key, args...) }

// length writes a length as the job's tape shows it.
func (b *binder) length(l measure.Length) string { return b.words.Length(l) }

// lengthOr writes a length, and nothing for none.
func (b *binder) lengthOr(l measure.Length) string {
	if l == 0 {
		return ""
	}
	return b.length(l)
}

func number(n int) string { return strconv.Itoa(n) }

func name(key, v string) phrase.Arg { return phrase.With(key, phrase.Name(v)) }

func count(key string, n int) phrase.Arg { return phrase.With(key, phrase.Count(int64(n))) }

func size(key string, l measure.Length) phrase.Arg { return phrase.With(key, phrase.Length(l)) }
