package views

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"stallwright/engine/plan"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/words"
)

// worked is an example with its sheets.
type worked struct {
	name       string
	plan       *plan.Plan
	all        []Sheet
	plans      []Sheet
	elevations []Sheet
}

var workedOnce = sync.OnceValue(func() []worked {
	files, _ := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	var out []worked
	for _, f := range files {
		out = append(out, worked{name: strings.TrimSuffix(filepath.Base(f), ".yaml")})
	}
	return out
})

// examples draws every example of the repository; between them they hold every
// kind of structure.
func examples(t *testing.T, check func(t *testing.T, w worked)) {
	t.Helper()
	list := workedOnce()
	if len(list) < 5 {
		t.Fatalf("only %d examples found", len(list))
	}
	for i := range list {
		w := &list[i]
		t.Run(w.name, func(t *testing.T) {
			if w.plan == nil {
				file := filepath.Join("..", "..", "examples", w.name+".yaml")
				src, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				p := plantest.Make(t, file, string(src))
				all, err := All(p, Options{})
				if err != nil {
					t.Fatal(err)
				}
				w.all = all
				for _, s := range all {
					switch {
					case strings.HasPrefix(s.Name, "setout-"):
					case strings.HasPrefix(s.Name, "plan-"):
						w.plans = append(w.plans, s)
					default:
						w.elevations = append(w.elevations, s)
					}
				}
				w.plan = p
			}
			check(t, *w)
		})
	}
}

// packed is all text of a sheet without the spaces and line breaks, which names
// and lengths may be broken at.
func packed(s Sheet) string {
	var b strings.Builder
	for _, t := range s.Texts() {
		b.WriteString(squeezed(t.Text))
	}
	return b.String()
}

func squeezed(s string) string { return strings.Join(strings.Fields(s), "") }

// holding are the sheets on which a name stands.
func holding(sheets []Sheet, name string) []Sheet {
	var out []Sheet
	for _, s := range sheets {
		if strings.Contains(packed(s), squeezed(name)) {
			out = append(out, s)
		}
	}
	return out
}

// mustWords are the English words of a plan's sheets.
func mustWords(t *testing.T, p *plan.Plan) *words.Words {
	t.Helper()
	w, err := Options{}.words(p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	return w
}
