package draw

import (
	"strings"

	"stallwright/engine/measure"
)

// PaperSize is a size of paper, standing upright.
type PaperSize struct {
	Name          string
	Width, Height Micron
}

// Paper sizes: ISO 216 for the A sizes, ANSI/ASME Y14.1 for Letter (8.5 x 11
// in) and Tabloid (11 x 17 in). Values to copy, not to assign to.
var (
	A4      = PaperSize{"A4", 210 * MM, 297 * MM}
	A3      = PaperSize{"A3", 297 * MM, 420 * MM}
	Letter  = PaperSize{"Letter", 215_900, 279_400}
	Tabloid = PaperSize{"Tabloid", 279_400, 431_800}
)

// Margins are the strips outside the frame. The zero value means 20 mm at the
// left for filing and 10 mm elsewhere (ISO 5457, from memory).
type Margins struct{ Left, Right, Top, Bottom Micron }

// TitleBlock is what the block at the lower right says. Empty fields are left
// blank.
type TitleBlock struct {
	Job      string
	Title    string // of the sheet
	Date     string // as the caller wants it printed; there is no clock here
	Revision string
	State    string // such as "drawn, not measured": printed bold
	Number   int    // sheet Number of Of; 0 leaves the field blank
	Of       int
}

// Page is everything about a sheet but the drawings on it.
type Page struct {
	Size      PaperSize
	Landscape bool
	Margins   Margins
	System    measure.System // chooses scales, scale bar and dimension text
	Block     TitleBlock
	Notes     []string // numbered in the notes area
	Wording   Wording  // of what the sheet itself writes
	Columns   int      // views side by side; 0 lets Lay choose
}

// View is one drawing on a page.
type View struct {
	Drawing    *Drawing
	Caption    string // under the view
	Scale      Scale  // zero: the largest standard scale that fits
	Coarsest   Scale  // zero: no limit; else the smallest scale still legible
	NotToScale bool   // fit to the space and say so
	Room       Micron // kept free round the drawing for labels
	North      *Angle // direction of north on the sheet; nil for no arrow
	NoBar      bool   // leave the scale bar out
}

// Mark is one thing on a sheet: a Stroke, Curve or Text.
type Mark interface {
	// OnLayer is the name of the layer that the mark is on.
	OnLayer() string
}

// Stroke is one or more runs of straight lines drawn with one pen. Closed joins
// the ends of each run; a closed stroke may be filled, by the even-odd rule.
type Stroke struct {
	Layer  string
	Pen    Pen  // weight zero draws no line
	Fill   Fill // none, white or tint
	Closed bool
	Runs   [][]PaperPoint
}

// Curve is an arc; a sweep of 360 degrees is a circle, which may be filled.
type Curve struct {
	Layer  string
	Pen    Pen
	Fill   Fill // none, white or tint
	Centre PaperPoint
	Radius Micron
	Start  Angle
	Sweep  Angle
}

// Ends are the first and the last point of the arc.
func (c Curve) Ends() (from, to PaperPoint) {
	return polar(c.Centre, c.Radius, c.Start), polar(c.Centre, c.Radius, c.Start+c.Sweep)
}

// Text is one line of clean text on its baseline.
type Text struct {
	Layer    string
	At       PaperPoint // the point of the baseline named by Anchor
	Text     string
	Height   Micron // of capital letters
	Face     Face
	Anchor   Anchor
	Rotation Angle
}

// OnLayer implements Mark.
func (s Stroke) OnLayer() string { return s.Layer }

// OnLayer implements Mark.
func (c Curve) OnLayer() string { return c.Layer }

// OnLayer implements Mark.
func (t Text) OnLayer() string { return t.Layer }

// Placed tells where a view stands on its sheet.
type Placed struct {
	Caption string
	Scale   Scale
	Area    PaperRect  // that its labels may use
	Origin  PaperPoint // where the model point Corner is drawn
	Corner  Point      // lower left of the drawing's extents
}

// ToPaper maps a model point to the sheet, to the nearest micrometre.
func (p Placed) ToPaper(m Point) PaperPoint {
	return PaperPoint{p.Origin.X + p.Scale.Paper(m.X-p.Corner.X), p.Origin.Y + p.Scale.Paper(m.Y-p.Corner.Y)}
}

// ToModel is the model point drawn at a place of the sheet.
func (p Placed) ToModel(at PaperPoint) Point {
	return Point{p.Corner.X + p.Scale.Model(at.X-p.Origin.X), p.Corner.Y + p.Scale.Model(at.Y-p.Origin.Y)}
}

// Sheet is a finished page: a display list in paper space.
type Sheet struct {
	Page      Page
	Width     Micron
	Height    Micron
	Frame     PaperRect // no mark lies outside it
	Layers    []string  // in painting order
	Marks     []Mark    // in painting order within their layers
	Views     []Placed
	Key       []string // what the numbered balloons stand for, from number 1
	Shortened []string // full texts of title block fields and captions that had to be cut short

	block PaperRect // the title block
}

// Title names the sheet in one line: job, title and sheet number.
func (s *Sheet) Title() string {
	parts := []string{}
	for _, p := range []string{s.Page.Block.Job, s.Page.Block.Title, s.Page.Wording.sheetOf(s.Page.Block.Number, s.Page.Block.Of)} {
		if p = clean(p); p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " – ")
}

// Description says in words what the sheet holds, for those who cannot see it.
func (s *Sheet) Description() string {
	var parts []string
	add := func(label, text string) {
		if text = clean(text); text != "" {
			parts = append(parts, label+text)
		}
	}
	for _, v := range s.Views {
		add("", strings.TrimSpace(clean(v.Caption)+" "+s.Page.Wording.scale(v.Scale.Words)))
	}
	w := &s.Page.Wording
	head := func(word, english string) string { return strings.ToLower(or(word, english)) + ": " }
	add(head(w.State, "State"), s.Page.Block.State)
	add(head(w.Date, "Date"), s.Page.Block.Date)
	add(head(w.Revision, "Revision"), s.Page.Block.Revision)
	for i, k := range s.Key {
		add(itoa(i+1)+": ", k)
	}
	for _, n := range s.Page.Notes {
		add(head(w.Note, "Note"), n)
	}
	return strings.Join(parts, "; ")
}

// onLayer lists the marks of a layer.
func (s *Sheet) onLayer(name string) []Mark {
	var out []Mark
	for _, m := range s.Marks {
		if m.OnLayer() == name {
			out = append(out, m)
		}
	}
	return out
}

func (s *Sheet) put(m ...Mark) { s.Marks = append(s.Marks, m...) }

// useLayer adds a layer after those known.
func (s *Sheet) useLayer(names ...string) {
	for _, name := range names {
		known := name == ""
		for _, l := range s.Layers {
			known = known || l == name
		}
		if !known {
			s.Layers = append(s.Layers, name)
		}
	}
}
