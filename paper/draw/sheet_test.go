package draw

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/measure"
)

// isoWeights are the widths of lines of ISO 128-2 that may appear.
var isoWeights = []Weight{0, Thin, Light, Medium, Heavy, Extra}

// checkSheet asserts what the package promises of every sheet.
func checkSheet(t interface{ Errorf(string, ...any) }, s *Sheet) {
	for _, o := range Overlaps(s) {
		t.Errorf("%q and %q overlap", o.A.Text, o.B.Text)
	}
	for _, b := range Outside(s) {
		t.Errorf("%q leaves the frame", b.Text)
	}
	within := func(p PaperPoint) {
		if !s.Frame.holds(p) {
			t.Errorf("a line leaves the frame at %v", p)
		}
	}
	for _, m := range s.Marks {
		if !slices.Contains(s.Layers, m.OnLayer()) {
			t.Errorf("layer %q is not listed", m.OnLayer())
		}
		switch m := m.(type) {
		case Stroke:
			if !slices.Contains(isoWeights, m.Pen.Weight) {
				t.Errorf("a line is %d wide", m.Pen.Weight)
			}
			for _, r := range m.Runs {
				for _, p := range r {
					within(p)
				}
			}
		case Curve:
			for _, p := range m.chords() {
				within(p)
			}
		case Text:
			if m.Height < 2500 { // ISO 3098-0: 2.5 mm, the least height this package allows
				t.Errorf("%q is %d high", m.Text, m.Height)
			}
		}
	}
}

func TestSamplesKeepThePromises(t *testing.T) {
	all := samples()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		s, err := all[name]()
		if err != nil {
			t.Fatal(err)
		}
		t.Run(name, func(t *testing.T) { checkSheet(t, s) })
	}
}

// anyText draws lengths and shapes of text that labels have had to cope with.
var anyText = rapid.OneOf(
	rapid.StringMatching(`[A-Z][0-9]{1,2}`),
	rapid.StringMatching(`[a-z]{3,9}( [a-z]{2,12}){0,8}`),
	rapid.StringMatching(`[A-Z][a-z]{2,8}\n[0-9]{1,2}' [0-9]{1,2}"`),
	rapid.StringN(1, 20, -1),
)

func anyModelPoint(reach int64) *rapid.Generator[Point] {
	return rapid.Custom(func(t *rapid.T) Point {
		n := rapid.Int64Range(0, reach*int64(measure.Millimetre))
		return Point{measure.Length(n.Draw(t, "x")), measure.Length(n.Draw(t, "y"))}
	})
}

func anyLabel(reach int64) *rapid.Generator[*Label] {
	return rapid.Custom(func(t *rapid.T) *Label {
		l := &Label{
			At:     anyModelPoint(reach).Draw(t, "at"),
			Texts:  rapid.SliceOfN(anyText, 1, 3).Draw(t, "texts"),
			Height: rapid.SampledFrom([]Micron{0, MinText, Text35}).Draw(t, "height"),
			Face:   Face(rapid.IntRange(0, 2).Draw(t, "face")),
			Lead:   Lead(rapid.IntRange(0, 2).Draw(t, "lead")),
			End:    LeaderEnd(rapid.IntRange(0, 2).Draw(t, "end")),
			Where:  rapid.SampledFrom([][]Where{nil, {Centre}, {Over, Under}, {ToRight}}).Draw(t, "where"),
		}
		if clean(l.Texts[0]) == "" {
			l.Texts[0] = "x"
		}
		if rapid.Bool().Draw(t, "bound") {
			a := anyModelPoint(reach).Draw(t, "corner")
			l.Within = Rectangle("", Pen{}, Fill{}, l.At, a).Points
		}
		return l
	})
}

func anyDim(reach int64) *rapid.Generator[*Dim] {
	return rapid.Custom(func(t *rapid.T) *Dim {
		d := &Dim{Side: Side(rapid.IntRange(0, 4).Draw(t, "side")), Arrows: rapid.Bool().Draw(t, "arrows")}
		if d.Side != Along && rapid.Bool().Draw(t, "out") {
			d.Tier = rapid.IntRange(1, 3).Draw(t, "tier")
		} else {
			d.Offset = Micron(rapid.Int64Range(-15000, 15000).Draw(t, "offset"))
		}
		d.Points = rapid.SliceOfN(anyModelPoint(reach), 2, 7).Draw(t, "points")
		slices.SortFunc(d.Points, func(a, b Point) int {
			if d.Side == Left || d.Side == Right {
				return int(min(max(a.Y-b.Y, -1), 1))
			}
			return int(min(max(a.X-b.X, -1), 1))
		})
		return d
	})
}

