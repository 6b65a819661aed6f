package page_test

import (
	"encoding/json"
	"strings"
	"testing"

	"stallwright/app/page"
)

// asked puts a question and reads the reply into result.
func asked(t *testing.T, name string, a page.Asked, result any) page.Reply {
	t.Helper()
	in, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	r := page.Reply{Result: result}
	if err := json.Unmarshal(page.Answer(name, in), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func TestEveryExampleIsPlanned(t *testing.T) {
	for name, a := range examples(t) {
		var p page.Planned
		if r := asked(t, "plan", a, &p); r.Error != "" || r.Problems != nil {
			t.Errorf("%s: %s %v", name, r.Error, r.Problems)
		} else if len(p.Document.Pieces) == 0 || !strings.Contains(p.Summary, p.Document.Job.Job) {
			t.Errorf("%s: %d pieces", name, len(p.Document.Pieces))
		}
	}
}

func TestMistakesComeByLine(t *testing.T) {
	a := examples(t)["three-meadows"]
	a.Job = strings.Replace(a.Job, "depth: 12'", "depth: twelve", 1)
	r := asked(t, "plan", a, nil)
	if len(r.Problems) != 1 || r.Problems[0].Line != 28 || r.Problems[0].Hint == "" {
		t.Errorf("%+v", r)
	}
}

// An answer typed in the page becomes an entry, the board length follows from it,
// and the next question stands; one that can hardly be true is taken only when
// the person is sure.
func TestAnswerInTheWalk(t *testing.T) {
	a := examples(t)["three-meadows"]
	a.ID, a.When, a.By = "01", "2026-05-11T09:00:00-05:00", "Sam"
	a.Question, a.Typed = "width L2-L3 middle", `11' 6 5/16"`
	var v page.Verdict
	if r := asked(t, "answer", a, &v); r.Error != "" || v.Entry == nil || v.Walk == nil {
		t.Fatalf("%+v %+v", r, v)
	}
	if !strings.Contains(string(v.Entry), `"by":"Sam"`) || v.Walk.Stands == "" || v.Walk.Stands == a.Question {
		t.Errorf("%s, stands %q", v.Entry, v.Walk.Stands)
	}
	a.Typed = `12' 6 5/16"`
	v = page.Verdict{}
	if asked(t, "answer", a, &v); v.Entry != nil || len(v.Say) == 0 {
		t.Errorf("taken at once: %+v", v)
	}
	a.Sure = true
	v = page.Verdict{}
	if asked(t, "answer", a, &v); v.Entry == nil {
		t.Errorf("not taken when sure: %+v", v)
	}
}

func TestChoicesWhyAndStarters(t *testing.T) {
	var c page.Choices
	if r := asked(t, "choices", page.Asked{}, &c); r.Error != "" || len(c.Kits) != 2 || len(c.Kits[0].Doors) == 0 {
		t.Fatalf("%+v %+v", r, c)
	}
	for _, s := range c.Starters {
		var text string
		asked(t, "starter", page.Asked{About: s}, &text)
		var p page.Planned
		if r := asked(t, "plan", page.Asked{Job: text}, &p); r.Error != "" || r.Problems != nil {
			t.Errorf("%s: %+v", s, r)
		}
	}
	a := examples(t)["three-meadows"]
	a.About = "L1-L2"
	var why []page.Reason
	if r := asked(t, "why", a, &why); r.Error != "" || len(why) == 0 || len(why[0].Lines) == 0 {
		t.Errorf("%+v", r)
	}
	a.About = "nowhere"
	if r := asked(t, "why", a, nil); !strings.Contains(r.Error, "nowhere") {
		t.Errorf("%+v", r)
	}
}

// Whatever a page sends, there is a reply that can be read.
func FuzzAnswer(f *testing.F) {
	f.Add("plan", `{"job": "job: x"}`)
	f.Add("walk", `{"job": "", "entries": ["{}"]}`)
	f.Add("", `[`)
	f.Fuzz(func(t *testing.T, name, in string) {
		var r page.Reply
		if err := json.Unmarshal(page.Answer(name, []byte(in)), &r); err != nil {
			t.Fatal(err)
		}
		if r.Result == nil && r.Error == "" && r.Problems == nil {
			t.Fatalf("no reply: %+v", r)
		}
	})
}
