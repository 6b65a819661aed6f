package page_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// sound looks at sheets with the checks of package draw, which work from the
// finished marks alone.
func sound(t rapid.TB, sheets []*draw.Sheet) {
	for i, s := range sheets {
		if o := draw.Overlaps(s); len(o) > 0 {
			t.Errorf("sheet %d: %q stands on %q", i+1, o[0].A.Text, o[0].B.Text)
		}
		if o := draw.Outside(s); len(o) > 0 {
			t.Errorf("sheet %d: %q leaves the frame", i+1, o[0].Text)
		}
	}
}

// texts are all texts of sheets, in the order written.
func texts(sheets []*draw.Sheet) []string {
	var out []string
	for _, s := range sheets {
		for _, m := range s.Marks {
			if x, ok := m.(draw.Text); ok {
				out = append(out, x.Text)
			}
		}
	}
	return out
}

// text draws what people write: words, lengths, names without a break, letters
// with piles of marks, right to left, outside the basic plane, nothing.
func text(t *rapid.T, what string) string {
	word := rapid.SampledFrom([]string{"board", `11' 7 3/8"`, "A1-A2/c7", "tongue-and-groove", strings.Repeat("W", 90), "Z\u0301\u0302\u0303\u0316", "חווה", "🐴", "漢字", "1200 mm", "x", "\t", "½"})
	return strings.Join(rapid.SliceOfN(word, 0, 30).Draw(t, what), " ")
}

// Whatever is written, nothing stands on anything else and nothing leaves its
// frame, and every word of a table's cells is on paper.
func TestAnythingFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		format := page.Format{Size: rapid.SampledFrom([]draw.PaperSize{draw.A4, draw.Letter}).Draw(t, "paper"), Landscape: rapid.Bool().Draw(t, "landscape")}
		f := page.New(format)
		for range rapid.IntRange(1, 12).Draw(t, "blocks") {
			st := page.Style{Size: rapid.SampledFrom([]draw.Micron{0, page.Small, page.Large, page.Shout}).Draw(t, "size"), Face: rapid.SampledFrom([]draw.Face{draw.Regular, draw.Bold, draw.Condensed}).Draw(t, "face")}
			switch rapid.IntRange(0, 7).Draw(t, "what") {
			case 0:
				f.Heading(text(t, "heading"), page.Title1, 20*draw.MM)
			case 1:
				f.Text(text(t, "paragraph"), st)
			case 2:
				f.Item("!", text(t, "item"), st)
			case 3:
				f.Check(text(t, "check"), st)
			case 4:
				f.Signature(text(t, "name"), text(t, "date"))
			case 5:
				f.Picture(rapid.SampledFrom([]draw.Micron{10 * draw.MM, 500 * draw.MM}).Draw(t, "height"), func(r draw.PaperRect) []draw.Mark {
					return []draw.Mark{page.Box(r, draw.Thin)}
				})
			case 6:
				f.Keep(func() { f.Text(text(t, "kept"), st) })
			case 7:
				f.Table(table(t))
			}
		}
		sheets := f.Sheets()
		for _, s := range sheets {
			page.Watermark(s, "NOT MEASURED")
			page.Furnish(s, format, page.Furniture{Title: text(t, "title"), Issue: text(t, "issue"), Job: text(t, "job"), State: text(t, "state"), Caution: text(t, "caution"), Number: "Page 1 of 9"})
		}
		sound(t, sheets)
	})
}

