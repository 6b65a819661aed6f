package book_test

import (
	"encoding/xml"
	"net/url"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/book"
)

// decoded is what zbar, a reader of codes that is not ours, reads off a page
// printed at 150 dots to the inch: fewer than any office printer has.
func decoded(t *testing.T, pdf, page string) []string {
	t.Helper()
	image := filepath.Join(t.TempDir(), "page")
	tool(t, "pdftoppm", "-r", "150", "-gray", "-singlefile", "-f", page, "-l", page, "-png", pdf, image)
	out := tool(t, "zbarimg", "--quiet", "--xml", "-Sdisable", "-Sqrcode.enable", image+".png")
	var doc struct {
		Symbols []struct {
			Data string `xml:"data"`
		} `xml:"source>index>symbol"`
	}
	if err := xml.Unmarshal([]byte(out), &doc); err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, s := range doc.Symbols {
		list = append(list, s.Data)
	}
	return list
}

// The codes lead to the pieces: read back by zbar, each of a sheet's fourteen is
// the address asked for with the job and one of the sheet's labels.
func TestCodesOpenThePieces(t *testing.T) {
	p := planOf(t, "three-meadows") // its first sheets say that they are not measured
	for _, c := range []struct{ address, want string }{
		{"https://stalls.example/open", "https://stalls.example/open?job="},
		{"", ""},
	} {
		b := made(t, p, "en", book.Options{Only: []book.Part{book.Labels}, Address: c.address})
		got := decoded(t, printed(t, b), "1")
		if len(got) != 14 {
			t.Errorf("%q: zbar reads %d codes of 14: %v", c.address, len(got), got)
		}
		labels := map[string]bool{}
		for i := range p.Fit.Pieces {
			labels[p.Fit.Pieces[i].Label] = true
		}
		for _, g := range got {
			label := g
			if c.address != "" {
				u, err := url.Parse(g)
				if err != nil || !strings.HasPrefix(g, c.want) || u.Query().Get("job") != p.Job.Job {
					t.Fatalf("%q is no address of this job", g)
				}
				label = u.Query().Get("piece")
			}
			if !labels[label] {
				t.Errorf("no piece is called %q", label)
			}
			delete(labels, label)
		}
	}
}

// Every piece has one label, and fourteen stand on a sheet.
func TestOneLabelForEachPiece(t *testing.T) {
	p := planOf(t, "nordlia-free-barn")
	b := made(t, p, "en", book.Options{Only: []book.Part{book.Labels}})
	if want := (len(p.Fit.Pieces) + 13) / 14; len(b.Pages) != want {
		t.Errorf("%d sheets for %d pieces, want %d", len(b.Pages), len(p.Fit.Pieces), want)
	}
}

// Codes lead to the address that the job states, and to another where the call
// says so.
func TestAddressOfTheJob(t *testing.T) {
	labels := func(stated, called string) string {
		t.Helper()
		j, k := plantest.Read(t, "two-oaks-free-row", example(t, "two-oaks-free-row"))
		if stated != "" {
			j.Papers = &job.Papers{Address: stated}
		}
		data, err := made(t, mustMake(t, j, k), "en", book.Options{Only: []book.Part{book.Labels}, Address: called}).PDF()
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	const here, there = "https://stalls.example/open", "https://other.example/open"
	if labels(here, "") != labels("", here) {
		t.Error("the address that the job states is not on its labels")
	}
	if labels(here, there) != labels("", there) {
		t.Error("the address of the call does not take the place of the job's")
	}
	if labels(here, "") == labels("", "") {
		t.Error("the address changes nothing")
	}
}
