package book_test

import (
	"bytes"
	"strings"
	"testing"

	"stallwright/engine/plan/plantest"
	"stallwright/paper/book"
	"stallwright/paper/draw"
)

// Names that people and the world come up with: long, without a place to break,
// from right to left, outside the basic plane, piled with marks, with characters
// nobody sees.
var hostile = []string{
	strings.Repeat("Barn of the very long and winding name ", 12),
	strings.Repeat("W", 400),
	"חוות הסוסים של הגבעה (בניין 3) مزرعة الخيول",
	"🐴 Stable 👩‍🌾 🏇🏽 𝕳𝖔𝖗𝖘𝖊𝖘",
	"Z\u0301\u0302\u0303\u0304\u0305\u0306\u0307algo" + strings.Repeat("\u0316\u0317\u0318", 20),
	"tab\tand\u202eturned\u200bzero\ufeff",
	`=cmd|' /C calc'!A0 (\) <b>&amp; %PDF endstream`,
	"漢字の馬房",
}

// With any of these as the names of job, farm, place and contact, the packet comes
// out whole, nothing on it overlaps, and another program reads it.
func TestHostileNames(t *testing.T) {
	for i, name := range hostile {
		j, k := plantest.Read(t, "two-oaks-free-row.yaml", example(t, "two-oaks-free-row"))
		j.Job, j.Farm.Name, j.Farm.Place, j.Farm.Contact, j.Farm.Notes, j.Date = name, name, name, name, name, name
		p := mustMake(t, j, k)
		only := []book.Part{book.Cover, book.Order, book.Saw, book.Checks, book.Owner}
		if i%3 == 2 { // labels take the most time
			only = append(only, book.Measure, book.Labels)
		}
		b := made(t, p, "en", book.Options{Paper: draw.A4, Only: only})
		clean(t, b)
		path := printed(t, b)
		if out := tool(t, "qpdf", "--check", path); !strings.Contains(out, "No syntax or stream encoding errors") {
			t.Errorf("%.30q: %s", name, out)
		}
	}
}

// Labels of pieces come from names that a job may give its structures and walls.
func TestHostileStructureName(t *testing.T) {
	text := strings.Replace(example(t, "old-dairy-free-form"), "name: D\n", "name: Dairy_north_wing\n", 1)
	j, k := plantest.Read(t, "old.yaml", text)
	p := mustMake(t, j, k)
	clean(t, made(t, p, "en", book.Options{Only: without(book.Steps)}))
}

// The same plan gives the same bytes, whichever page is packed first.
func TestSameBytes(t *testing.T) {
	p := planOf(t, "two-oaks-free-row")
	first, err := made(t, p, "es", book.Options{}).PDF()
	if err != nil {
		t.Fatal(err)
	}
	j, k := plantest.Read(t, "two-oaks-free-row.yaml", example(t, "two-oaks-free-row"))
	again, err := made(t, mustMake(t, j, k), "es", book.Options{}).PDF()
	if err != nil || !bytes.Equal(first, again) {
		t.Fatalf("planned again, another document (%v)", err)
	}
}

// qpdf, a checker that is not ours, finds nothing wrong with a whole packet, and
// reads its outline and its page labels.
func TestCheckedByQPDF(t *testing.T) {
	b := made(t, planOf(t, "two-oaks-free-row"), "en", book.Options{})
	path := printed(t, b)
	if out := tool(t, "qpdf", "--check", path); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
	json := tool(t, "qpdf", "--json", "--json-key=pagelabels", "--json-key=outlines", path)
	for _, want := range []string{`"u:saw 1"`, `"u:steps 1"`, `"u:owner 1"`, `"Saw tickets"`, `"For the owner"`} {
		if !strings.Contains(json, want) {
			t.Errorf("qpdf reads no %s", want)
		}
	}
}

// Parts printed alone hold just these, in the packet's order, numbered for
// themselves.
func TestOnly(t *testing.T) {
	only, err := book.ParseParts("labels, saw")
	if err != nil {
		t.Fatal(err)
	}
	b := made(t, planOf(t, "two-oaks-free-row"), "en", book.Options{Only: only})
	for i, p := range b.Pages {
		if p.Part != book.Saw && p.Part != book.Labels || i > 0 && p.Part == book.Saw && b.Pages[i-1].Part == book.Labels {
			t.Errorf("page %d is of %s", i+1, p.Part)
		}
	}
	if _, err := book.ParseParts("saw,lables"); err == nil || !strings.Contains(err.Error(), "did you mean labels?") {
		t.Errorf("%v", err)
	}
}

// A crew that reads Spanish reads Spanish: no page falls back to another language
// or to a key of the catalogue.
func TestSpanish(t *testing.T) {
	for _, name := range []string{"three-meadows", "nordlia-free-barn", "two-oaks-free-row"} {
		o := book.Options{Only: without(book.Steps)}
		if name == "two-oaks-free-row" {
			o = book.Options{}
		}
		b := made(t, releasedPlan(t, name, some), "es", o)
		for i := range b.Pages {
			for _, x := range b.Pages[i].Texts() {
				if strings.Contains(x.Text, "[en]") || strings.Contains(x.Text, "[book.") || strings.Contains(x.Text, "[page.") || strings.Contains(x.Text, "?}") {
					t.Errorf("%s, page %d (%s): %q", name, i+1, b.Pages[i].Title, x.Text)
				}
			}
		}
	}
}
