package steps_test

import (
	"os"
	"strings"
	"testing"

	"stallwright/engine/plan/plantest"

	"stallwright/paper/solid"
	"stallwright/paper/steps"
	"stallwright/paper/words"
)

// A piece comes with the step whose operations add it, timber stands from the
// beginning, and nothing that the work adds is left out.
func TestPiecesComeWithTheirSteps(t *testing.T) {
	for _, name := range []string{"three-meadows", "two-oaks-free-row"} {
		file := "../../examples/" + name + ".yaml"
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p := plantest.Make(t, file, string(src))
		w, err := words.For(words.English, p.Job.Units)
		if err != nil {
			t.Fatal(err)
		}
		d := steps.New(p, w, steps.Options{})
		comes := d.Comes()
		if len(comes) != len(d.Scene().Solids) {
			t.Fatalf("%s: %d solids, %d told of", name, len(d.Scene().Solids), len(comes))
		}
		stepOf := map[int]int{}
		for i := range p.Build.Operations {
			for _, n := range p.Build.Operations[i].Adds {
				stepOf[n] = p.Build.Operations[i].Step
			}
		}
		met := 0
		for i := range d.Scene().Solids {
			s := &d.Scene().Solids[i]
			want, added := stepOf[s.Piece]
			switch {
			case s.Piece >= 0 && added:
				met++
				if comes[i] != want {
					t.Errorf("%s: %s comes with step %d, want %d", name, s.Name, comes[i], want)
				}
			case s.Kind == solid.Timber && !strings.Contains(s.Name, "/prop") && comes[i] != -1: // props are set up by a step
				t.Errorf("%s: %s, standing timber, comes with step %d", name, s.Name, comes[i])
			}
		}
		if met < 20 {
			t.Errorf("%s: only %d pieces met", name, met)
		}
	}
}
