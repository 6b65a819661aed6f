// Package pdf prints sheets as one PDF document: vectors, and text in embedded
// subsets of the fonts that package draw measures with.
//
// In come [Page]s, each a sheet of package draw with the label that a reader
// shows for it, an outline, and what the document says about itself; out goes
// the document. What always holds: the marks are those of the sheets, at their
// places to a micrometre; the same input gives the same bytes on every run and
// platform, since nothing in it comes from a clock, a map or a rounding that may
// differ between processors; a page is packed as soon as it is drawn, so that a
// thousand of them need little memory.
//
// The fonts are subset and described by codeberg.org/go-pdf/fpdf (fonts.go). The
// document around them is written here, after ISO 32000-1 (from memory): content
// streams in whole micrometres, page labels, no date that nobody gave.
package pdf

import (
	"bytes"
	"io"

	"stallwright/paper/draw"
)

// Page is one page.
type Page struct {
	Sheet *draw.Sheet
	Label string // as readers show it beside the page's number; empty: its number
}

// Entry is one line of the outline (the bookmarks).
type Entry struct {
	Title string
	Level int // 0 is the highest; at most one more than the entry before
	Page  int // index into the pages
}

// Info is what the document says about itself.
type Info struct {
	Title    string
	Subject  string
	Language string // such as "en"; empty where none is stated
	Date     string // as 2026-05-04; anything else, and nothing, leaves the date out
}

// Write prints pages. The error is of the writer, of a document without pages,
// or of an outline that points outside them.
func Write(w io.Writer, info Info, pages []Page, outline []Entry) error {
	data, err := Bytes(info, pages, outline)
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

// Bytes is the document that Write writes.
func Bytes(info Info, pages []Page, outline []Entry) ([]byte, error) {
	if err := checked(pages, outline); err != nil {
		return nil, err
	}
	d := &document{}
	d.out.WriteString("%PDF-1.5\n%\xe2\xe3\xcf\xd3\n")
	used := d.pages(pages)
	if err := d.fonts(used); err != nil {
		return nil, err
	}
	d.outline(outline)
	d.close(info, pages)
	return d.out.Bytes(), nil
}

// document is a PDF being written. Objects may be written in any order; each has
// its number from the start.
type document struct {
	out     bytes.Buffer
	offsets []int // of each object, from number 1; 0 for one not written yet
	sizes   []pageObjects
	first   int // number of the first outline entry; 0 for none
}

// Numbers of the objects that others point to.
const (
	catalogNumber = 1
	pagesNumber   = 2
	infoNumber    = 3
	outlineNumber = 4
	fontsNumber   = 5                                // of the first font
	perFont       = 7                                // objects of a font
	pageNumber    = fontsNumber + perFont*len(faces) // of the first page; its content has the next
)

// pageObject is the number of a page, by index.
func pageObject(i int) int { return pageNumber + 2*i }

// object notes where the next object starts.
func (d *document) object(number int) {
	for len(d.offsets) < number {
		d.offsets = append(d.offsets, 0)
	}
	d.offsets[number-1] = d.out.Len()
	d.printf("%d 0 obj\n", number)
}
