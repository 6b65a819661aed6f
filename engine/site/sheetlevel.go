package site

import (
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// level asks for the rod at one stop from one set-up. Once another set-up has read
// it, and both have read something else, what the rod should show is known.
func (w *walker) level(at stop, setUp string, stage Stage) {
	name := w.name(at)
	t := Task{Kind: TaskLevel, Stage: stage, Posts: []string{name}, SetUp: setUp, Hook: phrase.Of("site.hook-rod")}
	if at.spot >= 0 {
		t.Hook = phrase.Of("site.hook-rod-spot")
	}
	for i := range w.s.job.Readings {
		r := &w.s.job.Readings[i]
		if r.Level != name || r.From != setUp {
			continue
		}
		t.Values, t.Readings, t.State = append(t.Values, r.Rod), append(t.Readings, i), Done
		t.Notes = nil
		if out := &w.s.Readings[i]; out.Suspect || out.Status == SetAside {
			t.State, t.Notes = Suspicious, []phrase.Phrase{phrase.Of("site.other-set-up")}
		}
	}
	if v, ok := w.rodHere(name, setUp); ok {
		t.Expected, t.Known = v, true
	}
	w.add(t)
}

// rodHere is what the rod should show at a point from a set-up, by what others
// read at the point and how high this set-up stands over them: the mean over the
// points both have read.
func (w *walker) rodHere(name, setUp string) (measure.Length, bool) {
	other := map[string]measure.Length{} // rod at each point from the set-up that read name
	own := map[string]measure.Length{}
	from, here := "", measure.Length(0)
	rs := w.s.job.Readings
	for i := range rs {
		if r := &rs[i]; r.Kind() == job.ReadLevel && r.Level == name && r.From != setUp {
			from, here = r.From, r.Rod
		}
	}
	if from == "" {
		return 0, false
	}
	var order []string
	for i := range rs {
		r := &rs[i]
		if r.Kind() != job.ReadLevel || r.Level == name {
			continue
		}
		switch r.From {
		case setUp:
			if _, again := own[r.Level]; !again {
				order = append(order, r.Level)
			}
			own[r.Level] = r.Rod
		case from:
			other[r.Level] = r.Rod
		}
	}
	sum, n := measure.Length(0), measure.Length(0)
	for _, p := range order {
		if rod, ok := other[p]; ok {
			sum += own[p] - rod
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return (here + sum/n).Round(w.s.tape.Mark, measure.Nearest), true
}

// widths asks for every filled bay's clear width.
func (w *walker) widths(structure int) {
	last := map[string]int{}
	for i := range w.s.job.Measurements {
		last[w.s.job.Measurements[i].Bay] = i
	}
	for i := range w.lay.Bays {
		b := &w.lay.Bays[i]
		r := &w.lay.Runs[b.Run]
		if b.Structure != structure || b.IsOpen() {
			continue
		}
		t := Task{
			Kind: TaskWidth, Stage: StageFixed, Bay: b.Name, Expected: b.Clear, Known: true, Drawn: !w.s.Moved(),
			Hook: phrase.Of("site.hook-webs"),
		}
		if r.Framed() {
			t.Stage = StageTight
			t.Notes = []phrase.Phrase{phrase.Of("site.not-before-tight")}
		}
		if b.IsDoor() {
			t.Hook = phrase.Of("site.hook-jambs")
		}
		if k, ok := last[b.Name]; ok {
			m := &w.s.job.Measurements[k]
			t.Values, t.Readings, t.State = m.Width.Readings(), []int{k}, Done
			if off := m.Width.Least() - b.Clear; off.Abs() > farOff {
				t.State, t.Notes = Suspicious, append(t.Notes, phrase.Of("site.off-expected", phrase.With("off", w.s.marked(off.Abs()))))
			} else if len(t.Values) < 3 {
				t.Notes = append(t.Notes, phrase.Of("site.some-heights"))
				if r.Assembly.Ends == kit.EndsChannel {
					t.State = Open // standing timber tapers and leans
				}
			}
		}
		w.add(t)
	}
}
