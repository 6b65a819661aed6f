package draw

import (
	"encoding/xml"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"stallwright/engine/measure"
)

type failer interface{ Fatalf(string, ...any) }

// node is an element of an SVG read back by the standard library's XML reader.
type node struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Text    string     `xml:",chardata"`
	Nodes   []node     `xml:",any"`
}

func (n node) attr(name string) string {
	for _, a := range n.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (n node) each(f func(node)) {
	f(n)
	for _, c := range n.Nodes {
		c.each(f)
	}
}

func parse(t failer, svg string) node {
	var root node
	dec := xml.NewDecoder(strings.NewReader(svg))
	if err := dec.Decode(&root); err != nil {
		t.Fatalf("the SVG is not well-formed XML: %v", err)
	}
	if _, err := dec.Token(); err != io.EOF {
		if tok, _ := dec.Token(); tok != nil {
			t.Fatalf("something follows the SVG: %v", tok)
		}
	}
	return root
}

var number = regexp.MustCompile(`-?[0-9]+(?:\.[0-9]+)?`)

// microns reads decimal millimetres exactly.
func microns(t failer, s string) Micron {
	whole, frac, _ := strings.Cut(s, ".")
	v, err := strconv.ParseInt(whole+(frac + "000")[:3], 10, 64)
	if err != nil || len(frac) > 3 {
		t.Fatalf("%q is not a number of whole micrometres", s)
	}
	return Micron(v)
}

// pathPoints reads the points of the paths in a group, in SVG axes.
func pathPoints(t failer, svg, group string) []PaperPoint {
	var out []PaperPoint
	parse(t, svg).each(func(g node) {
		if g.attr("id") != group {
			return
		}
		for _, p := range g.Nodes {
			nums := number.FindAllString(p.attr("d"), -1)
			for i := 0; i+1 < len(nums); i += 2 {
				out = append(out, PaperPoint{microns(t, nums[i]), microns(t, nums[i+1])})
			}
		}
	})
	return out
}

// hostile are names that have broken other writers of XML.
var hostile = []string{
	`]]>`, `<script>alert(1)</script>`, `"quoted" & 'single'`, "control \x00\x01\x1b[31m\x7f\u0085", "bidi \u202e gnp.exe", "bad utf8 \xff\xfe",
	"marks Z\u0300\u0301\u0302\u0303\u0304\u0305", "\ufffe\uffff", "عربى 漢字 🐴", "--> <!-- <![CDATA[", "&#0; &lt;", strings.Repeat("long ", 200),
	strings.Repeat("W", 400), "line\nfeed\r\nand\ttab", "\u2028\u2029", "ﷺ", "", " ",
}

func hostileSheet(text string) (*Sheet, error) {
	d := NewDrawing(text, LayerCut)
	d.Add(Rectangle(text, seenPen, Fill{}, pt(0, 0), pt(8000*mil, 4000*mil)),
		&Dim{Layer: text, Points: []Point{pt(0, 0), pt(8000*mil, 0)}, Side: Below, Tier: 1, Texts: []string{shorten(text, 20)}},
		&Label{Layer: text + "2", At: pt(4000*mil, 2000*mil), Texts: []string{"x" + text}})
	p := Page{Size: PaperSize{text, A4.Width, A4.Height}, Landscape: true, System: measure.Metric, Notes: []string{shorten(text, 300)},
		Block: TitleBlock{Job: text, Title: text, Date: text, Revision: text, State: text, Number: 1, Of: 1}}
	return Lay(p, View{Drawing: d, Caption: text, Coarsest: Scale{200, ""}})
}

func checkHostile(t *testing.T, text string) {
	s, err := hostileSheet(text)
	if err != nil {
		t.Fatalf("%q: %v", shorten(text, 40), err)
	}
	checkSheet(t, s)
	root := parse(t, s.SVG())
	elements, ids := 0, map[string]bool{}
	root.each(func(n node) {
		switch n.XMLName.Local {
		case "svg", "title", "desc", "g", "rect", "path", "circle", "text":
		default:
			t.Errorf("%q made an element %s", text, n.XMLName.Local)
		}
		if n.XMLName.Local == "text" {
			elements++
		}
		if id := n.attr("id"); id != "" {
			if ids[id] || strings.ContainsAny(id, " \t\n<>&'\"") {
				t.Errorf("id %q is repeated or broken", id)
			}
			ids[id] = true
		}
	})
	if want := len(s.Texts()); elements != want {
		t.Errorf("%q: %d texts written, %d on the sheet", text, elements, want)
	}
}

func TestHostileTextIsOnlyText(t *testing.T) {
	for _, h := range hostile {
		checkHostile(t, h)
	}
}

func FuzzHostileText(f *testing.F) {
	for _, h := range hostile {
		f.Add(h)
	}
	f.Fuzz(func(t *testing.T, text string) {
		checkHostile(t, shorten(text, 400))
	})
}

func TestSVGIsToSizeGreyAndNamed(t *testing.T) {
	s, err := samples()["plan"]()
	if err != nil {
		t.Fatal(err)
	}
	svg := s.SVG()
	root := parse(t, svg)
	// Letter is 8.5 x 11 in (ANSI/ASME Y14.1), 215.9 x 279.4 mm.
	if w, h, box := root.attr("width"), root.attr("height"), root.attr("viewBox"); w != "279.4mm" || h != "215.9mm" || box != "0 0 279.4 215.9" {
		t.Errorf("size %s x %s, view box %s", w, h, box)
	}
	if got := root.Nodes[0].Text; got != "Willow Bend barn, north wing – Plan of stalls – sheet 2 of 7" {
		t.Errorf("title %q", got)
	}
	for _, c := range regexp.MustCompile(`#[0-9a-f]{3,6}`).FindAllString(strings.ReplaceAll(svg, "&#39;", ""), -1) {
		if len(c) == 7 && (c[1:3] != c[3:5] || c[3:5] != c[5:7]) {
			t.Errorf("%s is a colour", c)
		}
	}
	for _, n := range regexp.MustCompile(`[0-9]+\.[0-9]+`).FindAllString(svg, -1) {
		if _, frac, _ := strings.Cut(n, "."); (len(frac) > 3 || strings.HasSuffix(frac, "0")) && n != "1.0" && n != "1.10" && !strings.HasPrefix(n, "1.1") {
			t.Errorf("number %s has noise", n)
		}
	}
}

// A quarter circle from 0 to 90 degrees runs, with y down, from the right to
// the top, turning against the clock: sweep flag 0 (SVG 1.1, 8.3.8).
func TestArcsTurnTheRightWay(t *testing.T) {
	b := &svgWriter{height: 100 * MM}
	b.curve(Curve{Centre: PaperPoint{50 * MM, 50 * MM}, Radius: 10 * MM, Sweep: 90 * Degree, Pen: seenPen})
	if want := `<path d="M60 50A10 10 0 0 0 50 40" stroke="#000000" stroke-width="0.25"/>` + "\n"; b.String() != want {
		t.Errorf("got %s want %s", b.String(), want)
	}
}
