package packet_test

import (
	"encoding/json"
	"strings"
	"testing"

	"stallwright/engine/build"
	"stallwright/paper/packet"
	"stallwright/paper/words"
)

func speaking(t *testing.T, lang string, name string) (*packet.Document, string) {
	t.Helper()
	p := example(t, name)
	w, err := words.For(lang, p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	return packet.NewDocument(p), string(packet.Steps(p, w, false))
}

// The steps as text name every piece once as it goes in, every operation's people
// and minutes, and hold no key, gap or English left over.
func TestStepsText(t *testing.T) {
	for _, name := range []string{"harrow-field-pen", "two-oaks-free-row"} {
		for _, lang := range []string{"en", "es"} {
			d, text := speaking(t, lang, name)
			flat := " " + strings.Join(strings.Fields(text), " ") + " "
			for _, o := range d.Work.Operations {
				for _, label := range o.Adds {
					if !strings.Contains(flat, " "+strings.Join(strings.Fields(label), " ")) {
						t.Errorf("%s, %s: the steps do not name %s", name, lang, label)
					}
				}
			}
			for _, bad := range []string{"[en]", "[build", "?}", "{", "≈"} {
				if strings.Contains(text, bad) {
					t.Errorf("%s, %s: the steps hold %q", name, lang, bad)
				}
			}
			if n := strings.Count(text, "\n  - "); n != len(d.Work.Operations) {
				t.Errorf("%s, %s: %d operations, %d lines begin one", name, lang, len(d.Work.Operations), n)
			}
		}
	}
}

// plan.json holds the same work as the plan: the same operations in the same
// order, the hardware of the take-off, and every rule.
func TestWorkAsData(t *testing.T) {
	p := example(t, "three-meadows")
	d := packet.NewDocument(p)
	if len(d.Work.Operations) != len(p.Build.Operations) || len(d.Work.Steps) != len(p.Build.Steps) || len(d.Work.Rules) != len(build.Rules()) {
		t.Fatalf("%d operations, %d steps, %d rules", len(d.Work.Operations), len(d.Work.Steps), len(d.Work.Rules))
	}
	used, needed := map[string]int{}, map[string]int{}
	for i := range d.Work.Operations {
		for _, u := range d.Work.Operations[i].Hardware {
			used[u.Item] += u.Count
		}
	}
	pieces := map[string]int{}
	for i := range d.Pieces {
		pieces[d.Pieces[i].Item]++
	}
	for i := range d.Takeoff {
		if l := &d.Takeoff[i]; pieces[l.Item] == 0 {
			needed[l.Item] += l.Count
		}
	}
	for item, n := range needed {
		if used[item] != n {
			t.Errorf("%s: the order counts %d, the work uses %d", item, n, used[item])
		}
	}
	for item := range used {
		if needed[item] == 0 {
			t.Errorf("the work uses %s, which nobody orders", item)
		}
	}
}

// A plan.json whose work does not hang together is refused with the place.
func TestWorkRefused(t *testing.T) {
	for what, spoil := range map[string]func(w *packet.WorkDoc){
		"waits for operation": func(w *packet.WorkDoc) {
			w.Operations[0].After = []packet.WaitDoc{{Operation: 5, Rule: w.Rules[0].ID}}
		},
		"is there twice":   func(w *packet.WorkDoc) { w.Operations[1].ID = w.Operations[0].ID },
		"is no piece":      func(w *packet.WorkDoc) { w.Operations[0].Adds = []string{"nowhere/c1"} },
		"holds":            func(w *packet.WorkDoc) { w.Steps[1].From++ },
		"are in a step":    func(w *packet.WorkDoc) { w.Steps = w.Steps[:len(w.Steps)-1] },
		"it stands in":     func(w *packet.WorkDoc) { w.Operations[0].Step = 9 },
		"takes 0 people":   func(w *packet.WorkDoc) { w.Operations[0].People = 0 },
		"has the number 7": func(w *packet.WorkDoc) { w.Steps[0].No = 7 },
	} {
		d := packet.NewDocument(example(t, "harrow-field-pen"))
		spoil(d.Work)
		src, err := json.Marshal(d)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := packet.Read("plan.json", src); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("want %q, got %v", what, err)
		}
	}
}
