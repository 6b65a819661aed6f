package document_test

import (
	"slices"
	"testing"

	"stallwright/engine/document"
)

func TestPosString(t *testing.T) {
	for _, c := range []struct {
		p    document.Pos
		want string
	}{
		{document.Pos{}, ""},
		{document.Pos{File: "job.yaml"}, "job.yaml"},
		{document.Pos{File: "job.yaml", Line: 12}, "job.yaml:12"},
		{document.Pos{File: "job.yaml", Line: 12, Column: 5}, "job.yaml:12:5"},
		{document.Pos{Line: 12, Column: 5}, "12:5"},
	} {
		if got := c.p.String(); got != c.want {
			t.Errorf("%#v: %q, not %q", c.p, got, c.want)
		}
	}
}

func TestWhere(t *testing.T) {
	src := lines(
		`# places`,
		`name: "é" # c`,
		`rooms:`,
		`  - width: 12'`,
		`    name: N1`,
		`    spacing:`,
		`      - 8'`,
		`      - 9'`,
		`  - {name: N2, width: 12', spacing: [8', 9']}`,
		`heights:`,
		`  right: 8'`,
		`  left:   9'`,
	)
	var o order
	if err := document.Read("o.yaml", []byte(src), &o); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what string
		got  document.Pos
		want string
	}{
		{"the document", o.Pos(), "o.yaml:2:1"},
		{"name", o.Of("name"), "o.yaml:2:7"},
		{"the key name", o.KeyOf("name"), "o.yaml:2:1"},
		{"rooms", o.Of("rooms"), "o.yaml:4:3"},
		{"rooms[1]", o.Of("rooms[1]"), "o.yaml:9:5"},
		{"heights.left", o.Of("heights.left"), "o.yaml:12:11"},
		{"the key heights.left", o.KeyOf("heights.left"), "o.yaml:12:3"},
		{"a key that is not there", o.Of("crew"), "o.yaml:2:1"},
		{"the first room", o.Rooms[0].Pos(), "o.yaml:4:5"},
		{"its width", o.Rooms[0].Of("width"), "o.yaml:4:12"},
		{"its spacing", o.Rooms[0].Of("spacing[1]"), "o.yaml:8:9"},
		{"the second room", o.Rooms[1].Pos(), "o.yaml:9:5"},
		{"its spacing", o.Rooms[1].Of("spacing[1]"), "o.yaml:9:42"},
		{"nothing read", document.Where{}.Of("name"), ""},
	} {
		if got := c.got.String(); got != c.want {
			t.Errorf("%s is at %s, not %s", c.what, got, c.want)
		}
	}
	if !o.Has("name") || o.Has("notes") || (document.Where{}).Has("name") {
		t.Error("Has is wrong")
	}
	if !o.Where.Equal(o.Where) || o.Where.Equal(o.Rooms[0].Where) || o.Where.Equal(document.Where{}) {
		t.Error("Equal is wrong")
	}
	if got := o.KeysOf("heights"); !slices.Equal(got, []string{"right", "left"}) {
		t.Errorf("the heights were written in the order %q", got)
	}
}

// A later stage adds to the problems of the same text.
func TestReporterGoesOn(t *testing.T) {
	r := document.NewReporter("o.yaml", []byte(fine))
	var o order
	if !r.Read(&o) {
		t.Fatal(r.Err())
	}
	if r.Err() != nil {
		t.Errorf("no problems, yet %v", r.Err())
	}
	r.Add(o.Rooms[0].Of("width"), "rooms[0].width", "12'", "too wide", "")
	r.Add(o.Of("name"), "name", "A", "taken", "use another")
	r.Add(document.Pos{}, "", "", "nowhere", "")
	want := lines(
		`nowhere`,
		`o.yaml:1:7: taken`,
		`    1 | name: A`,
		`      |       ^`,
		`  hint: use another`,
		`o.yaml:2:26: too wide`,
		`    2 | rooms: [{name: N, width: 12'}]`,
		`      |                          ^^^`,
	)
	if got := r.Err().Error() + "\n"; got != want {
		t.Errorf("got\n%s", got)
	}
}
