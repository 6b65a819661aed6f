package steps_test

import (
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/engine/plan/jobs"
	"stallwright/paper/draw"
	"stallwright/paper/steps"
	"stallwright/paper/words"
)

// Whatever the job, its pictures are drawn, on small paper too, and no two texts
// of one stand on each other.
func TestPicturesOfRandomJobs(t *testing.T) {
	kits := map[string]*kit.Kit{}
	for _, name := range kit.ShippedNames() {
		file, src, _ := kit.Shipped(name)
		k, err := kit.Read(file, src)
		if err != nil {
			t.Fatal(err)
		}
		kits[name] = k
	}
	for _, kind := range jobs.Kinds {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			gen := rapid.Custom(func(t *rapid.T) string { return jobs.Draw(t, kind) })
			planned, drawn := 0, 0
			for seed := 300; planned < 6 && seed < 400; seed++ {
				j, err := job.Read("drawn.yaml", []byte(gen.Example(seed)))
				if err != nil {
					continue
				}
				p, err := plan.Make(j, kits[j.Kit])
				if err != nil {
					continue
				}
				planned++
				w, err := words.For([]string{"en", "es"}[seed%2], j.Units)
				if err != nil {
					t.Fatal(err)
				}
				o := []steps.Options{{}, {Width: 150 * draw.MM, Height: 70 * draw.MM}}[seed%2]
				d := steps.New(p, w, o)
				for i := range p.Build.Steps {
					s, err := d.Picture(i)
					if err != nil {
						t.Fatal(err)
					}
					if s == nil {
						continue
					}
					drawn++
					if v := draw.Overlaps(s); len(v) > 0 {
						t.Errorf("job %d step %d: %q stands on %q", seed, i+1, v[0].A.Text, v[0].B.Text)
					}
					if v := draw.Outside(s); len(v) > 0 {
						t.Errorf("job %d step %d: %q leaves the picture", seed, i+1, v[0].Text)
					}
				}
			}
			if planned < 6 || drawn < 30 {
				t.Errorf("%d jobs planned, %d pictures drawn: the test says little", planned, drawn)
			}
		})
	}
}
