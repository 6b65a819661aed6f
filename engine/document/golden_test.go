package document_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stallwright/engine/document"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares got with a file of testdata, or writes it with -update.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs: -want +got\n%s", path, diff)
	}
}

// What a person sees: go test -run Golden -update, then read the difference.
func TestGoldenMessages(t *testing.T) {
	src, err := os.ReadFile(filepath.Join("testdata", "broken.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var o order
	err = document.Read("broken.yaml", src, &o)
	if err == nil {
		t.Fatal("accepted")
	}
	golden(t, "broken.txt", []byte(err.Error()+"\n"))
}

func TestGoldenSchema(t *testing.T) {
	s, err := document.Schema(order{}, "Order", "https://stallwright.example/order.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "order.schema.json", s)
}
