package document_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"stallwright/engine/document"
)

// No bytes make Read panic, go on forever, or point outside the text.
func FuzzRead(f *testing.F) {
	for _, c := range refusals {
		f.Add([]byte(c.src))
	}
	// While new inputs are searched for, only short seeds are worth changing.
	searching := flag.Lookup("test.fuzz").Value.String() != ""
	for _, c := range hostile {
		if !searching || len(c.src) < 5000 {
			f.Add([]byte(c.src))
		}
	}
	if src, err := os.ReadFile(filepath.Join("testdata", "broken.yaml")); err == nil {
		f.Add(src)
	}
	f.Add([]byte(fine))
	f.Add([]byte("\ufeff" + strings.ReplaceAll(fine, "\n", "\r\n")))
	f.Add([]byte("name: \xff\xfe\x00\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		var o order
		err := document.Read("o.yaml", src, &o)
		if err == nil {
			if !utf8.Valid(src) {
				t.Error("accepted what is not UTF-8")
			}
			if o.Name == "" && !bytes.ContainsAny(src, `"'|>`) || len(o.Rooms) == 0 {
				t.Error("accepted without the required keys")
			}
			return
		}
		ps, ok := err.(document.Problems)
		if !ok || len(ps) == 0 {
			t.Fatalf("%T %v", err, err)
		}
		if !utf8.ValidString(err.Error()) || strings.ContainsAny(err.Error(), "\x00\x1b\r") {
			t.Errorf("what is told would upset a terminal: %q", err)
		}
		inside(t, src, ps)
	})
}

// inside checks that every place is one in the text.
func inside(t *testing.T, src []byte, ps document.Problems) {
	text := strings.TrimPrefix(string(src), "\ufeff")
	lines := strings.Split(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n")
	for i, p := range ps {
		switch {
		case p.Message == "":
			t.Errorf("no message at %v", p.Pos)
		case p.Pos.IsZero() && i == document.MaxProblems, p.Pos.Line == 0 && len(src) > document.MaxBytes:
		case p.Pos.Line < 1 || p.Pos.Line > len(lines):
			t.Errorf("%v is not in the text: %s", p.Pos, p.Message)
		case p.Pos.Column < 1 || p.Pos.Column > utf8.RuneCountInString(lines[p.Pos.Line-1])+1:
			t.Errorf("%v is not in its line: %s", p.Pos, p.Message)
		case i > 0 && p.Pos.Compare(ps[i-1].Pos) < 0:
			t.Errorf("%v comes after %v", p.Pos, ps[i-1].Pos)
		}
	}
}
