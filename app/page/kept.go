package page

import (
	"maps"
	"slices"
	"sync"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/paper/steps"
	"stallwright/paper/words"
)

// mostKept is how many jobs, as they stood at some time, are kept worked out: the
// one that is looked at, and the one before a change to it.
const mostKept = 2

// shelf keeps what was worked out last, for page asks many things of one job and a
// phone is slow. What is asked again comes from here; it never changes an answer.
type shelf struct {
	mu   sync.Mutex
	jobs []*worked // the one used last in front
	kits []*ownKit
}

var kept shelf

// ownKit is a kit as read.
type ownKit struct {
	file, text string
	kit        *kit.Kit
}

// worked is one job with its kit and its notebook, worked out as far as something
// was asked of it. Nothing of it may be changed.
type worked struct {
	mu      sync.Mutex
	job     string
	kit     string
	shop    map[string]string
	entries []string

	sketch *plan.Sketch
	full   *plan.Plan
	drawer *steps.Drawer
	said   string // the drawer's language
}

// worked finds what is kept of a job, or begins it.
func (a *Asked) worked() *worked {
	kept.mu.Lock()
	defer kept.mu.Unlock()
	i := slices.IndexFunc(kept.jobs, func(w *worked) bool {
		return w.job == a.Job && w.kit == a.Kit && slices.Equal(w.entries, a.Entries) && maps.Equal(w.shop, a.goods())
	})
	var w *worked
	if i < 0 {
		w = &worked{job: a.Job, kit: a.Kit, shop: a.goods(), entries: a.Entries}
	} else {
		w = kept.jobs[i]
		kept.jobs = slices.Delete(kept.jobs, i, i+1)
	}
	kept.jobs = slices.Insert(kept.jobs, 0, w)
	kept.jobs = kept.jobs[:min(len(kept.jobs), mostKept)]
	return w
}

// readKit reads a kit, or gives the one that was read from the same text.
func readKit(file, text string) (*kit.Kit, error) {
	kept.mu.Lock()
	defer kept.mu.Unlock()
	i := slices.IndexFunc(kept.kits, func(k *ownKit) bool { return k.file == file && k.text == text })
	if i < 0 {
		k, err := kit.Read(file, []byte(text))
		if err != nil {
			return nil, err
		}
		kept.kits = slices.Insert(kept.kits, 0, &ownKit{file, text, k})
		kept.kits = kept.kits[:min(len(kept.kits), mostKept)]
		return k, nil
	}
	return kept.kits[i].kit, nil
}

// sketch works the job through as far as a drawing board shows it.
func (a *Asked) sketch() (*plan.Plan, error) {
	w := a.worked()
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.full != nil {
		return w.full, nil
	}
	if err := w.begin(a); err != nil {
		return nil, err
	}
	return w.sketch.Plan, nil
}

// begin makes the sketch.
func (w *worked) begin(a *Asked) error {
	if w.sketch != nil {
		return nil
	}
	j, k, entries, err := a.read()
	if err != nil {
		return err
	}
	w.sketch, err = plan.NewSketch(j, k, entries)
	return err
}

// plan works the job through.
func (a *Asked) plan() (*plan.Plan, error) {
	w := a.worked()
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.plan(a)
}

func (w *worked) plan(a *Asked) (*plan.Plan, error) {
	if w.full != nil {
		return w.full, nil
	}
	if err := w.begin(a); err != nil {
		return nil, err
	}
	p, err := w.sketch.Finish()
	if err != nil {
		return nil, err
	}
	w.full, w.sketch = p, nil
	return p, nil
}

// pictures draws something with the drawer of step pictures, in a language.
func (a *Asked) pictures(draw func(p *plan.Plan, d *steps.Drawer) error) error {
	w := a.worked()
	w.mu.Lock()
	defer w.mu.Unlock()
	p, err := w.plan(a)
	if err != nil {
		return err
	}
	if lang := a.language(p.Job); w.drawer == nil || w.said != lang {
		say, err := a.words(p)
		if err != nil {
			return err
		}
		w.drawer, w.said = steps.New(p, say, steps.Options{}), lang
	}
	return draw(p, w.drawer)
}

// language is what the crew reads.
func (a *Asked) language(j *job.Job) string {
	if a.Language != "" {
		return a.Language
	}
	return j.Language
}

// words are those that the crew reads.
func (a *Asked) words(p *plan.Plan) (*words.Words, error) {
	return words.For(a.language(p.Job), p.Job.Units)
}
