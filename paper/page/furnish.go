package page

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"stallwright/paper/draw"
)

// Furniture is what stands round the text of a sheet.
type Furniture struct {
	Title    string // of the part, bold
	Issue    string // revision and date
	Job      string // which job, which farm
	Short    string // the job alone, where both are too long
	State    string // drawn, measured or released, in words; bold
	Caution  string // one line
	Number   string // page n of m
	Subtitle string // beside the title, such as what a page of a part is about
}

// Furnish writes head and foot on a sheet that a Flow of the same format filled.
func Furnish(s *draw.Sheet, f Format, v Furniture) {
	f = f.whole()
	r := s.Frame
	wide := r.Max.X - r.Min.X
	put := func(b Block, x, top, w draw.Micron) {
		s.Marks = append(s.Marks, b.Place(LayerFrame, draw.PaperPoint{X: x, Y: top}, w)...)
	}
	line := func(y draw.Micron, w draw.Weight) {
		s.Marks = append(s.Marks, draw.Stroke{Layer: LayerFrame, Pen: draw.Pen{Weight: w}, Runs: [][]draw.PaperPoint{{{X: r.Min.X, Y: y}, {X: r.Max.X, Y: y}}}})
	}
	const between = 4 * draw.MM
	// Two lines above: title and issue, job and state.
	issue := Fit(v.Issue, Style{Size: Large, Align: draw.End}, wide*45/100)
	title := Fit(v.Title, Style{Size: Loud, Face: draw.Bold}, wide-issue.wide-between)
	put(fitHigh(issue, 6*draw.MM), r.Max.X-issue.wide, r.Max.Y, issue.wide)
	put(fitHigh(title, 7*draw.MM), r.Min.X, r.Max.Y, title.wide)
	state := Fit(v.State, Style{Size: Body, Face: draw.Bold, Align: draw.End}, wide*55/100)
	job := Fit(v.Job, Style{Size: Body}, wide-state.wide-between)
	if v.Short != "" && draw.Condensed.Extent(draw.Clean(v.Job), Least).Width > wide-state.wide-between {
		job = Fit(v.Short, Style{Size: Body}, wide-state.wide-between)
	}
	put(fitHigh(job, 6*draw.MM), r.Min.X, r.Max.Y-8500, job.wide)
	put(fitHigh(state, 6*draw.MM), r.Max.X-state.wide, r.Max.Y-8500, state.wide)
	line(r.Max.Y-f.Head+3*draw.MM, draw.Heavy)
	// One line below: caution and number.
	line(r.Min.Y+f.Foot-3*draw.MM, draw.Light)
	number := Fit(v.Number, Style{Size: Body, Face: draw.Bold, Align: draw.End}, wide/3)
	caution := Fit(v.Caution, Style{Size: Least}, wide-number.wide-between)
	base := r.Min.Y + f.Foot - 4500
	put(fitHigh(number, 6*draw.MM), r.Max.X-number.wide, base, number.wide)
	put(fitHigh(caution, 6*draw.MM), r.Min.X, base, caution.wide)
}

// fitHigh leaves out what would stand out of its line, such as letters under
// piles of marks: nothing but a name can do so, and names stand elsewhere too.
func fitHigh(b Block, most draw.Micron) Block {
	for len(b.lines) > 0 && b.Height() > most {
		if b.style.Size > Least {
			b = Fit(b.lines[0], Style{Size: Least, Face: b.style.Face, Align: b.style.Align}, b.wide)
			continue
		}
		if b.style.Size > draw.MinText {
			b = Fit(b.lines[0], Style{Size: draw.MinText, Face: b.style.Face, Align: b.style.Align}, b.wide)
			continue
		}
		b.lines = nil
	}
	return b
}

// watermarkGrey is light enough to read over: PDF and SVG print it under
// everything else.
const watermarkGrey = 92

// Watermark paints a word across a sheet, from corner to corner, under everything
// else: outlines of letters, so that it is no text to whoever reads the text.
func Watermark(s *draw.Sheet, text string) {
	runs, wide := outline(draw.Clean(text))
	if wide == 0 {
		return
	}
	// The letters' capitals are 1000 high in outline.
	long := (s.Width + s.Height) * 55 / 100
	size := min(long*1000/wide, 34*draw.MM)
	turn := 52 * draw.Degree
	if s.Width > s.Height {
		turn = 36 * draw.Degree
	}
	dir, _ := draw.Curve{Radius: 1_000_000, Start: turn}.Ends()
	centre := draw.PaperPoint{X: s.Width / 2, Y: s.Height / 2}
	for _, r := range runs {
		for i, p := range r {
			x, y := (p.X-wide/2)*size/1000, (p.Y-500)*size/1000
			r[i] = draw.PaperPoint{X: centre.X + (x*dir.X-y*dir.Y)/1_000_000, Y: centre.Y + (x*dir.Y+y*dir.X)/1_000_000}
		}
	}
	if len(s.Layers) == 0 || s.Layers[0] != LayerWatermark {
		s.Layers = append([]string{LayerWatermark}, s.Layers...)
	}
	s.Marks = append(s.Marks, draw.Stroke{Layer: LayerWatermark, Fill: draw.Tint(watermarkGrey), Closed: true, Runs: runs})
}

