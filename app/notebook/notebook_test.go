package notebook

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// sameEntry compares entries, where they stand in a text left out.
var sameEntry = cmp.Comparer(func(a, b document.Where) bool { return true })

// ticking is a clock that goes on a second each time it is looked at.
func ticking() func() time.Time {
	t := time.Date(2026, 5, 3, 14, 10, 0, 0, time.FixedZone("", 2*3600))
	return func() time.Time { t = t.Add(time.Second); return t }
}

// numbered are ids e1, e2 …
func numbered(from int) func() string {
	return func() string { from++; return fmt.Sprintf("e%d", from) }
}

func width(inches int) job.Entry {
	return job.Entry{Asked: "width A1-A2 bottom", Typed: fmt.Sprintf("%d\"", inches), Width: &job.WidthEntry{Bay: "A1-A2", Height: job.AtBottom, Is: measure.Length(inches) * measure.Inch}}
}

// written is a notebook of n entries.
func written(t *testing.T, path string, n int) []byte {
	t.Helper()
	p, err := NewPen(path, "Sam", ticking())
	if err != nil {
		t.Fatal(err)
	}
	p.ID = numbered(0)
	for i := range n {
		if _, err := p.Append(width(130 + i)); err != nil {
			t.Fatal(err)
		}
	}
	return contents(t, path)
}

func contents(t *testing.T, path string) []byte {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return src
}

func TestWrittenIsRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "barn.notes.jsonl")
	src := written(t, path, 3)
	b, err := Open(path)
	if err != nil || len(b.Entries) != 3 || len(b.Damaged) != 0 || b.Lines != 3 {
		t.Fatalf("%+v, %v", b, err)
	}
	e := b.Entries[2]
	if e.By != "Sam" || e.Typed != `132"` || e.Width.Is != 132*measure.Inch || e.At != "2026-05-03T14:10:03.000000+02:00" {
		t.Errorf("%+v", e)
	}
	if n := bytes.Count(src, []byte("\n")); n != 3 {
		t.Errorf("%d lines", n)
	}
	if b, err := Open(filepath.Join(t.TempDir(), "none")); err != nil || len(b.Entries) != 0 {
		t.Errorf("a notebook that is not there: %+v, %v", b, err)
	}
	if got := Path("farm/barn.yaml"); got != "farm/barn.notes.jsonl" {
		t.Errorf("the notebook beside the job is %s", got)
	}
}

// A crash may cut the file off at any byte. Whatever is whole counts; what is torn
// is told; and the next entry is written behind it without losing a byte.
func TestCutOffAtEveryByte(t *testing.T) {
	dir := t.TempDir()
	src := written(t, filepath.Join(dir, "whole"), 2)
	extra, err := (&job.Entry{ID: "after", At: "2026-05-03T15:00:00Z", Typed: "yes"}).Line()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "cut.notes.jsonl")
	for n := range len(src) + 1 {
		cut := src[:n]
		b := Read(cut)
		whole := bytes.Count(cut, []byte("}}")) // each entry ends so, and only there
		if len(b.Entries) != whole {
			t.Fatalf("cut after %d bytes: %d entries, want %d", n, len(b.Entries), whole)
		}
		rest := cut[bytes.LastIndexByte(cut, '\n')+1:]
		torn := len(rest) > 0 && !bytes.HasSuffix(rest, []byte("}}"))
		if (len(b.Damaged) == 1) != torn || torn && (!b.Damaged[0].Torn || b.Damaged[0].Text != string(rest)) {
			t.Fatalf("cut after %d bytes: %+v", n, b.Damaged)
		}
		if err := os.WriteFile(path, cut, 0o644); err != nil {
			t.Fatal(err)
		}
		if err := appendLines(path, extra); err != nil {
			t.Fatal(err)
		}
		now := contents(t, path)
		after := Read(now)
		if !bytes.HasPrefix(now, cut) || len(after.Entries) != whole+1 || len(after.Damaged) != len(b.Damaged) {
			t.Fatalf("cut after %d bytes, then written: %d entries, %+v\n%s", n, len(after.Entries), after.Damaged, now)
		}
	}
}

// Power lost may also leave a tail of zeros where the last line should be.
func TestTailOfZeros(t *testing.T) {
	path := filepath.Join(t.TempDir(), "barn.notes.jsonl")
	src := append(written(t, path, 1), make([]byte, 40)...)
	b := Read(src)
	if len(b.Entries) != 1 || len(b.Damaged) != 1 || !b.Damaged[0].Torn {
		t.Errorf("%+v", b)
	}
}

func TestNeverWrittenOver(t *testing.T) {
	path := filepath.Join(t.TempDir(), "barn.notes.jsonl")
	var before []byte
	for i := range 4 {
		p, err := NewPen(path, "Sam", ticking())
		if err != nil {
			t.Fatal(err)
		}
		p.ID = numbered(10 * i)
		if _, err := p.Append(width(130 + i)); err != nil {
			t.Fatal(err)
		}
		now := contents(t, path)
		if !bytes.HasPrefix(now, before) || len(now) <= len(before) {
			t.Fatal("something was written over")
		}
		before = now
	}
}