// A random sheet keeps all promises, or is refused with a reason; it never
// panics and never comes with a clash.
func TestRandomLabelsAndDimensionsNeverOverlap(t *testing.T) {
	laid, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		const reach = 8000
		d := NewDrawing()
		d.Add(Rectangle("", Pen{Weight: Heavy}, Hatch(45*Degree, 3000), pt(0, 0), pt(reach*mil, reach*mil)))
		for _, l := range rapid.SliceOfN(anyLabel(reach), 0, 14).Draw(t, "labels") {
			d.Add(l)
		}
		for _, dim := range rapid.SliceOfN(anyDim(reach), 0, 4).Draw(t, "dims") {
			if dim.fault() == "" {
				d.Add(dim)
			}
		}
		p := landscapeA4()
		p.System = measure.System(rapid.IntRange(0, 1).Draw(t, "system"))
		p.Landscape = rapid.Bool().Draw(t, "landscape")
		s, err := Lay(p, View{Drawing: d, Caption: "random", Scale: ScaleOf(rapid.SampledFrom([]int64{100, 200}).Draw(t, "scale"), measure.Metric)})
		if err != nil {
			refused++
			for _, reason := range []string{"no room", "too large", "more room", "narrow spans"} {
				if strings.Contains(err.Error(), reason) {
					return
				}
			}
			t.Fatalf("refused for no reason known: %v", err)
		}
		laid++
		checkSheet(t, s)
	})
	t.Logf("%d laid, %d refused", laid, refused)
	if laid < 10*refused {
		t.Errorf("only %d of %d random sheets could be laid", laid, laid+refused)
	}
}

// Every model point must stand at its true place: distances on paper times the
// scale are the model's to within a micrometre of paper.
func TestDistancesAreTrueToScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := rapid.SliceOfN(anyModelPoint(30_000), 3, 12).Draw(t, "points")
		d := NewDrawing()
		d.Add(&Line{Points: pts, Pen: seenPen})
		p := landscapeA4()
		p.System = measure.System(rapid.IntRange(0, 1).Draw(t, "system"))
		s, err := Lay(p, View{Drawing: d})
		if err != nil {
			t.Fatal(err)
		}
		ratio := ratioFromSheet(t, s)
		got := pathPoints(t, s.SVG(), "layer-outline")
		if len(got) != len(pts) {
			t.Fatalf("%d points drawn of %d", len(got), len(pts))
		}
		for i := range pts {
			for k := range i {
				for _, c := range []struct {
					paper Micron
					model measure.Length
				}{{got[i].X - got[k].X, pts[i].X - pts[k].X}, {got[k].Y - got[i].Y, pts[i].Y - pts[k].Y}} { // y down in SVG
					if off := measure.Length(int64(c.paper)*ratio*1000) - c.model; off.Abs() > measure.Length(ratio*1000) {
						t.Fatalf("points %d and %d: %d µm on paper at 1:%d is off by %s", i, k, c.paper, ratio, off.In(measure.Metric))
					}
				}
			}
		}
	})
}

// ratioFromSheet reads the scale from the words printed in the title block.
func ratioFromSheet(t *rapid.T, s *Sheet) int64 {
	for _, b := range s.Texts() {
		for _, sc := range append(Scales(measure.Metric), Scales(measure.FeetInches)...) {
			if strings.HasPrefix(b.Text, sc.Words+" (") {
				return sc.Ratio
			}
		}
	}
	t.Fatal("no scale is printed")
	return 0
}

func TestClashesOfFixedNotesAreRefused(t *testing.T) {
	d := NewDrawing()
	d.Add(Rectangle("", seenPen, Fill{}, pt(0, 0), pt(2000*mil, 1000*mil)),
		&Note{At: pt(500*mil, 500*mil), Text: "one note"}, &Note{At: pt(520*mil, 500*mil), Text: "another"})
	if _, err := Lay(landscapeA4(), View{Drawing: d}); err == nil || !strings.Contains(err.Error(), `"one note" and "another"`) {
		t.Errorf("got %v", err)
	}
}

func TestOverlapsSeesTurnedBoxes(t *testing.T) {
	text := func(x, y Micron, a Angle) Text {
		return Text{At: PaperPoint{x, y}, Text: "turned text", Height: MinText, Rotation: a}
	}
	apart := &Sheet{Marks: []Mark{text(0, 0, 45*Degree), text(6*MM, 0, 45*Degree)}} // their upright frames overlap
	if o := Overlaps(apart); len(o) != 0 {
		t.Errorf("parallel texts 4.2 mm apart are said to overlap: %v", o)
	}
	crossing := &Sheet{Marks: []Mark{text(0, 0, 45*Degree), text(0, 10*MM, -45*Degree)}}
	if o := Overlaps(crossing); len(o) != 1 {
		t.Errorf("crossing texts: %v", o)
	}
}

