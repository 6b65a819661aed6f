package dxf_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stallwright/checks"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/draw"
	"stallwright/paper/dxf"
	"stallwright/paper/views"
)

// file is a DXF file as two independent readers see it: dxf-parser of npm and,
// for hatches, dxf of npm.
type file struct {
	Header struct {
		Unit   int `json:"$INSUNITS"`
		Metric int `json:"$MEASUREMENT"`
	} `json:"header"`
	Layers   []string         `json:"layers"`
	Blocks   map[string]block `json:"blocks"`
	Entities []entity         `json:"entities"`
	Others   int              `json:"entitiesOfTheOther"`
	Hatches  []hatch          `json:"hatches"`
}

type hatch struct {
	Layer    string
	Fill     string `json:"fillType"`
	Boundary struct {
		Loops []struct {
			Entities []struct{ Points []point }
		}
	}
	Pattern struct{ Angle, OffsetX, OffsetY float64 }
}

type block struct {
	Entities []entity `json:"entities"`
}

type point struct{ X, Y float64 }

type entity struct {
	Type     string
	Layer    string
	Vertices []point
	Shape    bool
	Center   point
	Radius   float64
	Text     string
	Block    string
	Measured float64 `json:"actualMeasurement"`
	From     point   `json:"linearOrAngularPoint1"`
	To       point   `json:"linearOrAngularPoint2"`
	Anchor   point   `json:"anchorPoint"`
	Angle    float64
	Kind     int `json:"dimensionType"`
}

func read(t testing.TB, data ...[]byte) []file {
	t.Helper()
	files := make([]file, len(data))
	lines := json.NewDecoder(bytes.NewReader(checks.Node(t, "dxf.mjs", data...)))
	for i := range files {
		if err := lines.Decode(&files[i]); err != nil {
			t.Fatal(err)
		}
	}
	return files
}

// sheet is a file's drawings with the models they show.
type sheet struct {
	models []views.Model
	placed []dxf.View
	data   []byte
}

