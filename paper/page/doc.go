// Package page sets running text on sheets of package draw: headings,
// paragraphs, lists, tables that go on over pages, check boxes, lines to sign
// on, pictures. In come texts in the reader's language; out go sheets with the
// same kinds of mark as drawings, so that SVG and PDF print the same page.
//
// A [Flow] fills one sheet after another from top to bottom. What always holds
// of its sheets: no two texts overlap and none leaves the frame, whatever the
// texts are; no text of a page is lower than 3 mm, measured by its capitals (but for
// the line on the margin of labels and drawings), none is coloured; a row of a table, a
// check box or a kept group is never divided between pages unless it is taller
// than one; the same calls give the same marks.
//
// What stands on every sheet, and how many there are, is known only at the end:
// [Furnish] adds head, foot and watermark to finished sheets.
package page

import "stallwright/paper/draw"

// Layers of a sheet, in painting order.
const (
	LayerWatermark = "watermark"
	LayerBody      = "body"
	LayerFrame     = draw.LayerFrame
)

// Format is what pages have in common.
type Format struct {
	Size      draw.PaperSize
	Landscape bool
	Margins   draw.Margins // zero: 18 mm at the left for filing, 12 mm elsewhere
	Head      draw.Micron  // kept for what Furnish writes above; zero: 19 mm
	Foot      draw.Micron  // and below; zero: 11 mm
}

// whole fills in what was left to us.
func (f Format) whole() Format {
	if f.Margins == (draw.Margins{}) {
		f.Margins = draw.Margins{Left: 18 * draw.MM, Right: 12 * draw.MM, Top: 12 * draw.MM, Bottom: 12 * draw.MM}
	}
	if f.Head == 0 {
		f.Head = 19 * draw.MM
	}
	if f.Foot == 0 {
		f.Foot = 11 * draw.MM
	}
	return f
}

// Style is how a text is set.
type Style struct {
	Size  draw.Micron // height of capitals; zero: Body
	Face  draw.Face
	Align draw.Anchor // Start, Middle or End within its width
}

// Sizes of text, by the height of its capitals. Least is what no text of a page
// goes below: it is read at arm's length. What does not fit goes on over a sheet.
const (
	Least  draw.Micron = 3_000       // 12 point letters
	Small              = Least       // captions, notes
	Body               = Least       // running text
	Large              = draw.Text35 // checks, what a hand in a glove looks for
	Title2             = draw.Text35 // second headings
	Title1             = 4_500       // first headings
	Loud               = draw.Text50 // saw tickets
	Shout              = draw.Text70 // what is read from arm's length
	rule               = 400         // white under a line of text
	gap                = 2 * draw.MM // between blocks
	indent             = 5_500       // of lists and check boxes
	square             = 4 * draw.MM // a check box
	write              = 9 * draw.MM // height of a line to write on
	room               = 4 * draw.MM // to write below a text that fills a box
	hair               = draw.Thin   // rules of tables
	thick              = draw.Heavy  // rules under heads
)
