package draw

import (
	"testing"

	"stallwright/engine/measure"
)

// The spans of a chain must say what the points say: sums in integers, and
// Pythagorean triples for dimensions along their points.
func TestDimensionsSayTheModelLength(t *testing.T) {
	for _, c := range []struct {
		d    Dim
		sys  measure.System
		want []string
	}{
		{Dim{Points: []Point{pt(0, 0), pt(100*mil, 7*mil), pt(3700*mil, 0)}}, measure.Metric, []string{"100", "3600"}},
		{Dim{Points: []Point{pt(0, 0), pt(5*mil, -2500*mil)}, Side: Left}, measure.Metric, []string{"2500"}},
		{Dim{Points: []Point{pt(0, 0), pt(3000*mil, 4000*mil), pt(-5000*mil, 4000*mil)}, Side: Along}, measure.Metric, []string{"5000", "8000"}},
		{Dim{Points: []Point{pt(0, 0), pt(20*foot, 21*foot)}, Side: Along}, measure.FeetInches, []string{`29' 0"`}},
		{Dim{Points: []Point{pt(0, 0), pt(80000*measure.Metre, 60000*measure.Metre)}, Side: Along}, measure.Metric, []string{"100000000"}},
		{Dim{Points: []Point{pt(0, 0), pt(11*foot+7*inch+5*inch/8, 0)}}, measure.FeetInches, []string{`11' 7 5/8"`}},
		{Dim{Points: []Point{pt(0, 0), pt(12*foot, 0)}, Texts: []string{"clear 12 ft"}}, measure.FeetInches, []string{"clear 12 ft"}},
	} {
		for i, want := range c.want {
			if got := c.d.text(i, c.sys); got != want {
				t.Errorf("span %d of %v says %q, want %q", i, c.d.Points, got, want)
			}
		}
	}
}

// The dimension line must be as long as its text says, at the sheet's scale.
func TestDimensionLinesAreAsLongAsTheirText(t *testing.T) {
	d := NewDrawing()
	d.Add(Rectangle("", seenPen, Fill{}, pt(0, 0), pt(3600*mil, 2000*mil)),
		&Dim{Layer: "chain", Points: []Point{pt(0, 0), pt(1200*mil, 0), pt(3600*mil, 0)}, Side: Below, Tier: 1})
	s, err := Lay(landscapeA4(), View{Drawing: d})
	if err != nil {
		t.Fatal(err)
	}
	ratio := s.Views[0].Scale.Ratio
	var line []PaperPoint
	texts := map[string]PaperPoint{}
	for _, m := range s.onLayer("chain") {
		switch m := m.(type) {
		case Stroke:
			if r := m.Runs[0]; m.Pen == (Pen{Weight: Thin}) {
				line = r
			}
		case Text:
			texts[m.Text] = m.At
		}
	}
	if got := int64(line[1].X-line[0].X) * ratio; got != 3_600_000 { // micrometres
		t.Errorf("the dimension line is %d µm long at full size, want 3 600 000", got)
	}
	for text, mid := range map[string]int64{"1200": 600_000, "2400": 2_400_000} {
		at, ok := texts[text]
		if !ok || int64(at.X-line[0].X)*ratio != mid {
			t.Errorf("text %s stands at %v, want the middle of its span", text, at)
		}
		if at.Y <= line[0].Y { // ISO 129-1 (from memory): above its line
			t.Errorf("text %s is not above its line", text)
		}
	}
}

// A chain of spans too narrow for their text still shows every text once.
func TestNarrowSpansAreAllWritten(t *testing.T) {
	for _, side := range []Side{Above, Below, Left, Right} {
		d := NewDrawing()
		var chain []Point
		for i := range measure.Length(25) {
			p := pt(i*(40+i)*mil, 0)
			if side == Left || side == Right {
				p = pt(0, p.X)
			}
			chain = append(chain, p)
		}
		d.Add(NewLine("", seenPen, pt(0, 0), pt(2000*mil, 2000*mil)), &Dim{Points: chain, Side: side, Tier: 1})
		s, err := Lay(landscapeA4(), View{Drawing: d, Scale: ScaleOf(20, measure.Metric)})
		if err != nil {
			t.Fatal(err)
		}
		checkSheet(t, s)
		seen := map[string]int{}
		for _, b := range s.Texts() {
			seen[b.Text]++
		}
		for i := range 24 {
			if text := itoa((i+1)*(41+i) - i*(40+i)); seen[text] != 1 {
				t.Errorf("side %d: %s is written %d times", side, text, seen[text])
			}
		}
	}
}
