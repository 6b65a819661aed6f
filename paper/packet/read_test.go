package packet_test

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stallwright/engine/document"
	"stallwright/engine/plan"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/packet"
)

func example(t testing.TB, name string) *plan.Plan {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("../../examples", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return plantest.Make(t, name+".yaml", src)
}

func examples(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".yaml")
	}
	return files
}

// What JSON writes, Read reads back to the same document. The oracle is the
// standard library's own decoder.
func TestReadGivesBackWhatWasWritten(t *testing.T) {
	for _, name := range examples(t) {
		t.Run(name, func(t *testing.T) {
			data, err := packet.JSON(example(t, name))
			if err != nil {
				t.Fatal(err)
			}
			got, err := packet.Read("plan.json", data)
			if err != nil {
				t.Fatal(err)
			}
			want := new(packet.Document)
			if err := json.Unmarshal(data, want); err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Error(d)
			}
		})
	}
}

// Each thing that can be wrong with a plan.json is told with its place.
func TestReadRefuses(t *testing.T) {
	data, err := packet.JSON(example(t, "alder-creek-barn-row"))
	if err != nil {
		t.Fatal(err)
	}
	good := string(data)
	swap := func(old, new string) string {
		if !strings.Contains(good, old) {
			t.Fatalf("the plan does not hold %s", old)
		}
		return strings.Replace(good, old, new, 1)
	}
	lines := strings.Split(good, "\n")
	for _, c := range []struct{ name, src, want string }{
		{"no text", "", "plan.json:1:1: this is not JSON"},
		{"no JSON", "job: farm\n", "plan.json:1:1: this is not JSON"},
		{"cut short", good[:len(good)/2], "this is not JSON: unexpected end"},
		{"more after the end", good + "{}", "this is not JSON"},
		{"something else", `[1, 2]`, "plan.json:1:1:  is a list; it must be a group"},
		{"another JSON", `{"name": "x"}`, `unknown key "name"`},
		{"unknown key", swap(`"revision": 1`, `"revsion": 1`), `plan.json:6:5: unknown key "revsion"`},
		{"the key meant", swap(`"revision": 1`, `"revsion": 1`), "did you mean revision?"},
		{"missing key", swap(`"revision": 1,`, ``), `plan.json:3:10: job lacks "revision"`},
		{"capitals", swap(`"revision"`, `"Revision"`), `unknown key "Revision"`},
		{"twice", swap(`"revision": 1,`, `"revision": 1, "revision": 2,`), `plan.json:6:20: the key "revision" is written twice`},
		{"a text for a number", swap(`"revision": 1`, `"revision": "1"`), "plan.json:6:17: job.revision is a text; it must be a whole number"},
		{"a number for a text", swap(`"units": "feet"`, `"units": 1`), "job.units is a number; it must be a text"},
		{"a fraction", swap(`"revision": 1`, `"revision": 1.5`), "no whole number"},
		{"nothing", swap(`"revision": 1`, `"revision": null`), "job.revision is null; it must be a whole number"},
		{"a count without end", swap(`"revision": 1`, `"revision": 99999999999`), "nothing is counted this far"},
		{"a length without end", swap(`"thickness_nm": 38100000`, `"thickness_nm": 9000000000000000000`), "no length is this long"},
		{"terminal codes", swap(`"farm": "Alder`, `"farm": "\u001b[2JAlder`), "invisible control character (U+001B)"},
		{"text turned round", swap(`"farm": "Alder`, `"farm": "\u202eAlder`), "invisible control character (U+202E)"},
		{"not UTF-8", swap(`"farm": "Alder`, "\"farm\": \"\xffAlder"), "the byte 0xFF is not UTF-8"},
		{"another format", swap(`"format": 1`, `"format": 2`), "plan.json:2:13: the plan has format 2; this stallwright reads format 1"},
		{"other units", swap(`"units": "feet"`, `"units": "cubits"`), "units are feet or metric"},
		{"a post that is not there", swap(`"from": "A.b1"`, `"from": "A.z9"`), `there is no post "A.z9"`},
		{"a reason that is not there", swap(`"reason": 3
`, `"reason": 99999
`), "there is no reason 99999"},
		{"a chain in a circle", swap(`"from": [
        0,`, `"from": [
        3,`), "a reason comes from earlier ones only"},
		{"an order that does not add up", swap(`"spares": 3,`, `"spares": 4,`), "do not make an order of"},
		{"a mass that does not add up", swap(`"mass_ug"`, `"mass_ug"`)[:strings.LastIndex(good, `"mass_ug":`)] + `"mass_ug": 5` + good[strings.LastIndex(good, `"mass_ug":`)+strings.Index(good[strings.LastIndex(good, `"mass_ug":`):], ","):], "the order weighs 5 micrograms"},
		{"two posts of a name", swap(`"name": "A.a2"`, `"name": "A.a1"`), "two posts are called A.a1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := packet.Read("plan.json", []byte(c.src))
			if err == nil || d != nil {
				t.Fatalf("read without an error, want %q", c.want)
			}
			var ps document.Problems
			if !errors.As(err, &ps) {
				t.Fatalf("%T is no document.Problems: %v", err, err)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("got\n%v\nwant %q", err, c.want)
			}
		})
	}
	if len(lines) < 100 {
		t.Fatal("the plan is no plan")
	}
}

// A text over the limit is refused before anything is made of it.
func TestReadRefusesTooMuch(t *testing.T) {
	_, err := packet.Read("plan.json", make([]byte, packet.MaxBytes+1))
	if err == nil || !strings.Contains(err.Error(), "too long") {
		t.Errorf("%v", err)
	}
}

// Whatever is done to a plan.json, there is either a document that can be written
// again or a list of problems; never a panic.
func TestReadOfDamagedPlans(t *testing.T) {
	data, err := packet.JSON(example(t, "old-dairy-free-form"))
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(r *rapid.T) {
		b := []byte(string(data))
		for range rapid.IntRange(1, 3).Draw(r, "edits") {
			at := rapid.IntRange(0, len(b)-1).Draw(r, "at")
			switch rapid.IntRange(0, 3).Draw(r, "kind") {
			case 0:
				b[at] = rapid.Byte().Draw(r, "byte")
			case 1:
				n := rapid.IntRange(1, 200).Draw(r, "cut")
				b = append(b[:at:at], b[min(at+n, len(b)):]...)
			case 2:
				s := rapid.SampledFrom([]string{`"`, `{`, `]`, `null`, `-1`, `1e99`, `,`, `"x": 1,`}).Draw(r, "put")
				b = append(b[:at:at], append([]byte(s), b[at:]...)...)
			case 3:
				for b[at] < '0' || b[at] > '9' {
					if at++; at == len(b) {
						return
					}
				}
				b[at] = byte('0' + rapid.IntRange(0, 9).Draw(r, "digit"))
			}
			if len(b) == 0 {
				return
			}
		}
		d, err := packet.Read("plan.json", b)
		var ps document.Problems
		switch {
		case err == nil && d == nil, err != nil && !errors.As(err, &ps):
			r.Fatalf("%v, %v", d, err)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	data, err := packet.JSON(example(b, "stone-ford-mixed"))
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := packet.Read("plan.json", data); err != nil {
			b.Fatal(err)
		}
	}
}