func TestMistakesAreNamed(t *testing.T) {
	box := Rectangle("", seenPen, Fill{}, pt(0, 0), pt(mil, mil))
	with := func(it Item) View {
		d := NewDrawing()
		d.Add(box, it)
		return View{Drawing: d, Caption: "wall"}
	}
	for want, v := range map[string]View{
		"view 1 has no drawing":          {},
		"nothing to draw":                {Drawing: NewDrawing()},
		"item 2 of the drawing":          with(nil),
		"a line needs two points":        with(&Line{Points: []Point{{}}}),
		"a polygon needs three points":   with(&Polygon{Points: []Point{{}, {}}}),
		"0.5 mm apart":                   with(Rectangle("", seenPen, Hatch(0, 1), Point{}, pt(mil, mil))),
		"radius above zero":              with(&Arc{Sweep: Degree}),
		"sweeps more than 0°":            with(&Arc{Radius: mil}),
		"at least 2.5 mm high":           with(&Note{Text: "a", Height: 1}),
		"a label needs a text":           with(&Label{Texts: []string{"\x00"}}),
		"a dimension needs two points":   with(&Dim{}),
		"two successive points":          with(&Dim{Points: []Point{{}, {}}}),
		"at most one text for each span": with(&Dim{Points: []Point{{}, pt(1, 1)}, Texts: []string{"", ""}}),
		"along its points needs Tier 0":  with(&Dim{Points: []Point{{}, pt(1, 1)}, Side: Along, Tier: 1}),
		"more than 100 km":               with(NewLine("", seenPen, Point{}, Point{-1 << 63, 0})),
		"too large for a legible scale":  {Drawing: with(NewLine("", seenPen, Point{}, pt(measure.Metre, 0))).Drawing, Scale: Scale{1, "1:1"}},
		"view 1 (wall): item 2":          with(&Keepout{}),
		"a scale of 1:9000000 is beyond": {Drawing: with(box).Drawing, Scale: Scale{9_000_000, ""}},
	} {
		_, err := Lay(landscapeA4(), v)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want an error with %q, got %v", want, err)
		}
	}
}

func TestLongDrawingsSplitAtStations(t *testing.T) {
	d := stallRow(8)
	v := View{Drawing: d, Coarsest: ScaleOf(96, measure.FeetInches)}
	if _, err := Lay(landscapeLetter(), v); !errors.Is(err, ErrTooLarge) {
		t.Fatalf("the whole row should not fit: %v", err)
	}
	var stations []measure.Length
	for k := range measure.Length(7) {
		stations = append(stations, (k+1)*(12*foot+3*inch)+3*inch/2)
	}
	sheets, err := LaySplit(landscapeLetter(), v, stations)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for i, s := range sheets {
		checkSheet(t, s)
		if s.Views[0].Scale != sheets[0].Views[0].Scale {
			t.Error("sheets differ in scale")
		}
		if s.Page.Block.Number != 2+i || s.Page.Block.Of != 7+len(sheets)-1 {
			t.Errorf("sheet %d is numbered %d of %d", i, s.Page.Block.Number, s.Page.Block.Of)
		}
		for _, b := range s.Texts() {
			seen[b.Text]++
		}
	}
	for k := range 8 {
		if n := seen["Stall "+itoa(k+1)]; n != 1 {
			t.Errorf("stall %d is named on %d sheets", k+1, n)
		}
	}
	if seen["match line, see sheet 2"] != 1 || seen["match line, see sheet 3"] != 1 {
		t.Errorf("match lines: %v", seen)
	}
	if seen[`98' 3" in all`] != 2 {
		t.Error("the overall dimension is not on both sheets")
	}
}

func TestEvenCutsMakeTheWidestPartNarrowest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stations := rapid.SliceOfNDistinct(rapid.Map(rapid.Int64Range(1, 99), func(n int64) measure.Length { return measure.Length(n) }), 1, 7, rapid.ID).Draw(t, "stations")
		slices.Sort(stations)
		n := rapid.IntRange(2, len(stations)+1).Draw(t, "n")
		widest := func(edges []measure.Length) measure.Length {
			w := measure.Length(0)
			for i := 1; i < len(edges); i++ {
				w = max(w, edges[i]-edges[i-1])
			}
			return w
		}
		best := measure.Length(100)
		for set := range 1 << len(stations) { // every choice of cuts
			edges := []measure.Length{0}
			for i, x := range stations {
				if set>>i&1 == 1 {
					edges = append(edges, x)
				}
			}
			if edges = append(edges, 100); len(edges)-1 <= n {
				best = min(best, widest(edges))
			}
		}
		got := evenCuts(0, 100, stations, n)
		if len(got)-1 > n || got[0] != 0 || got[len(got)-1] != 100 || widest(got) != best {
			t.Fatalf("%v at %v: %v, widest could be %d", n, stations, got, best)
		}
	})
}

func BenchmarkLayPlan(b *testing.B) {
	for b.Loop() {
		if _, err := samples()["plan"](); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLayCrowded(b *testing.B) {
	for b.Loop() {
		if _, err := samples()["key"](); err != nil {
			b.Fatal(err)
		}
	}
}
