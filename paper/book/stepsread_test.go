package book_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"stallwright/engine/measure"
	"stallwright/paper/book"
	"stallwright/paper/packet"
)

// stepText is, for each step, what poppler reads on the pages from where its
// bookmark points to the one on which the next begins, which it may end on.
func stepText(t *testing.T, b *book.Book, pages []string) map[int]string {
	t.Helper()
	at, end := map[int]int{}, 0
	for i, p := range b.Pages {
		if p.Part == book.Steps {
			end = i + 1
		}
	}
	starts := map[int]bool{}
	for _, e := range b.Outline {
		no, _, _ := strings.Cut(e.Title, " ")
		if n, err := strconv.Atoi(no); err == nil && e.Level == 1 && b.Pages[e.Page].Part == book.Steps {
			at[n] = e.Page
			starts[e.Page] = true
		}
	}
	out := map[int]string{}
	for n, p := range at {
		last := p + 1
		for last < end && !starts[last] {
			last++
		}
		out[n] = " " + strings.Join(pages[p:min(last+1, end)], " ") + " "
	}
	return out
}

var inARow = regexp.MustCompile(`(\S+/\D*?)(\d+)([LR]?)–\D*?(\d+)[LR]?`)

// labelsIn are the labels that a text names, those of boards in a row one by one.
func labelsIn(text string) map[string]bool {
	out := map[string]bool{}
	for _, m := range inARow.FindAllStringSubmatch(text, -1) {
		from, _ := strconv.Atoi(m[2])
		to, _ := strconv.Atoi(m[4])
		for k := from; k <= to && k-from < 100; k++ {
			out[m[1]+strconv.Itoa(k)+m[3]] = true
		}
	}
	return out
}

// said is a pattern of a text in which names, numbers and lengths may stand as a
// letter that the rows of the places explain.
func said(text, place string) *regexp.Regexp {
	var out []string
	text = strings.ReplaceAll(text, " mm", "mm")
	for word := range strings.FieldsSeq(text) {
		if strings.ContainsAny(word, "0123456789/-.\"") || word == place || word == place+":" || strings.ToLower(word) != word && len(out) > 0 {
			if n := len(out); n == 0 || out[n-1] != ".{1,90}?" {
				out = append(out, ".{1,90}?")
			}
			continue
		}
		out = append(out, regexp.QuoteMeta(word))
	}
	return regexp.MustCompile(strings.Join(out, " "))
}

// The steps read back by poppler hold what plan.json says of them: at each step's
// bookmark its number and place, every piece by its label, every fastener and part
// with its count, everything to do and to check, whether the step has a page of its
// own or shares one.
func TestStepsSameAsPlanJSON(t *testing.T) {
	for _, name := range exampleNames(t) {
		t.Run(name, func(t *testing.T) {
			p := planOf(t, name)
			b := made(t, p, "en", book.Options{Only: []book.Part{book.Steps}})
			texts := stepText(t, b, pagesOf(t, printed(t, b)))
			doc := packet.NewDocument(p)
			shared := 0
			for i, s := range doc.Work.Steps {
				text, ok := texts[s.No]
				if !ok {
					t.Fatalf("step %d has no bookmark", s.No)
				}
				if !strings.Contains(text, " "+strconv.Itoa(s.No)+" ") {
					shared++
					if !regexp.MustCompile(`\b\d+–\d+\b`).MatchString(text) {
						t.Errorf("step %d is not on the page of its bookmark", s.No)
					}
				}
				row := labelsIn(text)
				type taken struct {
					item, length string
				}
				count := map[taken]int{}
				for k := s.From; k < s.From+s.Operations; k++ {
					o := &doc.Work.Operations[k]
					for _, l := range o.Adds {
						if !row[l] && !strings.Contains(text, l) {
							t.Errorf("step %d does not name %s", s.No, l)
						}
					}
					for _, u := range o.Hardware {
						name := u.Item
						if it, ok := p.Kit.Item(u.Item); ok {
							name = it.Name
						}
						length := ""
						if u.LengthNM != 0 {
							length = measure.Length(u.LengthNM).In(p.Job.Units)
						}
						count[taken{name, length}] += u.Count
					}
					if !said(o.Do, o.Place).MatchString(text) {
						t.Errorf("step %d does not say %q", s.No, o.Do)
					}
					if c := o.Check; c != nil && !said(c.What, o.Place).MatchString(text) {
						t.Errorf("step %d does not check %q", s.No, c.What)
					}
					if !strings.Contains(text, o.Place) {
						t.Errorf("step %d does not name its place %s", s.No, o.Place)
					}
				}
				many := len(p.Build.Steps[i].Ops) // a round says once what each place takes
				for k, n := range count {
					found := strings.Contains(text, fmt.Sprintf("%d × %s", n, k.item)) || strings.Contains(text, fmt.Sprintf("%d %s", n, k.item)) ||
						n%many == 0 && strings.Contains(text, fmt.Sprintf("%d %s", n/many, k.item))
					if !found || !strings.Contains(text, k.length) {
						t.Errorf("step %d does not take %d × %s %s", s.No, n, k.item, k.length)
					}
				}
			}
			if len(doc.Work.Steps) != len(texts) {
				t.Errorf("%d steps, %d bookmarks", len(doc.Work.Steps), len(texts))
			}
			t.Logf("%d steps on %d pages", len(doc.Work.Steps), len(b.Pages))
		})
	}
}

// Every check of plan.json has a line in the check-off: its step, its place.
func TestChecksSameAsPlanJSON(t *testing.T) {
	for _, name := range exampleNames(t) {
		p := planOf(t, name)
		b := made(t, p, "en", book.Options{Only: []book.Part{book.Checks}})
		text := partText(b, pagesOf(t, printed(t, b)), book.Checks)
		for _, o := range packet.NewDocument(p).Work.Operations {
			if o.Check == nil {
				continue
			}
			if want := fmt.Sprintf(" %d %s ", o.Step, o.Place); !strings.Contains(text, want) {
				t.Errorf("%s: no line of the check-off says %q", name, want)
			}
			if !strings.Contains(text, o.Check.What) {
				t.Errorf("%s: the check-off does not say %q", name, o.Check.What)
			}
		}
	}
}
