package book_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"stallwright/engine/measure"
	"stallwright/paper/book"
	"stallwright/paper/draw"
	"stallwright/paper/packet"
	"stallwright/paper/page"
)

// partText is the text of one part's pages as poppler reads them from the PDF.
func partText(b *book.Book, pages []string, part book.Part) string {
	var out []string
	for i := range b.Pages {
		if b.Pages[i].Part == part {
			out = append(out, pages[i])
		}
	}
	return strings.Join(out, " ")
}

// The packet read back by poppler holds what plan.json holds: each piece by label
// with its length, each line of the order with its counts, each saw ticket with
// its marks and labels. Every number of plan.json is looked for in the part where
// people work from it.
func TestSameAsPlanJSON(t *testing.T) {
	for _, name := range exampleNames(t) {
		t.Run(name, func(t *testing.T) {
			p := releasedPlan(t, name, some)
			b := made(t, p, "en", book.Options{Only: []book.Part{book.Order, book.Saw, book.Labels, book.Picks}})
			pages := pagesOf(t, printed(t, b))
			if len(pages) != len(b.Pages) {
				t.Fatalf("poppler reads %d pages of %d", len(pages), len(b.Pages))
			}
			doc := packet.NewDocument(p)
			labels := partText(b, pages, book.Labels)
			for _, v := range doc.Pieces {
				want := v.Label + " "
				if v.LengthNM > 0 {
					want += v.Length + " "
				}
				if !strings.Contains(labels, want) {
					t.Errorf("no label says %q", want)
				}
				if !strings.Contains(labels, fmt.Sprintf("why %d · rev %d", v.Reason, doc.Job.Revision)) {
					t.Errorf("no label of %s gives its reason %d", v.Label, v.Reason)
				}
			}
			order := partText(b, pages, book.Order)
			for _, l := range doc.Takeoff {
				want := fmt.Sprintf("%d %d %d %d %s", l.Count, l.Buy, l.Spares, l.Order, l.Mass)
				if l.Length != "" {
					want = l.Length + " " + want
				}
				if !strings.Contains(order, want) {
					t.Errorf("no line of the order says %q (%s)", want, l.Name)
				}
			}
			saw, tickets := partText(b, pages, book.Saw), 0
			for _, c := range doc.Cuts {
				for _, ticket := range c.Tickets {
					tickets++
					for _, m := range ticket.Marks {
						if want := m.At + " " + length(p.Job.Units, m.LengthNM); !strings.Contains(saw, want) {
							t.Errorf("ticket %d: no mark and piece %q", ticket.Number, want)
						}
						for _, l := range m.Labels {
							if !strings.Contains(saw, l) {
								t.Errorf("ticket %d: no label %q", ticket.Number, l)
							}
						}
					}
				}
			}
			if got := strings.Count(saw, " Ticket "); got != tickets {
				t.Errorf("%d tickets on paper, %d in plan.json", got, tickets)
			}
			if tickets == 0 {
				t.Error("nothing was released: the test says little")
			}
		})
	}
}

func length(sys measure.System, nm int64) string { return measure.Length(nm).In(sys) }

// Every frame has a pile, and the piles of an item are what the take-off needs of
// it: the counts are read back from the PDF, line by line.
func TestPicksAddUp(t *testing.T) {
	for _, name := range []string{"three-meadows", "nordlia-free-barn"} {
		p := planOf(t, name)
		b := made(t, p, "en", book.Options{Only: []book.Part{book.Picks}})
		text := partText(b, pagesOf(t, printed(t, b)), book.Picks)
		for i := range p.Layout.Runs {
			if r := &p.Layout.Runs[i]; r.Filled(p.Layout) && !strings.Contains(text, " "+r.Name+" ") {
				t.Errorf("%s: no pile for %s", name, r.Name)
			}
		}
		need := map[string]int{}
		for i := range p.Takeoff.Needs {
			need[p.Takeoff.Needs[i].Name] += p.Takeoff.Needs[i].Count
		}
		for _, item := range []string{"stack clamp", "corner bracket", "tube clamp"} {
			if need[item] == 0 {
				continue
			}
			got := 0
			for _, m := range regexp.MustCompile(`(\d+) `+item).FindAllStringSubmatch(text, -1) {
				n, err := strconv.Atoi(m[1])
				if err != nil {
					t.Fatal(err)
				}
				got += n
			}
			if got != need[item] {
				t.Errorf("%s: the piles hold %d of %s, the take-off needs %d", name, got, item, need[item])
			}
		}
	}
}

