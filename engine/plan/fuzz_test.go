package plan_test

import (
	"os"
	"path/filepath"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
)

// FuzzPlan plans any text with a kit that ships: there is a list of mistakes, or
// a plan in which everything holds.
func FuzzPlan(f *testing.F) {
	for _, pattern := range []string{"../../examples/*.yaml", "testdata/c*-*.yaml", "testdata/cps*.yaml", "../job/testdata/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range files {
			src, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(src)
		}
	}
	for _, name := range append(kit.ShippedNames(), "check") {
		readKit(f, name)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		j, err := job.Read("job.yaml", src)
		if err != nil {
			return // FuzzReadJob looks at these
		}
		k := kits[j.Kit]
		if k == nil {
			k = kits["fernhollow"]
		}
		p, err := plan.Make(j, k)
		if err != nil {
			if !isProblems(err) {
				t.Fatal(err)
			}
			return
		}
		verify(t, p)
	})
}
