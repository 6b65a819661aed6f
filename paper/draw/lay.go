package draw

import (
	"errors"
	"fmt"
	"strconv"
)

func itoa(n int) string { return strconv.Itoa(n) }

// keySizes are tried in turn for the room of the key; the first leaves it out.
var keySizes = [...]Micron{0, 30 * MM, 55 * MM, 85 * MM, 120 * MM}

var errKeyRoom = errors.New("the key to the numbered balloons needs more room than the sheet has")

// Lay puts views on a page. Each view has a cell of its own, filled from the
// upper left in reading order. The error says which view cannot be drawn and
// what would help; there is never a partial sheet.
func Lay(p Page, views ...View) (*Sheet, error) {
	if err := p.check(views); err != nil {
		return nil, err
	}
	var err error
	for _, w := range keySizes {
		var s *Sheet
		if s, err = lay(p, views, w); err == nil {
			return s, s.verify()
		}
		if !errors.Is(err, errKeyRoom) {
			return nil, err
		}
	}
	return nil, err
}

func (p Page) check(views []View) error {
	if p.Size.Width < 100*MM || p.Size.Height < 100*MM || max(p.Size.Width, p.Size.Height) > 1200*MM {
		return fmt.Errorf("the paper is %s x %s: sheets of 100 mm to 1200 mm can be laid out", mmText(p.Size.Width), mmText(p.Size.Height))
	}
	if m := p.Margins; min(m.Left, m.Right, m.Top, m.Bottom) < 0 {
		return errors.New("a margin is below zero")
	}
	if len(views) == 0 || len(views) > 64 {
		return fmt.Errorf("a sheet holds 1 to 64 views, not %d", len(views))
	}
	for i, v := range views {
		if v.Drawing == nil {
			return fmt.Errorf("%s has no drawing", viewName(i, v))
		}
		if r := max(v.Scale.Ratio, v.Coarsest.Ratio); r > 1_000_000 {
			return fmt.Errorf("%s: a scale of 1:%d is beyond any drawing", viewName(i, v), r)
		}
		if err := v.Drawing.check(); err != nil {
			return fmt.Errorf("%s: %w", viewName(i, v), err)
		}
	}
	return nil
}

func viewName(i int, v View) string {
	if c := clean(v.Caption); c != "" {
		return fmt.Sprintf("view %d (%s)", i+1, shorten(c, 40))
	}
	return fmt.Sprintf("view %d", i+1)
}

// newSheet is the empty page with its frame.
func newSheet(p Page) *Sheet {
	w, h := p.Size.Width, p.Size.Height
	if p.Landscape {
		w, h = h, w
	}
	m := p.Margins
	if m == (Margins{}) {
		m = Margins{Left: 20 * MM, Right: 10 * MM, Top: 10 * MM, Bottom: 10 * MM}
	}
	return &Sheet{Page: p, Width: w, Height: h,
		Frame: PaperRect{PaperPoint{m.Left, m.Bottom}, PaperPoint{w - m.Right, h - m.Top}}}
}

func lay(p Page, views []View, keySize Micron) (*Sheet, error) {
	s := newSheet(p)
	for _, v := range views {
		s.useLayer(v.Drawing.layers...)
		for _, it := range v.Drawing.items {
			s.useLayer(it.layer())
		}
	}
	s.useLayer(LayerDimension, LayerText, LayerFrame)
	space, err := s.furnish(views)
	if err != nil {
		return nil, err
	}
	key := s.keyArea(&space, keySize)
	for i, cell := range p.cells(space, len(views)) {
		v := &viewLayout{page: p, sheet: s, looking: withKey}
		if keySize == 0 {
			v.looking = withoutKey
		}
		view := views[i]
		area := cell.inset(2 * MM)
		area.Min.Y += captionHeight
		if area.width() < 20*MM || area.height() < 20*MM {
			return nil, fmt.Errorf("%s has no room: use larger paper or fewer views", viewName(i, view))
		}
		if err := v.draw(view, area); err != nil {
			return nil, fmt.Errorf("%s: %w", viewName(i, view), err)
		}
		s.Key = append(s.Key, v.key...)
		s.Views = append(s.Views, v.placed)
		s.caption(view, v.placed, cell)
	}
	if err := s.writeKey(key); err != nil {
		return nil, err
	}
	s.titleBlockScale()
	s.interrupt()
	return s, nil
}

// cells divides the space among n views.
func (p Page) cells(space PaperRect, n int) []PaperRect {
	cols := p.Columns
	if cols <= 0 {
		cols = 1
		for cols*cols < n {
			cols++
		}
		if n == 2 && space.height() > space.width() {
			cols = 1
		}
	}
	cols = min(cols, n)
	rows := (n + cols - 1) / cols
	var out []PaperRect
	for i := range n {
		c, r := Micron(i%cols), Micron(i/cols)
		out = append(out, PaperRect{
			PaperPoint{space.Min.X + space.width()*c/Micron(cols), space.Max.Y - space.height()*(r+1)/Micron(rows)},
			PaperPoint{space.Min.X + space.width()*(c+1)/Micron(cols), space.Max.Y - space.height()*r/Micron(rows)},
		})
	}
	return out
}

// verify is the last look before a sheet leaves: texts that clash were fixed in
// place by the caller, since placed texts never do.
func (s *Sheet) verify() error {
	if o := Overlaps(s); len(o) > 0 {
		return fmt.Errorf("the texts %q and %q stand on each other (%d such pairs): make one of them a label, which is moved clear",
			shorten(o[0].A.Text, 40), shorten(o[0].B.Text, 40), len(o))
	}
	if o := Outside(s); len(o) > 0 {
		return fmt.Errorf("the text %q leaves the sheet's frame: make it a label or allow more room round the drawing", shorten(o[0].Text, 40))
	}
	return nil
}