// Every page says which revision it is, which page of how many, how far its bays
// are and what to take care of.
func TestEveryPageSaysWhatItIs(t *testing.T) {
	p := planOf(t, "three-meadows")
	b := made(t, p, "en", book.Options{Only: without(book.Steps)})
	pages := pagesOf(t, printed(t, b))
	for i, text := range pages {
		if want := fmt.Sprintf("Page %d of %d", i+1, len(pages)); !strings.Contains(text, want) {
			t.Errorf("page %d does not say %q", i+1, want)
		}
		if !strings.Contains(text, p.Job.Date) {
			t.Errorf("page %d has no date", i+1)
		}
	}
	marked := 0
	for i := range b.Pages {
		has := false
		for _, m := range b.Pages[i].Marks {
			has = has || m.OnLayer() == "watermark"
		}
		if has != (b.Pages[i].State&book.HoldsDrawn != 0) {
			t.Errorf("page %d: watermark %v, state %d", i+1, has, b.Pages[i].State)
		}
		if has {
			marked++
		}
	}
	if marked == 0 {
		t.Error("no page has a watermark, though nothing is measured")
	}
}

// With every bay released no page has a watermark.
func TestReleasedHasNoWatermark(t *testing.T) {
	p := releasedPlan(t, "harrow-field-pen", all)
	for i := range p.Layout.Bays {
		if b := &p.Layout.Bays[i]; !b.IsOpen() && !b.IsDoor() && !p.Fit.Bays[i].State.MayCut() {
			t.Fatalf("%s is %s", b.Name, p.Fit.Bays[i].State)
		}
	}
	b := made(t, p, "en", book.Options{Only: without(book.Steps)})
	for i := range b.Pages {
		for _, m := range b.Pages[i].Marks {
			if m.OnLayer() == "watermark" {
				t.Fatalf("page %d, %s, has a watermark", i+1, b.Pages[i].Title)
			}
		}
	}
}

// No two texts overlap, none leaves its frame and none is too small to read, on any
// page of any example: the languages and papers take turns.
func TestNothingOverlaps(t *testing.T) {
	for i, name := range exampleNames(t) {
		t.Run(name, func(t *testing.T) {
			o, lang := book.Options{Paper: draw.A4}, "en"
			if i%2 == 0 {
				o.Paper, lang = draw.Letter, "es"
			}
			clean(t, made(t, planOf(t, name), lang, o))
		})
	}
}

// clean looks at every page with the checks of package draw.
func clean(t *testing.T, b *book.Book) {
	t.Helper()
	for i := range b.Pages {
		s := b.Pages[i].Sheet
		if b.Pages[i].Part == book.Drawings {
			continue // package views holds its sheets to the same; the page number stands below their frame
		}
		if o := draw.Overlaps(s); len(o) > 0 {
			t.Errorf("page %d (%s): %q stands on %q", i+1, b.Pages[i].Title, o[0].A.Text, o[0].B.Text)
		}
		if o := draw.Outside(s); len(o) > 0 {
			t.Errorf("page %d (%s): %q leaves the frame", i+1, b.Pages[i].Title, o[0].Text)
		}
		// What is read at arm's length is at least 3 mm high, measured by its capitals,
		// but for the office's line on labels and what stands on their margin.
		least := draw.Micron(page.Least)
		if b.Pages[i].Part == book.Labels {
			least = draw.MinText
		}
		for _, m := range s.Marks {
			if x, ok := m.(draw.Text); ok && x.Height < least {
				t.Errorf("page %d (%s): %q is %d µm high", i+1, b.Pages[i].Title, x.Text, x.Height)
			}
		}
	}
}
