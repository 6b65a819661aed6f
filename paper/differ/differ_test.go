package differ_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/paper/differ"
	"stallwright/paper/packet"
)

func TestAPlanAndItselfDoNotDiffer(t *testing.T) {
	for _, name := range exampleNames(t) {
		d := differ.Compare(example(t, name), example(t, name))
		if !d.Empty() {
			t.Errorf("%s: %s", name, d.Text())
		}
		if got, want := string(d.Text()), d.New.Job+": nothing changed.\n"; got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// A job whose lines moved, in a file of another name, is the same job.
func TestMovedLinesAreNoChange(t *testing.T) {
	for _, name := range exampleNames(t) {
		d := differ.Compare(example(t, name), documentOf(t, "elsewhere/moved.yaml", "# moved\n\n# further\n"+text(t, name)))
		if !d.Empty() {
			t.Errorf("%s: %s", name, d.Text())
		}
	}
}

// Nor is a line number inside a source or a message.
func TestMovedPlacesInTextsAreNoChange(t *testing.T) {
	old, new := example(t, "alder-creek-barn-row"), example(t, "alder-creek-barn-row")
	for d, place := range map[*packet.Document]string{old: "(a/farm.yaml:3:5)", new: "(farm.yaml:112:7)"} {
		d.Findings = append(d.Findings, packet.FindingDoc{Code: "x", Severity: "note", Place: "A1-A2", Message: "measured " + place + " since its release", Source: "job " + place})
		for i := range d.Reasons {
			if strings.HasPrefix(d.Reasons[i].Source, "measured") {
				d.Reasons[i].Source = "measured by crew lead " + place
			}
		}
	}
	if d := differ.Compare(old, new); !d.Empty() {
		t.Errorf("%s", d.Text())
	}
}

// A plan read back from its own plan.json is the plan.
func TestJobAndPlanFileMeet(t *testing.T) {
	for _, name := range exampleNames(t) {
		doc := example(t, name)
		data, err := json.Marshal(doc)
		if err != nil {
			t.Fatal(err)
		}
		back, err := packet.Read("plan.json", data)
		if err != nil {
			t.Fatal(err)
		}
		if d := differ.Compare(back, doc); !d.Empty() {
			t.Errorf("%s: %s", name, d.Text())
		}
	}
}

// mirrored turns a difference round; orders of lists, numbers of causes and what
// can be done with pieces belong to one direction, and are left out.
func mirrored(d *differ.Diff, turn bool) []string {
	var out []string
	value := func(v differ.Value) string {
		if turn {
			v.Old, v.New, v.OldNM, v.NewNM = v.New, v.Old, v.NewNM, v.OldNM
		}
		b, _ := json.Marshal(v)
		return string(b)
	}
	part := func(kind string, p differ.Part) {
		if turn {
			p.Old, p.New = p.New, p.Old
		}
		var values []string
		for _, v := range p.Values {
			values = append(values, v.Field)
			if p.Old == p.New && v.OldNM != nil && v.NewNM != nil {
				values = append(values, value(v)) // texts of renamed things carry new names
			}
		}
		out = append(out, fmt.Sprint(kind, " ", p.Old, " → ", p.New, " ", strings.Join(values, ";")))
	}
	for kind, list := range map[string][]differ.Part{"structure": d.Structures, "post": d.Posts, "wall": d.Walls, "run": d.Runs, "room": d.Rooms, "aisle": d.Aisles, "bay": d.Bays, "mark": d.Marks} {
		for _, p := range list {
			part(kind, p)
		}
	}
	for _, p := range d.Pieces {
		part("piece "+p.Kind, p.Part)
	}
	for _, l := range d.Order {
		if turn {
			l.OldOrder, l.NewOrder, l.OldCount, l.NewCount, l.OldMassUG, l.NewMassUG = l.NewOrder, l.OldOrder, l.NewCount, l.OldCount, l.NewMassUG, l.OldMassUG
		}
		out = append(out, fmt.Sprint("line ", l.Item, l.LengthNM, l.Treated, l.OldOrder, l.NewOrder, l.OldCount, l.NewCount, l.OldMassUG, l.NewMassUG, len(l.Places)))
	}
	came := map[string]int{}
	for _, f := range d.Findings {
		came[f.Change+f.Code]++
	}
	for k, n := range came {
		if turn {
			switch {
			case strings.HasPrefix(k, "new"):
				k = "gone" + strings.TrimPrefix(k, "new")
			default:
				k = "new" + strings.TrimPrefix(k, "gone")
			}
		}
		out = append(out, fmt.Sprint("finding ", k, n))
	}
	slices.Sort(out)
	return out
}

// Old and new the other way round tell the same the other way round.
func TestSwappedPlansMirror(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		old, new := drawPair(r)
		there, back := differ.Compare(old, new), differ.Compare(new, old)
		a, b := mirrored(there, false), mirrored(back, true)
		if !slices.Equal(a, b) {
			for _, s := range a {
				if !slices.Contains(b, s) {
					r.Errorf("there only: %s", s)
				}
			}
			for _, s := range b {
				if !slices.Contains(a, s) {
					r.Errorf("back only: %s", s)
				}
			}
		}
	})
}