var letters struct {
	once sync.Once
	mu   sync.Mutex
	font *sfnt.Font
	buf  sfnt.Buffer
	cap  int64
}

// outline is a word in closed runs, capitals 1000 high, and how wide it is.
func outline(text string) ([][]draw.PaperPoint, draw.Micron) {
	letters.once.Do(func() {
		f, err := sfnt.Parse(draw.TTF(draw.Bold))
		if err != nil { // the file is compiled in, so this is a broken build
			panic("page: built-in font: " + err.Error())
		}
		letters.font = f
	})
	letters.mu.Lock()
	defer letters.mu.Unlock()
	em := fixed.Int26_6(letters.font.UnitsPerEm()) // one 26.6 unit is one font unit
	capital, err := letters.font.GlyphIndex(&letters.buf, 'H')
	if err != nil {
		return nil, 0
	}
	bounds, _, err := letters.font.GlyphBounds(&letters.buf, capital, em, font.HintingNone)
	if err != nil {
		return nil, 0
	}
	letters.cap = -int64(bounds.Min.Y)
	unit := func(v fixed.Int26_6) draw.Micron { return draw.Micron(int64(v) * 1000 / letters.cap) }
	var out [][]draw.PaperPoint
	x := draw.Micron(0)
	for _, r := range text {
		g, err := letters.font.GlyphIndex(&letters.buf, r)
		if err != nil {
			continue
		}
		segments, err := letters.font.LoadGlyph(&letters.buf, g, em, nil)
		if err != nil {
			continue
		}
		at := func(p fixed.Point26_6) draw.PaperPoint { return draw.PaperPoint{X: x + unit(p.X), Y: -unit(p.Y)} }
		for _, s := range segments {
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				out = append(out, []draw.PaperPoint{at(s.Args[0])})
			case sfnt.SegmentOpLineTo:
				out[len(out)-1] = append(out[len(out)-1], at(s.Args[0]))
			case sfnt.SegmentOpQuadTo:
				last := out[len(out)-1]
				a, b, c := last[len(last)-1], at(s.Args[0]), at(s.Args[1])
				for t := draw.Micron(1); t <= 4; t++ { // four chords a curve
					u := 4 - t
					last = append(last, draw.PaperPoint{X: (a.X*u*u + 2*b.X*u*t + c.X*t*t) / 16, Y: (a.Y*u*u + 2*b.Y*u*t + c.Y*t*t) / 16})
				}
				out[len(out)-1] = last
			}
		}
		adv, err := letters.font.GlyphAdvance(&letters.buf, g, em, font.HintingNone)
		if err == nil {
			x += unit(adv)
		}
	}
	return out, x
}

// Edge writes one line under the frame of a sheet that has a title block of its
// own: a caution and the page's number.
func Edge(s *draw.Sheet, caution, number string) {
	r := s.Frame
	oneLine(s, r.Min.X, r.Min.Y-1200, r.Max.X-r.Min.X, draw.MinText, caution, number)
}

// Strip writes one line near the upper edge of a sheet and one near the lower,
// some way in: for sheets that are filled with labels.
func Strip(s *draw.Sheet, in draw.Micron, v Furniture) {
	wide := s.Width - 2*in
	state := v.State
	if state != "" {
		state += "  ·  "
	}
	oneLine(s, in, s.Height-7*draw.MM, wide, draw.MinText, v.Title+"  ·  "+v.Job, state+v.Issue)
	oneLine(s, in, 10*draw.MM, wide, draw.MinText, v.Caution, v.Number)
}

// oneLine writes two texts on one line: the right one whole, as far as two thirds
// hold it, the left one in what is left.
func oneLine(s *draw.Sheet, x, top, wide, size draw.Micron, left, right string) {
	r := fitHigh(Fit(right, Style{Size: size, Face: draw.Bold, Align: draw.End}, wide*2/3), 5*draw.MM)
	l := fitHigh(Fit(left, Style{Size: size}, wide-r.wide-4*draw.MM), 5*draw.MM)
	up := max(l.up, r.up)
	s.Marks = append(s.Marks, l.Place(LayerFrame, draw.PaperPoint{X: x, Y: top - up + l.up}, l.wide)...)
	s.Marks = append(s.Marks, r.Place(LayerFrame, draw.PaperPoint{X: x + wide - r.wide, Y: top - up + r.up}, r.wide)...)
}
