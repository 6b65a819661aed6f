package views

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"stallwright/engine/plan/plantest"
	"stallwright/paper/draw"
)

// Names are put into the plan itself, past all that a job's reader refuses.
func TestHostileNames(t *testing.T) {
	for name, bad := range map[string]string{
		"markup":   `<script>alert("x")</script>&amp;]]>`,
		"long":     strings.Repeat("stall by the long hedge ", 8),
		"unbroken": strings.Repeat("W", 90),
		"turned":   "\u202eabc\u202c \u0645\u0631\u062d\u0628\u0627",
		"broken":   "a\xff\xfeb\x00\x1b[31m",
		"lines":    "one\ntwo\r\nthree\tfour",
		"empty":    "",
		"wide":     "馬房",
		"path":     "../../etc/passwd",
	} {
		t.Run(name, func(t *testing.T) {
			p := plantest.Make(t, "small.yaml", bigJob(2))
			p.Job.Job, p.Job.Farm.Name, p.Job.Date = bad, bad, bad
			l := p.Layout
			for i := range l.Bays {
				l.Bays[i].Name = fmt.Sprint(bad, i)
			}
			for i := range l.Posts {
				l.Posts[i].Name = fmt.Sprint(bad, i)
			}
			for i := range l.Rooms {
				l.Rooms[i].Name = fmt.Sprint(bad, i)
			}
			for i := range l.Walls {
				l.Walls[i].Name = bad
			}
			for i := range l.Runs {
				l.Runs[i].Name = bad
			}
			for i := range l.Aisles {
				l.Aisles[i].Name = bad
			}
			l.Structures[0].Name = bad
			sheets, err := All(p, Options{})
			if err != nil {
				// A sheet that cannot hold such names is refused whole, with its title.
				if !strings.HasPrefix(err.Error(), "sheet ") {
					t.Fatalf("the error does not name its sheet: %v", err)
				}
				t.Logf("refused: %v", err)
				return
			}
			for _, s := range sheets {
				if o := draw.Overlaps(s.Sheet); len(o) > 0 {
					t.Errorf("%s: %d texts overlap", s.Name, len(o))
				}
				d := xml.NewDecoder(strings.NewReader(s.SVG()))
				for {
					tok, err := d.Token()
					if errors.Is(err, io.EOF) {
						break
					}
					if err != nil {
						t.Fatalf("%s is no XML: %v", s.Name, err)
					}
					if e, ok := tok.(xml.StartElement); ok && e.Name.Local == "script" {
						t.Fatalf("%s holds a script", s.Name)
					}
				}
			}
		})
	}
}

// A thousand stalls come out as sheets that all hold what they name.
func TestManyStalls(t *testing.T) {
	if testing.Short() {
		t.Skip("draws more than a thousand sheets")
	}
	p := plantest.Make(t, "big.yaml", bigJob(1000))
	sheets, err := All(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]bool{}
	for _, s := range sheets {
		if names[s.Name] {
			t.Fatalf("two sheets are called %s", s.Name)
		}
		names[s.Name] = true
		if len(draw.Outside(s.Sheet)) > 0 || len(draw.Overlaps(s.Sheet)) > 0 {
			t.Errorf("%s: texts clash", s.Name)
		}
	}
	var all strings.Builder
	for _, s := range sheets {
		if strings.HasPrefix(s.Name, "wall-") {
			all.WriteString(packed(s) + "\n")
		}
	}
	text := all.String()
	for i := range p.Layout.Bays {
		if !strings.Contains(text, p.Layout.Bays[i].Name) {
			t.Errorf("%s stands on no sheet", p.Layout.Bays[i].Name)
		}
	}
}

func TestGreatRings(t *testing.T) {
	for _, n := range []int{3, 4, 60, 400} {
		p := plantest.Make(t, "ring.yaml", fmt.Sprintf(`job: Ring
units: feet
kit: fernhollow
farm: {name: Ring}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [12']}
structures:
  - pen: {name: P, sections: %d, section: 12'}
`, n))
		sheets, err := All(p, Options{})
		if err != nil {
			t.Errorf("%d sections: %v", n, err)
			continue
		}
		if len(sheets[0].Key) > 0 {
			t.Errorf("%d sections: the plan sends readers to a key: %q", n, sheets[0].Key)
		}
	}
}
