package yard_test

import (
	"errors"
	"strings"
	"testing"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/yard"
)

const head = "job: T\nunits: feet\nkit: fernhollow\nfarm: {name: F}\nstructures: [{pen: {name: P, across: 60'}}]\n"

func read(t *testing.T, lumber string) *job.Job {
	t.Helper()
	j, err := job.Read("job.yaml", []byte(head+"lumber: "+lumber+"\n"))
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func TestAJobTakesItsBoardsFromAYard(t *testing.T) {
	y, err := yard.Read("yard.yaml", yard.Starter())
	if err != nil {
		t.Fatal(err)
	}
	j := read(t, `{species: southern-pine, tongue: 3/8", yard: yard.yaml}`)
	out, err := yard.Supply(j, y)
	if err != nil {
		t.Fatal(err)
	}
	l := &out.Lumber
	if len(j.Lumber.Lengths) != 0 {
		t.Error("the job itself was changed")
	}
	if len(l.Sells(false)) != 5 || len(l.Sells(true)) != 3 || l.Sells(true)[0].Price != 980 || l.Sells(false)[0].Length != 8*12*measure.Inch {
		t.Errorf("%+v\n%+v", l.Sells(false), l.Sells(true))
	}
	if s := l.Supply; s.Lead != 2 || s.LeadTreated != 5 || s.Currency != "USD" || s.Untreated {
		t.Errorf("%+v", s)
	}
	if pos := l.Sells(true)[0].Pos(); pos.File != "yard.yaml" || pos.Line == 0 {
		t.Errorf("a price does not know where it stands: %v", pos)
	}
}

func TestBoardsThatAYardDoesNotHave(t *testing.T) {
	y, err := yard.Read("yard.yaml", []byte(strings.Replace(string(yard.Starter()), "currency: USD", "currency: USD", 1)+`
  - species: southern-pine
    nominal: 2x6
    grade: No. 1
    lengths: [{length: 8', price: 9.10}]
`))
	if err != nil {
		t.Fatal(err)
	}
	for lumber, says := range map[string]string{
		`{species: douglas-fir-larch, tongue: 3/8", yard: y.yaml}`:                                 "lists no boards",
		`{species: southern-pine, nominal: 2x8, tongue: 3/8", yard: y.yaml}`:                       "lists no boards",
		`{species: southern-pine, thickness: 40 mm, coverage: 130 mm, tongue: 3/8", yard: y.yaml}`: "lists no boards",
		`{species: southern-pine, tongue: 3/8", yard: y.yaml}`:                                     "several boards",
	} {
		_, err := yard.Supply(read(t, lumber), y)
		var ps document.Problems
		if !errors.As(err, &ps) || !strings.Contains(ps.Error(), says) || ps[0].Pos.Line != 6 || ps[0].Hint == "" {
			t.Errorf("%s: %v", lumber, err)
		}
	}
	out, err := yard.Supply(read(t, `{species: southern-pine, grade: No. 1, tongue: 3/8", yard: y.yaml}`), y)
	if err != nil || len(out.Lumber.Lengths) != 1 || !out.Lumber.Supply.Untreated {
		t.Errorf("%v %+v", err, out)
	}
}

func TestMistakesAreToldByLine(t *testing.T) {
	starter := string(yard.Starter())
	for _, c := range []struct{ old, new, says string }{
		{"currency: USD", "currency: DOLLARS", "ISO 4217"},
		{"yard: Example yard", "yad: Example yard", "unknown key"},
		{"length: 10', price: 9.20", "length: 8', price: 9.20", "given twice"},
		{"length: 10', price: 9.20", "length: 10'", "some boards have a price"},
		{"length: 10', price: 9.20", "length: 10', price: 9.205", "amount of money"},
		{"length: 10', price: 9.20", "length: 1000', price: 9.20", "no yard sells"},
		{"dated: 2026-05-04", "dated: soon", "no date"},
		{"treatment: UC3B", "# treatment", "listed already"},
		{"currency: USD", "currency: JPY", "small money"},
	} {
		if !strings.Contains(starter, c.old) {
			t.Fatalf("the starter does not hold %q", c.old)
		}
		_, err := yard.Read("yard.yaml", []byte(strings.Replace(starter, c.old, c.new, 1)))
		var ps document.Problems
		if !errors.As(err, &ps) || !strings.Contains(ps.Error(), c.says) || ps[0].Pos.Line == 0 {
			t.Errorf("%s: %v", c.new, err)
		}
	}
}

func TestAJobSaysOnceWhereItsBoardsComeFrom(t *testing.T) {
	for lumber, says := range map[string]string{
		`{species: southern-pine, tongue: 3/8"}`:                                      "which lengths",
		`{species: southern-pine, tongue: 3/8", yard: y.yaml, lengths: [8']}`:         "keep yard or lengths",
		`{species: southern-pine, tongue: 3/8", yard: y.yaml, treated_lengths: [8']}`: "treated boards only",
	} {
		_, err := job.Read("job.yaml", []byte(head+"lumber: "+lumber+"\n"))
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", lumber, err)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(yard.Starter())
	f.Fuzz(func(t *testing.T, src []byte) {
		y, err := yard.Read("yard.yaml", src)
		if (y == nil) == (err == nil) {
			t.Errorf("%v, %v", y, err)
		}
	})
}
