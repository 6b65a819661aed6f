package document_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// texts is a document whose every value is a plain text.
type texts struct {
	document.Where `yaml:"-"`

	A string            `yaml:"a"`
	L []plate           `yaml:"l"`
	M map[string]string `yaml:"m"`
}

// Values arrive as the characters that were written. The right column follows from
// YAML 1.2.2, sections 7.3 (flow scalars) and 8.1 (block scalars), without the
// resolution of chapter 10, which turns texts into numbers, dates and truths.
func TestReadKeepsTheTextOfValues(t *testing.T) {
	for _, c := range []struct{ src, want string }{
		{`a: 12'`, `12'`},
		{`a: 12' # note`, `12'`},
		{`a: 11' 7 5/8"`, `11' 7 5/8"`},
		{`a: 11' 7 5/8"   # note`, `11' 7 5/8"`},
		{`a: 5/8"`, `5/8"`},
		{`a: 12'#2`, `12'#2`},
		{`a: -1/4"`, `-1/4"`},
		{`a: 11'-7-5/8"`, `11'-7-5/8"`},
		{`a: "11' 7 5/8\""`, `11' 7 5/8"`},
		{`a: '11'' 7 5/8"'`, `11' 7 5/8"`},
		{`a: 012`, `012`},
		{`a: 0x1F`, `0x1F`},
		{`a: 1_000`, `1_000`},
		{`a: 1e3`, `1e3`},
		{`a: 12.50`, `12.50`},
		{`a: +5`, `+5`},
		{`a: .inf`, `.inf`},
		{`a: 12:30`, `12:30`},
		{`a: 12:30:15.5`, `12:30:15.5`},
		{`a: 2026-05-04`, `2026-05-04`},
		{`a: no`, `no`},
		{`a: On`, `On`},
		{`a: true`, `true`},
		{`a: TRUE`, `TRUE`},
		{`a: "null"`, `null`},
		{`a: '~'`, `~`},
		{`a: ""`, ``},
		{`a: a, b; c`, `a, b; c`},
		{`a: x [y] {z}`, `x [y] {z}`},
		{`a: C:\Farm`, `C:\Farm`},
		{`a: 4:12`, `4:12`},
		{`a: 22.5°`, `22.5°`},
		{"a: one\n  two\n\n  three", "one two\nthree"},
		{"a: |\n  one\n\n  two\n", "one\n\ntwo\n"},
		{"a: |-\n  one\n   two\n", "one\n two"},
		{"a: >\n  one\n  two\n\n  three\n", "one two\nthree\n"},
		{"a: \"one\n  two\"", "one two"},
		{`a: "\u00e9\t\x41 \"\\" # "c"`, "é\tA \"\\"},
		{"a: '''' # 'c'", `'`},
		{"a: 🐴 Ærø", "🐴 Ærø"},
		{`{a: 12' 6"}`, `12' 6"`},
		{`{"a": 5/8", l: [x]}`, `5/8"`},
		{`{a: 12:30}`, `12:30`},
	} {
		var v texts
		if err := document.Read("t.yaml", []byte(c.src), &v); err != nil {
			t.Errorf("%s\n%v", c.src, err)
		} else if v.A != c.want {
			t.Errorf("%s gives %q, not %q", c.src, v.A, c.want)
		}
	}
}

func TestReadKeepsTheTextOfItems(t *testing.T) {
	want := []plate{{`12'`}, {`12' 6"`}, {`10'`}, {`5/8"`}, {`no`}, {`012`}, {`12:30`}}
	for _, src := range []string{
		`l: [12', 12' 6", 10', 5/8", no, 012, 12:30] # all`,
		`l: [ 12' , 12' 6" ,10', 5/8", "no", '012', 12:30, ]`,
		"l: [12',\n    12' 6\",  # second\n    10', 5/8\",\n    no, 012, 12:30\n  ]",
		"l:\n- 12'\n- 12' 6\"  # second\n- 10'\n- 5/8\"\n- no\n- 012\n- 12:30\n",
		"l:\n  -   12'\n\n  # first\n  - 12' 6\"\n  - 10'\n  - 5/8\"\n  - no\n  - 012\n  -\n    12:30",
		`{l: [12', 12' 6", 10', 5/8", no, 012, '12:30']}`,
	} {
		var v texts
		if err := document.Read("t.yaml", []byte(src), &v); err != nil {
			t.Errorf("%s\n%v", src, err)
		} else if diff := cmp.Diff(want, v.L, cmp.AllowUnexported(plate{})); diff != "" {
			t.Errorf("%s\n-want +got\n%s", src, diff)
		}
	}
}

