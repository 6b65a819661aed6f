package draw

import (
	"flag"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden SVG files anew")

// The goldens are the drawings as they were looked at and found good.
func TestSamplesAreAsLookedAt(t *testing.T) {
	all := samples()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		t.Run(name, func(t *testing.T) {
			s, err := all[name]()
			if err != nil {
				t.Fatal(err)
			}
			path := filepath.Join("testdata", name+".svg")
			got := s.SVG()
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("%s differs from what was looked at (-want +got):\n%s", path, diff)
			}
			if again, _ := all[name](); again.SVG() != got {
				t.Error("two runs differ")
			}
			if len(s.Shortened) > 0 {
				t.Errorf("cut short: %q", s.Shortened)
			}
		})
	}
}
