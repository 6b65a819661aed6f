package views

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stallwright/engine/plan/plantest"
)

var update = flag.Bool("update", false, "write the golden SVG files anew")

// The goldens are two small sheets as they were looked at and found good.
func TestSheetsAreAsLookedAt(t *testing.T) {
	p := plantest.Make(t, "small.yaml", `job: Small Pen
date: 2026-05-04
units: metric
kit: nordhag
farm: {name: Small Pen}
lumber: {species: spruce-pine-fir, coverage: 135 mm, thickness: 40 mm, tongue: 8 mm, lengths: [4000 mm]}
structures:
  - pen: {name: P, sections: 8, section: 3600 mm}
`)
	sheets, err := All(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		if s.Name != "plan-P" && s.Name != "wall-P-2-and-6-like-it" {
			continue
		}
		t.Run(s.Name, func(t *testing.T) {
			path := filepath.Join("testdata", s.Name+".svg")
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
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("%s differs from what was looked at (-want +got):\n%s", path, diff)
			}
		})
	}
}