func table(t *rapid.T) page.Table {
	out := page.Table{Size: rapid.SampledFrom([]draw.Micron{0, page.Body, page.Loud}).Draw(t, "size")}
	columns := rapid.IntRange(1, 8).Draw(t, "columns")
	for range columns {
		out.Columns = append(out.Columns, page.Column{Head: text(t, "head"), Wide: rapid.Bool().Draw(t, "wide"), Align: rapid.SampledFrom([]draw.Anchor{draw.Start, draw.Middle, draw.End}).Draw(t, "align")})
	}
	for range rapid.IntRange(0, 40).Draw(t, "rows") {
		if rapid.IntRange(0, 9).Draw(t, "group") == 0 {
			out.Rows = append(out.Rows, page.Row{Group: "group " + text(t, "group")})
			continue
		}
		var r page.Row
		for range columns {
			c := page.Cell{Tick: rapid.IntRange(0, 9).Draw(t, "tick") == 0, Write: rapid.IntRange(0, 9).Draw(t, "write") == 0}
			if !c.Tick && !c.Write {
				c.Text = text(t, "cell")
			}
			r.Cells = append(r.Cells, c)
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

// A table's heads stand on every sheet that it goes on to, and each of its rows
// stands once.
func TestHeadsAreRepeated(t *testing.T) {
	f := page.New(page.Format{Size: draw.A4})
	tab := page.Table{Columns: []page.Column{{Head: "label"}, {Head: "length", Align: draw.End}}}
	const rows = 200
	for i := range rows {
		tab.Rows = append(tab.Rows, page.Cells(fmt.Sprintf("row %d", i), `7' 0"`))
	}
	f.Table(tab)
	if len(f.Sheets()) < 3 {
		t.Fatalf("%d sheets", len(f.Sheets()))
	}
	for i, s := range f.Sheets() {
		if n := strings.Count(strings.Join(texts([]*draw.Sheet{s}), "|"), "label"); n != 1 {
			t.Errorf("sheet %d has the heads %d times", i+1, n)
		}
	}
	all := strings.Join(texts(f.Sheets()), "|") + "|"
	for i := range rows {
		if n := strings.Count(all, fmt.Sprintf("|row %d|", i)); n != 1 {
			t.Errorf("row %d stands %d times", i, n)
		}
	}
	sound(t, f.Sheets())
}

// A heading never stands alone at the foot: what follows comes with it.
func TestHeadingStaysWithText(t *testing.T) {
	f := page.New(page.Format{Size: draw.Letter})
	for f.Left() > 20*draw.MM {
		f.Text("filler", page.Style{})
	}
	before := f.Page()
	f.Heading("alone", page.Title1, 15*draw.MM)
	f.Text("what follows", page.Style{})
	if f.Page() != before+1 {
		t.Fatalf("the heading stands on sheet %d with %d of room", f.Page()+1, f.Left())
	}
}

// A length is never divided between two lines: who reads 11' and then 7 3/8" on
// the next line cuts wrong.
func TestLengthsStayWhole(t *testing.T) {
	f := page.New(page.Format{Size: draw.A4})
	long := strings.Repeat("a very long label that takes the room ", 4)
	f.Table(page.Table{Size: page.Loud, Columns: []page.Column{{Head: "mark", Align: draw.End, Face: draw.Bold}, {Head: "labels", Wide: true}, {Head: "more"}},
		Rows: []page.Row{page.Cells(`11' 11 11/16"`, long, long)}})
	found := false
	for _, s := range texts(f.Sheets()) {
		found = found || s == `11' 11 11/16"`
	}
	if !found {
		t.Errorf("%q", texts(f.Sheets()))
	}
}

// What does not fit is taken back as if it had never been written.
func TestTryTakesBack(t *testing.T) {
	f := page.New(page.Format{Size: draw.A4})
	f.Text("first", page.Style{})
	left := f.Left()
	if f.Try(func() { f.Picture(f.Tall(), func(draw.PaperRect) []draw.Mark { return nil }) }) {
		t.Fatal("a picture as tall as a sheet fitted under a line")
	}
	if f.Left() != left || len(f.Sheets()) != 1 || len(texts(f.Sheets())) != 1 {
		t.Errorf("%d left of %d, %d sheets, %q", f.Left(), left, len(f.Sheets()), texts(f.Sheets()))
	}
}

// The watermark is no text: whoever reads the page's text does not meet it, and it
// lies under everything else.
func TestWatermarkIsNoText(t *testing.T) {
	f := page.New(page.Format{Size: draw.A4})
	f.Text("words", page.Style{})
	s := f.Sheets()[0]
	page.Watermark(s, "NOT MEASURED")
	if got := texts([]*draw.Sheet{s}); len(got) != 1 || s.Layers[0] != page.LayerWatermark {
		t.Errorf("%q, painted first: %s", got, s.Layers[0])
	}
	m := s.Marks[len(s.Marks)-1].(draw.Stroke)
	if m.Fill.Grey < 90 || m.Pen.Weight != 0 {
		t.Errorf("%+v", m.Fill)
	}
	// From corner to corner: it reaches over two thirds of the sheet's height.
	lo, hi := s.Height, draw.Micron(0)
	for _, r := range m.Runs {
		for _, p := range r {
			lo, hi = min(lo, p.Y), max(hi, p.Y)
		}
	}
	if lo < 0 || hi > s.Height || (hi-lo)*3 < s.Height*2 {
		t.Errorf("from %d to %d of %d", lo, hi, s.Height)
	}
}
