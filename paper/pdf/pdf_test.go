package pdf_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/paper/draw"
	"stallwright/paper/pdf"
)

// sample is a page with every kind of mark.
func sample() *draw.Sheet {
	frame := draw.PaperRect{Max: draw.PaperPoint{X: draw.A4.Width, Y: draw.A4.Height}}
	return &draw.Sheet{
		Width: draw.A4.Width, Height: draw.A4.Height, Frame: frame, Layers: []string{"back", "front"},
		Marks: []draw.Mark{
			draw.Text{Layer: "front", At: draw.PaperPoint{X: 20 * draw.MM, Y: 270 * draw.MM}, Text: `Board A1-A2/c7, 11' 7 3/8"`, Height: draw.Text50, Face: draw.Bold},
			draw.Text{Layer: "front", At: draw.PaperPoint{X: 190 * draw.MM, Y: 250 * draw.MM}, Text: "half ½ and ☐ ✓ – “quoted” ñ é ß", Height: draw.Text35, Anchor: draw.End},
			draw.Text{Layer: "front", At: draw.PaperPoint{X: 105 * draw.MM, Y: 150 * draw.MM}, Text: "turned", Height: draw.Text35, Face: draw.Condensed, Anchor: draw.Middle, Rotation: 33 * draw.Degree},
			draw.Text{Layer: "front", At: draw.PaperPoint{X: 20 * draw.MM, Y: 230 * draw.MM}, Text: "שלום barn 👍 漢字", Height: draw.Text35},
			draw.Stroke{Layer: "back", Pen: draw.Pen{Weight: draw.Heavy, Type: draw.Dashed, Grey: 40}, Fill: draw.Tint(85), Closed: true, Runs: [][]draw.PaperPoint{
				{{X: 20_001, Y: 20_002}, {X: 120_003, Y: 20_004}, {X: 70_005, Y: 120_006}}, {{X: 50_000, Y: 30_000}, {X: 90_000, Y: 30_000}, {X: 70_000, Y: 70_000}}}},
			draw.Curve{Layer: "front", Pen: draw.Pen{Weight: draw.Thin}, Fill: draw.White(), Centre: draw.PaperPoint{X: 150_000, Y: 60_000}, Radius: 20_000, Sweep: 360 * draw.Degree},
			draw.Curve{Layer: "front", Pen: draw.Pen{Weight: draw.Medium}, Centre: draw.PaperPoint{X: 150_000, Y: 60_000}, Radius: 25_000, Start: -30 * draw.Degree, Sweep: 210 * draw.Degree},
		},
	}
}

func write(t *testing.T, info pdf.Info, pages []pdf.Page, outline []pdf.Entry) string {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, info, pages, outline); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "sample.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// tool runs a program that is not ours, and skips the test where it is missing.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed (Debian: poppler-utils, qpdf)", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

var about = pdf.Info{Title: "Hof Ährenfeld (west)", Subject: "Rev 2", Language: "en", Date: "2026-05-04"}

func twoPages() ([]pdf.Page, []pdf.Entry) {
	wide := sample()
	wide.Width, wide.Height = wide.Height, wide.Width
	return []pdf.Page{{Sheet: sample(), Label: "saw 1"}, {Sheet: wide}}, []pdf.Entry{{Title: "Säge", Page: 0}, {Title: "ticket 1", Level: 1, Page: 0}, {Title: "more", Page: 1}}
}

// qpdf (a PDF checker of its own) finds nothing to object to, and reads page
// labels, outline and titles back.
func TestCheckedByQPDF(t *testing.T) {
	pages, outline := twoPages()
	path := write(t, about, pages, outline)
	if out := tool(t, "qpdf", "--check", path); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
	json := tool(t, "qpdf", "--json", "--json-key=pages", "--json-key=pagelabels", "--json-key=outlines", path)
	for _, want := range []string{`"u:saw 1"`, `"u:2"`, `Säge`, `ticket 1`} {
		if !strings.Contains(json, want) {
			t.Errorf("qpdf's reading of it lacks %s", want)
		}
	}
}

// poppler reads the texts as they were written, and the sizes of the pages.
func TestReadByPoppler(t *testing.T) {
	pages, outline := twoPages()
	path := write(t, about, pages, outline)
	text := tool(t, "pdftotext", "-layout", path, "-")
	for _, want := range []string{`Board A1-A2/c7, 11' 7 3/8"`, "½", "☐ ✓", "“quoted” ñ é ß", "שלום"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
	info := tool(t, "pdfinfo", "-f", "1", "-l", "2", path)
	for _, want := range []string{"Title:           Hof Ährenfeld (west)", "595.28 x 841.89", "841.89 x 595.28", "2026"} {
		if !strings.Contains(info, want) {
			t.Errorf("no %q in:\n%s", want, info)
		}
	}
	if fonts := tool(t, "pdffonts", path); strings.Contains(fonts, "Type 3") || strings.Count(fonts, "yes yes yes") != 3 {
		t.Errorf("not all fonts are embedded subsets with a way back to text:\n%s", fonts)
	}
}

// No date given, no date written; and the same input gives the same bytes.
func TestNothingFromElsewhere(t *testing.T) {
	pages, outline := twoPages()
	a, err := pdf.Bytes(pdf.Info{Title: "x"}, pages, outline)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		pages, outline := twoPages()
		if b, _ := pdf.Bytes(pdf.Info{Title: "x"}, pages, outline); !bytes.Equal(a, b) {
			t.Fatal("two runs, two documents")
		}
	}
	if bytes.Contains(a, []byte("Date")) {
		t.Error("a date stands in a document that was given none")
	}
}

// A place on paper is where the sheet has it: poppler's word boxes, which are in
// points, against the text's own place. 1 point is 352.8 micrometres; the box
// starts at the origin of the first glyph.
func TestPlaces(t *testing.T) {
	pages, _ := twoPages()
	path := write(t, about, pages[:1], nil)
	out := tool(t, "pdftotext", "-bbox", path, "-")
	if !strings.Contains(out, `<word xMin="56.692913"`) { // 20 mm
		t.Errorf("no word starts 20 mm from the left:\n%s", out)
	}
}

func TestRefusals(t *testing.T) {
	pages, _ := twoPages()
	for name, outline := range map[string][]pdf.Entry{
		"a page that is not there": {{Title: "x", Page: 2}},
		"a level left out":         {{Title: "x"}, {Title: "y", Level: 2}},
	} {
		if _, err := pdf.Bytes(about, pages, outline); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := pdf.Bytes(about, nil, nil); err == nil {
		t.Error("no pages: no error")
	}
}