func TestReadEveryKindOfField(t *testing.T) {
	const ft, in, mm = measure.Foot, measure.Inch, measure.Millimetre
	src := lines(
		`name: Old mill   # the neighbours' name for it`,
		`notes: |`,
		`  Gate code 0400.`,
		`  Two dogs.`,
		`rooms:`,
		`  - name: 01`,
		`    width: 11' 7 1/2"`,
		`    kind: wash-bay`,
		`    doors: 2`,
		`    lit: true`,
		`    spacing: [12', 3600 mm]`,
		`    play: 6`,
		`    left: 11' 7"`,
		`    plate: no`,
		`  - {name: N2, width: 3.54 m, spacing: 12', play: 1/4", left: [11', 12'], plate: 12:30}`,
		`  - name: N3`,
		`    width: 12'`,
		`    left: {top: 11', bottom: 12'}`,
		`heights: {right: 8', left: 2440 mm}`,
		`counts: {stall: 3}`,
		`crew: {people: 2}`,
	)
	want := order{
		Name:  "Old mill",
		Notes: "Gate code 0400.\nTwo dogs.\n",
		Rooms: []room{
			{Name: "01", Width: 11*ft + 7*in + in/2, Kind: "wash-bay", Doors: 2, Lit: true, Spacing: document.Several[measure.Length]{12 * ft, 3600 * mm},
				Play: 6 * mm, Left: tapes{all: []measure.Length{11*ft + 7*in}}, Plate: plate{"no"}},
			{Name: "N2", Width: 3540 * mm, Spacing: document.Several[measure.Length]{12 * ft}, Play: in / 4, Left: tapes{all: []measure.Length{11 * ft, 12 * ft}}, Plate: plate{"12:30"}},
			{Name: "N3", Width: 12 * ft, Left: tapes{Top: 11 * ft, Bottom: 12 * ft}},
		},
		Heights: map[string]measure.Length{"left": 2440 * mm, "right": 8 * ft},
		Counts:  map[kindOfRoom]int{"stall": 3},
		Crew:    &crew{People: 2},
	}
	var got order
	if err := document.Read("o.yaml", []byte(src), &got); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, placeless); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if at := got.Rooms[0].Left.Pos().String(); at != "o.yaml:13:11" {
		t.Errorf("a struct read from a single value is at %s", at)
	}
	if at := got.Rooms[1].Left.Of("[1]").String(); at != "o.yaml:15:69" {
		t.Errorf("an item of a struct read from a list is at %s", at)
	}
}

// placeless compares what was read and not where.
var placeless = cmp.Options{
	cmp.Comparer(func(a, b document.Where) bool { return true }),
	cmp.AllowUnexported(tapes{}, plate{}),
}

func TestReadKeepsWhatIsNotWritten(t *testing.T) {
	o := order{Notes: "as before", Crew: &crew{People: 4}}
	if err := document.Read("o.yaml", []byte(fine), &o); err != nil {
		t.Fatal(err)
	}
	if o.Notes != "as before" || o.Crew.People != 4 {
		t.Errorf("notes %q, %d people", o.Notes, o.Crew.People)
	}
}

func TestReadEmbeddedStructs(t *testing.T) {
	type Sized struct {
		Width measure.Length `yaml:"width,required"`
	}
	type door struct {
		document.Where `yaml:"-"`
		Sized

		Name string `yaml:"name"`
	}
	var d door
	if err := document.Read("d.yaml", []byte("name: D\nwidth: 4'\n"), &d); err != nil {
		t.Fatal(err)
	}
	if d.Width != 4*measure.Foot || d.Of("width").Line != 2 {
		t.Errorf("width %v at %v", d.Width, d.Of("width"))
	}
}

// The bounds of list lengths hold for one item written without a list too.
func TestSeveralCountsOneItem(t *testing.T) {
	var v struct {
		S document.Several[string] `yaml:"s" min:"2"`
	}
	got := told(document.Read("s.yaml", []byte("s: x"), &v))
	if want := []string{"s.yaml:1:4: this list has 1 item, too few | write at least 2 items"}; !cmp.Equal(want, got) {
		t.Errorf("got %q", got)
	}
}

func TestReadPanicsOnProgramMistakes(t *testing.T) {
	for name, into := range map[string]any{
		"no pointer": order{},
		"nil":        (*order)(nil),
		"float": &struct {
			F float64 `yaml:"a"`
		}{},
		"unknown option": &struct {
			F string `yaml:"a,omitempty"`
		}{},
		"unexported": &struct {
			f string `yaml:"a"`
		}{},
		"two alike": &struct {
			F string `yaml:"a"`
			G string `yaml:"a"`
		}{},
		"bound": &struct {
			F int `yaml:"a" min:"x"`
		}{},
		"map": &struct {
			F map[int]string `yaml:"a"`
		}{},
	} {
		func() {
			defer func() {
				if p, _ := recover().(string); !strings.HasPrefix(p, "document: ") {
					t.Errorf("%s: %v", name, p)
				}
			}()
			src := "a: 1"
			if name == "map" {
				src = "a: {b: c}"
			}
			document.Read("x.yaml", []byte(src), into)
			t.Errorf("%s: no panic", name)
		}()
	}
}
