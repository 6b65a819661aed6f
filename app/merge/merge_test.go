package merge

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const base = "job: Elm\nunits: feet\nlumber:\n  tongue: 3/8\"\nrooms:\n  - stall\n  - stall\n"

func TestBothEditsCount(t *testing.T) {
	ours := strings.Replace(base, "Elm", "Elm Barn", 1)
	theirs := strings.Replace(base, "  - stall\n", "  - foaling\n", 1)
	want := strings.Replace(ours, "  - stall\n", "  - foaling\n", 1)
	for _, c := range [][2]string{{ours, theirs}, {theirs, ours}} {
		if got, clashes := Texts(base, c[0], c[1]); got != want || clashes != nil {
			t.Errorf("%q, %+v", got, clashes)
		}
	}
}

func TestSameLineClashes(t *testing.T) {
	got, clashes := Texts(base, strings.Replace(base, "3/8", "1/4", 1), strings.Replace(base, "3/8", "1/2", 1))
	if got != "" || len(clashes) != 1 || clashes[0].Line != 4 || clashes[0].Ours != "  tongue: 1/4\"\n" || clashes[0].Theirs != "  tongue: 1/2\"\n" {
		t.Errorf("%q, %+v", got, clashes)
	}
}

func TestSameEditIsNoClash(t *testing.T) {
	both := strings.Replace(base, "3/8", "1/4", 1)
	if got, clashes := Texts(base, both, both); got != both || clashes != nil {
		t.Errorf("%q, %+v", got, clashes)
	}
}

func TestTooDifferentIsOneClash(t *testing.T) {
	a, b := strings.Repeat("a\n", 1500), strings.Repeat("b\n", 1500)
	if _, clashes := Texts("x\n", a, b); len(clashes) != 1 {
		t.Errorf("%d clashes", len(clashes))
	}
	// An edit of one line in a long text that was rewritten otherwise.
	if got, clashes := Texts(a, a, b); got != b || clashes != nil {
		t.Error("a rewritten text is not taken where the other side changed nothing")
	}
}

// edits draws a text and two edits of it, from few different lines so that they
// often meet.
func edits(t *rapid.T) (string, string, string) {
	line := rapid.SampledFrom([]string{"a\n", "b\n", "c\n", "d\n"})
	text := rapid.SliceOfN(line, 0, 12).Draw(t, "base")
	edit := func(name string) string {
		out := slices.Clone(text)
		for range rapid.IntRange(0, 3).Draw(t, name) {
			at := rapid.IntRange(0, len(out)).Draw(t, "at")
			if rapid.Bool().Draw(t, "insert") || at == len(out) {
				out = slices.Insert(out, at, rapid.SampledFrom([]string{"x\n", "y\n", "a\n"}).Draw(t, "line"))
			} else {
				out = slices.Delete(out, at, at+1)
			}
		}
		return strings.Join(out, "")
	}
	return strings.Join(text, ""), edit("ours"), edit("theirs")
}

func TestEitherWayRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, o, th := edits(t)
		one, c1 := Texts(b, o, th)
		two, c2 := Texts(b, th, o)
		if one != two || len(c1) != len(c2) {
			t.Fatalf("%q %q", one, two)
		}
		if got, c := Texts(b, b, th); got != th || c != nil {
			t.Fatalf("only theirs changed: %q, %v", got, c)
		}
		if got, c := Texts(b, o, b); got != o || c != nil {
			t.Fatalf("only ours changed: %q, %v", got, c)
		}
		if got, c := Texts(b, o, o); got != o || c != nil {
			t.Fatalf("both alike: %q, %v", got, c)
		}
	})
}

// Against GNU diff3 (diffutils): where it merges without a conflict and we do, the
// text is the same. It may find another of several equally short differences, so
// that one of the two sees a clash where the other sees none.
func TestAgainstDiff3(t *testing.T) {
	diff3, err := exec.LookPath("diff3")
	if err != nil {
		t.Skip("diff3 (package diffutils) is not installed")
	}
	dir := t.TempDir()
	path := func(name string) string { return filepath.Join(dir, name) }
	agreed, differed := 0, 0
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		if n++; n > 60 {
			return
		}
		b, o, th := edits(t)
		for name, text := range map[string]string{"b": b, "o": o, "t": th} {
			if err := os.WriteFile(path(name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		want, err := exec.Command(diff3, "-m", path("o"), path("b"), path("t")).Output()
		got, clashes := Texts(b, o, th)
		if err != nil || len(clashes) > 0 {
			return
		}
		if got == string(want) {
			agreed++
		} else {
			differed++
		}
	})
	if differed > agreed/10 || agreed == 0 {
		t.Errorf("%d merged alike, %d otherwise", agreed, differed)
	}
}

func FuzzTexts(f *testing.F) {
	f.Add(base, base+"x", "y"+base)
	f.Fuzz(func(t *testing.T, b, o, th string) {
		if got, c := Texts(b, b, th); got != th || c != nil {
			t.Fatalf("only theirs changed: %q, %v", got, c)
		}
		_, _ = Texts(b, o, th)
	})
}
