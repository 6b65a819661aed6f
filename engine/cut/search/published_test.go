package search_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/engine/cut/instances"
	"stallwright/engine/cut/search"
)

// data opens a file of the published instances, or skips the test.
func data(t *testing.T, path string) []byte {
	t.Helper()
	root := os.Getenv("STALLWRIGHT_DATA")
	if root == "" {
		root = filepath.Join("..", "..", "..", "..", "shared", "data")
	}
	b, err := os.ReadFile(filepath.Join(root, "onedim", path))
	if err != nil {
		t.Skipf("the published instances are not here (%v); set STALLWRIGHT_DATA to the folder that holds onedim/", err)
	}
	return b
}

// meets solves a sample of a class and compares with the proven optima of the
// library of Delorme, Iori and Martello (bounds.txt: lower bound and best known
// value equal).
func meets(t *testing.T, class []instances.Named, name func(int, string) string, every int) {
	t.Helper()
	bounds, err := instances.Bounds(bytes.NewReader(data(t, "bounds.txt")))
	if err != nil {
		t.Fatal(err)
	}
	if testing.Short() {
		every *= 4
	}
	for k := 0; k < len(class); k += every {
		x := class[k]
		key := name(k, x.Name)
		b, ok := bounds[key]
		if !ok {
			t.Fatalf("no published value for %s", key)
		}
		r := search.Solve(context.Background(), &x.Instance, search.Options{})
		if b[0] != b[1] || !r.Proven || r.Cost != b[1] {
			t.Errorf("%s: cost %d bound %d proven %v, published %d..%d", key, r.Cost, r.Bound, r.Proven, b[0], b[1])
		}
		in := x.Instance
		check(t, &in, r.Runs, b[1])
	}
}

func falkenauer(t *testing.T, file string) []instances.Named {
	x, err := instances.Falkenauer(bytes.NewReader(data(t, "falkenauer/"+file)))
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func listed(t *testing.T, file string) []instances.Named {
	x, err := instances.Listed(bytes.NewReader(data(t, file)))
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Falkenauer (1996), uniform and triplet classes.
func TestFalkenauerOptima(t *testing.T) {
	for _, f := range []string{"binpack2.txt", "binpack3.txt", "binpack4.txt", "binpack5.txt", "binpack6.txt"} {
		meets(t, falkenauer(t, f), func(_ int, n string) string { return "Falkenauer_" + n }, 5)
	}
}

// Schwerin and Wäscher (1997).
func TestSchwerinOptima(t *testing.T) {
	for k, f := range []string{"SCH_WAE1.BPP", "SCH_WAE2.BPP"} {
		set := []string{"Schwerin1_", "Schwerin2_"}[k]
		meets(t, listed(t, "schwerin/"+f), func(_ int, n string) string {
			return set + strings.ReplaceAll(n, " ", "")
		}, 20)
	}
}

// Scholl, Klein and Jürgens (1997), sets 1 and 3.
func TestSchollOptima(t *testing.T) {
	one, err := instances.Scholl(data(t, "scholl/bin1data.zip"))
	if err != nil {
		t.Fatal(err)
	}
	meets(t, one, func(_ int, n string) string { return n }, 40)
}

// Hard28 (Schoenfield; Belov and Scheithauer 2006): one whose bound is met, and
// BPP 359, which takes a bin more than its linear program says.
func TestHard28Optima(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	x := listed(t, "hard28/hard28")
	name := func(_ int, n string) string { return "Hard28_" + strings.ReplaceAll(n, " ", "") }
	meets(t, x[1:2], name, 1)
	meets(t, x[14:15], name, 1)
	if x[14].Name != "BPP 359" {
		t.Errorf("the fifteenth is %s", x[14].Name)
	}
}