// What cannot be read back is not written, and neither is what has no place to go.
func TestRefusedIsNotWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "barn.notes.jsonl")
	p, err := NewPen(path, "Sam", ticking())
	if err != nil {
		t.Fatal(err)
	}
	e := width(130)
	e.Width.Is = 0
	if _, err := p.Append(e); err == nil {
		t.Error("a width of nothing was written")
	}
	if _, err := os.Stat(path); !os.IsNotExist(err) {
		t.Error("a file was made")
	}
	p.Path = filepath.Join(t.TempDir(), "gone", "barn.notes.jsonl")
	if _, err := p.Append(width(130)); err == nil {
		t.Error("written into a folder that is not there")
	}
	if b := p.Book(); len(b.Entries) != 0 {
		t.Error("what was not written counts")
	}
}

// A clock that is behind does not put what is typed now before what was read then.
func TestClockBehind(t *testing.T) {
	path := filepath.Join(t.TempDir(), "barn.notes.jsonl")
	written(t, path, 2)
	p, err := NewPen(path, "Jo", func() time.Time { return time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC) })
	if err != nil {
		t.Fatal(err)
	}
	p.ID = func() string { return "a" } // before e1 and e2 by name
	for range 2 {
		if _, err := p.Append(width(150)); err != nil {
			t.Fatal(err)
		}
		p.ID = func() string { return "0" }
	}
	b, _ := Open(path)
	var ids []string
	for _, e := range b.Entries {
		ids = append(ids, e.ID)
	}
	if s := strings.Join(ids, " "); s != "e1 e2 a 0" {
		t.Errorf("in order: %s", s)
	}
	if _, behind := b.Stamp(time.Date(2026, 5, 3, 12, 9, 2, 0, time.UTC)); behind < time.Minute || behind > 2*time.Minute {
		t.Errorf("behind by %s", behind)
	}
}

// Two notebooks joined either way, and a line that is there twice, make one book.
func TestJoinedEitherWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var lines [][]byte
		for i := range rapid.IntRange(1, 8).Draw(t, "n") {
			e := width(100 + i)
			e.ID = fmt.Sprintf("e%d", rapid.IntRange(0, 9).Draw(t, "id"))
			e.At = time.Date(2026, 5, 3, 14, rapid.IntRange(0, 3).Draw(t, "minute"), 0, 0, time.UTC).Format(time.RFC3339)
			e.By = rapid.SampledFrom([]string{"Sam", "Jo"}).Draw(t, "by")
			line, err := e.Line()
			if err != nil {
				t.Fatal(err)
			}
			lines = append(lines, line)
		}
		some := func(name string) []byte {
			var src []byte
			for _, l := range rapid.SliceOfN(rapid.SampledFrom(lines), 0, 12).Draw(t, name) {
				src = append(append(src, l...), '\n')
			}
			return src
		}
		x, y, z := some("x"), some("y"), some("z")
		one := Merge(Read(x), Read(y), Read(z))
		for _, other := range []Book{Merge(Read(z), Read(y), Read(x)), Merge(Merge(Read(y), Read(z)), Read(x)), Read(append(append(append([]byte{}, z...), x...), y...))} {
			if d := cmp.Diff(one.Entries, other.Entries, sameEntry); d != "" {
				t.Fatal(d)
			}
		}
		if d := cmp.Diff(Merge(Read(x), Read(x)).Entries, Read(x).Entries, sameEntry); d != "" {
			t.Fatalf("with itself: %s", d)
		}
	})
}

func TestJoinAppends(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a"), filepath.Join(dir, "b")
	before := written(t, a, 2)
	p, err := NewPen(b, "Jo", ticking())
	if err != nil {
		t.Fatal(err)
	}
	p.ID = numbered(100)
	if _, err := p.Append(width(140)); err != nil {
		t.Fatal(err)
	}
	for want, other := range []Book{{}, p.Book()} {
		n, err := Join(a, other)
		if err != nil || n != want {
			t.Errorf("joined %d, %v; want %d", n, err, want)
		}
	}
	if n, err := Join(a, p.Book()); err != nil || n != 0 {
		t.Errorf("joined again: %d, %v", n, err)
	}
	if now := contents(t, a); !bytes.HasPrefix(now, before) || len(Read(now).Entries) != 3 {
		t.Errorf("%s", now)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("{\"id\":\"a\",\"at\":\"2026-05-03T14:10:00Z\",\"typed\":\"x\"}\n\n{\"id\""))
	f.Add([]byte("\x00\x00\n\r\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		b := Read(src)
		for _, d := range b.Damaged {
			_ = d.String()
		}
		if m := Merge(b, b); len(m.Entries) != len(b.Entries) {
			t.Errorf("merged with itself: %d entries, alone %d", len(m.Entries), len(b.Entries))
		}
	})
}

func TestNewIDsDiffer(t *testing.T) {
	seen := map[string]bool{}
	for range 1000 {
		id := NewID()
		if seen[id] || len(id) != 16 {
			t.Fatal(id)
		}
		seen[id] = true
	}
}