func sheets(t testing.TB, p *plan.Plan) map[string]*sheet {
	t.Helper()
	models, err := views.Models(p, views.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*sheet{}
	for _, m := range models {
		s := out[m.File]
		if s == nil {
			s = &sheet{}
			out[m.File] = s
		}
		s.models = append(s.models, m)
		s.placed = append(s.placed, dxf.View{Drawing: m.Drawing, Scale: m.Scale, Title: m.Title})
	}
	o := dxf.Options{Units: p.Job.Units}
	for _, s := range out {
		s.placed = dxf.Column(s.placed, o)
		if s.data, err = dxf.Write(s.placed, o); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// in is a length in the file's unit: 25.4 mm are an inch.
func in(l measure.Length, u measure.System) float64 {
	if u == measure.Metric {
		return float64(l) / 1e6
	}
	return float64(l) / 25.4e6
}

// outlined reports whether a closed line of the layer has just this box.
func (f *file) outlined(layer string, x0, y0, x1, y1 float64) bool {
	const near = 1e-6
	for _, e := range f.Entities {
		if e.Type != "LWPOLYLINE" || !e.Shape || e.Layer != layer {
			continue
		}
		lo, hi := e.Vertices[0], e.Vertices[0]
		for _, v := range e.Vertices {
			lo = point{min(lo.X, v.X), min(lo.Y, v.Y)}
			hi = point{max(hi.X, v.X), max(hi.Y, v.Y)}
		}
		if math.Abs(lo.X-x0) < near && math.Abs(lo.Y-y0) < near && math.Abs(hi.X-x1) < near && math.Abs(hi.Y-y1) < near {
			return true
		}
	}
	return false
}

// hatched reports whether an area of just this box is hatched at 45 degrees.
func (f *file) hatched(t *testing.T, x0, y0, x1, y1 float64) bool {
	t.Helper()
	const near = 1e-6
	for _, h := range f.Hatches {
		p := h.Boundary.Loops[0].Entities[0].Points
		if h.Fill != "PATTERN" || len(p) != 4 || math.Abs(p[0].X-x0) > near || math.Abs(p[0].Y-y0) > near || math.Abs(p[2].X-x1) > near || math.Abs(p[2].Y-y1) > near {
			continue
		}
		// The lines run at 45 degrees, each a step to the upper left of the last.
		if h.Pattern.Angle != 45 || h.Pattern.OffsetY <= 0 || math.Abs(h.Pattern.OffsetX+h.Pattern.OffsetY) > near {
			t.Errorf("hatch lines %+v", h.Pattern)
		}
		return true
	}
	return false
}

func TestAnotherReaderFindsEveryPostAndBoardWhereTheLayoutHasIt(t *testing.T) {
	files, _ := filepath.Glob("../../examples/*.yaml")
	if len(files) == 0 {
		t.Fatal("no examples")
	}
	for _, name := range files {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".yaml"), func(t *testing.T) {
			t.Parallel()
			p := plantest.File(t, name)
			all := slices.Collect(maps.Values(sheets(t, p)))
			var data [][]byte
			for _, s := range all {
				data = append(data, s.data)
			}
			files := read(t, data...)
			for i, s := range all {
				f := files[i]
				unit := map[measure.System]int{measure.Metric: 4}[p.Job.Units]
				if unit == 0 {
					unit = 1
				}
				if f.Header.Unit != unit {
					t.Errorf("unit %d, want %d", f.Header.Unit, unit)
				}
				if f.Others != len(f.Entities)+len(f.Hatches) {
					t.Errorf("one reader sees %d entities, the other %d and %d hatches", f.Others, len(f.Entities), len(f.Hatches))
				}
				checkDimensions(t, &f)
				for k, m := range s.models {
					if m.Wall < 0 {
						checkPosts(t, p, m.Structure, &f)
					} else {
						checkBoards(t, p, m, s.placed[k].At.Y, &f)
					}
				}
			}
		})
	}
}

func checkPosts(t *testing.T, p *plan.Plan, structure int, f *file) {
	t.Helper()
	u := p.Job.Units
	seen := 0
	for i := range p.Layout.Posts {
		q := &p.Layout.Posts[i]
		if q.Structure != structure || q.Kind == frame.Door {
			continue
		}
		seen++
		if q.Kind == frame.Joint {
			found := false
			for _, e := range f.Entities {
				found = found || e.Type == "CIRCLE" && math.Hypot(e.Center.X-in(q.At.X, u), e.Center.Y-in(q.At.Y, u)) < 1e-6
			}
			if !found {
				t.Errorf("no circle where %s is pinned", q.Name)
			}
			continue
		}
		w, h := q.Along/2, q.Across/2
		if q.Kind == frame.Timber && !f.hatched(t, in(q.At.X-w, u), in(q.At.Y-h, u), in(q.At.X+w, u), in(q.At.Y+h, u)) {
			t.Errorf("timber post %s is not hatched", q.Name)
		}
		if !f.outlined("frames", in(q.At.X-w, u), in(q.At.Y-h, u), in(q.At.X+w, u), in(q.At.Y+h, u)) {
			t.Errorf("no outline where post %s stands", q.Name)
		}
	}
	if seen == 0 {
		t.Error("no posts")
	}
}

// checkBoards looks for every full board of the walls that are drawn for
// themselves alone.
func checkBoards(t *testing.T, p *plan.Plan, m views.Model, up measure.Length, f *file) {
	t.Helper()
	u := p.Job.Units
	if p.Layout.Structures[m.Structure].Kind == frame.Pen || !strings.EqualFold(m.Title, p.Layout.Walls[m.Wall].Name) {
		return
	}
	x := measure.Length(0)
	for _, run := range p.Layout.Walls[m.Wall].Runs {
		r := &p.Layout.Runs[run]
		for _, bay := range r.Bays {
			for _, i := range p.Fit.Bays[bay].Pieces {
				v := &p.Fit.Pieces[i]
				if v.Kind != fit.Board || len(v.Notches) > 0 || p.Layout.Bays[bay].IsDoor() || p.Fit.Bays[bay].Taper != nil || v.Length != p.Fit.Bays[bay].Board {
					continue
				}
				clear := p.Fit.Bays[bay].Clear
				left := x + p.Fit.BayAt(p.Layout, bay) + (clear-v.Length)/2
				low := r.Datum + v.Z + up
				if !f.outlined("boards", in(left, u), in(low, u), in(left+v.Length, u), in(low+v.Height, u)) {
					t.Errorf("%s: no outline of board %s at %v", m.Title, v.Label, in(left, u))
				}
			}
		}
		x += r.Centres
	}
}

// checkDimensions holds what each dimension says it measured against its own two
// points, and against the lines of its block.
func checkDimensions(t *testing.T, f *file) {
	t.Helper()
	for _, e := range f.Entities {
		if e.Type != "DIMENSION" {
			continue
		}
		a := e.Angle * math.Pi / 180
		along := math.Abs((e.To.X-e.From.X)*math.Cos(a) + (e.To.Y-e.From.Y)*math.Sin(a))
		if e.Kind&7 == 1 {
			along = math.Hypot(e.To.X-e.From.X, e.To.Y-e.From.Y)
		}
		if math.Abs(along-e.Measured) > 1e-5 {
			t.Errorf("a dimension says %v and its points are %v apart", e.Measured, along)
		}
		b, ok := f.Blocks[e.Block]
		if !ok {
			t.Errorf("dimension %q has no block %s", e.Text, e.Block)
			continue
		}
		first, texts := b.Entities[0], 0
		if d := math.Hypot(first.Vertices[1].X-first.Vertices[0].X, first.Vertices[1].Y-first.Vertices[0].Y); math.Abs(d-e.Measured) > 1e-3 {
			t.Errorf("the dimension line of %q is %v long, want %v", e.Text, d, e.Measured)
		}
		for _, x := range b.Entities {
			if x.Type == "TEXT" && x.Text == e.Text {
				texts++
			}
		}
		if texts != 1 {
			t.Errorf("the block of %q shows it %d times", e.Text, texts)
		}
	}
}

func TestTheSameDrawingsGiveTheSameBytes(t *testing.T) {
	p := plantest.File(t, "../../examples/two-oaks-free-row.yaml")
	a, b := sheets(t, p), sheets(t, p)
	for name := range a {
		if !bytes.Equal(a[name].data, b[name].data) {
			t.Errorf("%s differs", name)
		}
	}
}

func TestShapesTextAndUnitsSurvive(t *testing.T) {
	pen := draw.Pen{Weight: draw.Medium}
	mm := measure.Millimetre
	d := draw.NewDrawing()
	d.Add(draw.NewLine("a layer", pen, draw.Point{X: 1, Y: -254 * mm / 10}, draw.Point{X: 254 * mm / 10, Y: 0}),
		draw.Circle("", pen, draw.Fill{}, draw.Point{X: 5 * mm}, 7*mm),
		&draw.Note{At: draw.Point{}, Text: "½ \\ 100 % ^ é 𝄞\nsecond"})
	for _, c := range []struct {
		units    measure.System
		x0, x, r float64
	}{{measure.Metric, 1e-6, 25.4, 7}, {measure.FeetInches, 1 / 25.4e6, 1, 7 / 25.4}} {
		data, err := dxf.Write([]dxf.View{{Drawing: d, Scale: draw.Scale{Ratio: 20}}}, dxf.Options{Units: c.units})
		if err != nil {
			t.Fatal(err)
		}
		f := read(t, data)[0]
		line, circle, note := f.Entities[0], f.Entities[1], f.Entities[2]
		if line.Layer != "a_layer" || math.Abs(line.Vertices[0].X-c.x0) > 1e-9 || line.Vertices[1].X != c.x {
			t.Errorf("line %+v", line)
		}
		if math.Abs(circle.Radius-c.r) > 1e-9 || circle.Layer != "outline" {
			t.Errorf("circle %+v", circle)
		}
		if note.Text != `\U+00BD \U+005C 100 \U+0025 \U+005E \U+00E9 \U+D834\U+DD1E` || f.Entities[3].Text != "second" {
			t.Errorf("text %q, %q", note.Text, f.Entities[3].Text)
		}
	}
}

func TestABadDrawingIsNamed(t *testing.T) {
	d := draw.NewDrawing()
	d.Add(&draw.Line{Points: []draw.Point{{}}})
	for _, v := range []dxf.View{{Drawing: d, Scale: draw.Scale{Ratio: 20}, Title: "front"}, {Drawing: draw.NewDrawing(), Title: "front"}} {
		if _, err := dxf.Write([]dxf.View{v}, dxf.Options{}); err == nil || !strings.Contains(err.Error(), "front") {
			t.Errorf("error %v does not name the drawing", err)
		}
	}
}
