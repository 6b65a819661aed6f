package plan_test

import (
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/engine/plan/jobs"
)

// Whatever the job, there is either a list of its mistakes or a plan in which
// everything holds; and the same job gives the same plan.
func TestRandomJobs(t *testing.T) {
	for _, kind := range jobs.Kinds {
		t.Run(kind, func(t *testing.T) {
			drawn, planned := 0, 0
			for _, name := range kit.ShippedNames() {
				readKit(t, name)
			}
			rapid.Check(t, func(r *rapid.T) {
				drawn++
				src := jobs.Draw(r, kind)
				j, err := job.Read("drawn.yaml", []byte(src))
				if err != nil {
					if !isProblems(err) {
						r.Fatalf("%v\n%s", err, src)
					}
					return
				}
				p, err := plan.Make(j, kits[j.Kit])
				if err != nil {
					if !isProblems(err) {
						r.Fatalf("%v\n%s", err, src)
					}
					return
				}
				planned++
				verify(r, p)
				if planned%3 != 0 {
					return
				}
				again, err := job.Read("drawn.yaml", []byte(src))
				if err != nil {
					r.Fatal(err)
				}
				q, err := plan.Make(again, kits[j.Kit])
				if err != nil || dump(p) != dump(q) {
					r.Fatalf("planned twice with two results (%v)\n%s", err, src)
				}
			})
			if planned*2 < drawn {
				t.Errorf("only %d of %d jobs could be planned: the test says little", planned, drawn)
			}
			t.Logf("%d of %d jobs planned", planned, drawn)
		})
	}
}