// The differences in the order, put upon the old order, give the new one exactly:
// numbers, masses and places.
func TestOrderDifferencesMakeTheNewOrder(t *testing.T) {
	type key struct {
		item    string
		length  int64
		treated bool
	}
	type amount struct {
		order, count int
		mass         int64
	}
	amounts := func(d *packet.Document) map[key]amount {
		m := map[key]amount{}
		for _, l := range d.Takeoff {
			m[key{l.Item, l.LengthNM, l.Treated}] = amount{l.Order, l.Count, l.MassUG}
		}
		return m
	}
	changed := 0
	rapid.Check(t, func(r *rapid.T) {
		old, new := drawPair(r)
		d := differ.Compare(old, new)
		got := amounts(old)
		total := old.MassUG
		for _, l := range d.Order {
			changed++
			k := key{l.Item, l.LengthNM, l.Treated}
			was := got[k]
			if was != (amount{l.OldOrder, l.OldCount, l.OldMassUG}) {
				r.Errorf("%v was %v, told as %+v", k, was, l)
			}
			now := amount{was.order + l.NewOrder - l.OldOrder, was.count + l.NewCount - l.OldCount, was.mass + l.NewMassUG - l.OldMassUG}
			total += l.NewMassUG - l.OldMassUG
			if got[k] = now; now == (amount{}) {
				delete(got, k)
			}
			places := 0
			for _, p := range l.Places {
				places += p.New - p.Old
			}
			if places != l.NewCount-l.OldCount {
				r.Errorf("%v: its places take %d more, the line %d", k, places, l.NewCount-l.OldCount)
			}
		}
		if want := amounts(new); !reflect.DeepEqual(got, want) {
			r.Errorf("old order and differences make\n%v\nnot\n%v", got, want)
		}
		if total != new.MassUG || d.NewMassUG != new.MassUG {
			r.Errorf("mass %d, want %d", total, new.MassUG)
		}
	})
	if changed == 0 {
		t.Error("no order line ever changed: the test says nothing")
	}
}

// The same two plans give the same bytes, as text and as JSON; every cause that a
// change names is there; no line of the text is wider than a phone.
func TestTextAndJSON(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		old, new := drawPair(r)
		d, again := differ.Compare(old, new), differ.Compare(old, new)
		a, errA := d.JSON()
		b, errB := again.JSON()
		if errA != nil || errB != nil || string(a) != string(b) || string(d.Text()) != string(again.Text()) {
			r.Fatal("compared twice with two results")
		}
		var back differ.Diff
		if err := json.Unmarshal(a, &back); err != nil {
			r.Fatal(err)
		}
		for _, l := range back.Order {
			for _, c := range l.Causes {
				if c < 0 || c >= len(back.Causes) {
					r.Fatalf("cause %d of %d", c, len(back.Causes))
				}
			}
		}
		for line := range strings.Lines(string(d.Text())) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > 60 {
				r.Errorf("%d wide: %s", n, line)
			}
		}
	})
}

// Nothing that differs goes unnoticed: each field of the document, changed by
// itself in one place, shows. Texts beside exact values do not count, nor do the
// numbers of reasons, nor saw tickets: pieces and cuts show what they follow
// from.
func TestNothingGoesUnnoticed(t *testing.T) {
	tested := 0
	for _, name := range []string{"three-meadows", "nordlia-free-barn"} {
		old := example(t, name)
		new := example(t, name)
		seen := map[string]bool{}
		var visit func(v reflect.Value, kind, path string)
		visit = func(v reflect.Value, kind, path string) {
			switch v.Kind() {
			case reflect.Pointer:
				if !v.IsNil() {
					visit(v.Elem(), kind, path)
				}
				return
			case reflect.Slice:
				for i := range v.Len() {
					visit(v.Index(i), kind+"[]", fmt.Sprintf("%s[%d]", path, i))
				}
				return
			case reflect.Struct:
				for i := range v.NumField() {
					tag, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
					if beside(v.Type(), tag) || tag == "format" || tag == "reason" || tag == "tickets" || tag == "tape" || tag == "transit" || tag == "shown" || kind == ".reasons[]" {
						continue
					}
					visit(v.Field(i), kind+"."+tag, path+"."+tag)
				}
				return
			}
			if seen[kind] {
				return
			}
			seen[kind] = true
			tested++
			undo := change(t, v)
			if differ.Compare(old, new).Empty() {
				t.Errorf("%s: a change of %s goes unnoticed", name, path)
			}
			undo()
		}
		visit(reflect.ValueOf(new).Elem(), "", "")
	}
	if tested < 150 {
		t.Errorf("only %d fields tried", tested)
	}
}

// beside says whether a text has its exact value beside it.
func beside(t reflect.Type, tag string) bool {
	for i := range t.NumField() {
		if name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ","); name == tag+"_nm" || name == tag+"_ug" {
			return true
		}
	}
	return false
}

// change changes a leaf and gives what puts it back.
func change(t *testing.T, v reflect.Value) (undo func()) {
	t.Helper()
	was := reflect.New(v.Type()).Elem()
	was.Set(v)
	switch v.Kind() {
	case reflect.String:
		v.SetString(v.String() + "~")
	case reflect.Int, reflect.Int64:
		v.SetInt(v.Int() + 1)
	case reflect.Bool:
		v.SetBool(!v.Bool())
	default:
		t.Fatalf("a leaf is a %v", v.Kind())
	}
	return func() { v.Set(was) }
}
