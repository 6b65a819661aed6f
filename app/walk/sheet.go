package walk

import (
	"fmt"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/site"
)

// heights are those a clear width is read at, from the bottom up.
var heights = []job.Height{job.AtBottom, job.AtMiddle, job.AtTop}

// ask lays out the questions anew from the sheet, as things stand.
func (w *Walk) ask() {
	w.questions = w.questions[:0]
	asked := map[string]bool{}
	for i := range w.sheet.Tasks {
		t := &w.sheet.Tasks[i]
		switch t.Kind {
		case site.TaskPlumb:
			w.askPlumb(t)
		case site.TaskWidth:
			w.askWidth(t, asked)
		case site.TaskOpening:
			w.askOpening(t)
		case site.TaskSpots, site.TaskCrossings:
			w.askFound(t)
		default:
			w.askReading(t)
		}
	}
	w.skips()
	for i := range w.questions {
		w.questions[i].No, w.questions[i].Of = i+1, len(w.questions)
	}
}

// skips marks the open questions that the latest entry of each left open.
func (w *Walk) skips() {
	latest := map[string]bool{}
	for i := range w.entries {
		if e := &w.entries[i]; e.Asked != "" && !isNote(e) {
			latest[e.Asked] = e.Skip
		}
	}
	for i := range w.questions {
		if q := &w.questions[i]; latest[q.ID] && q.Status == Open {
			q.Status = Skipped
		}
	}
}

func statusOf(s site.State) Status {
	switch s {
	case site.Done:
		return Done
	case site.Suspicious:
		return Doubtful
	}
	return Open
}

// askReading asks for a distance, a diagonal or the rod.
func (w *Walk) askReading(t *site.Task) {
	q := Question{
		Kind: AskLength, Place: strings.Join(t.Posts, " – "), How: w.words.Say(t.Hook), Watch: w.notes(t), Type: w.typeLength(), Status: statusOf(t.State),
		Expected: t.Expected, Known: t.Known, Drawn: t.Drawn, task: t.Kind, posts: t.Posts, setUp: t.SetUp, touch: t.Between, small: t.Smallest,
	}
	switch t.Kind {
	case site.TaskLevel:
		q.ID = "level " + t.Posts[0] + " from " + t.SetUp
		q.Ask = w.say("walk.ask-rod", named("at", t.Posts[0]), named("set-up", t.SetUp))
	case site.TaskDiagonal:
		q.ID = fmt.Sprintf("diagonal %s %s %s", t.Posts[0], t.Posts[1], t.Between)
		q.Ask = w.say("walk.ask-diagonal", named("a", t.Posts[0]), named("b", t.Posts[1]))
	default:
		q.ID = fmt.Sprintf("distance %s %s %s", t.Posts[0], t.Posts[1], t.Between)
		q.Ask = w.say("walk.ask-distance", named("a", t.Posts[0]), named("b", t.Posts[1]))
	}
	if n := len(t.Values); n > 0 {
		q.Read, q.HasRead = t.Values[n-1], true
	}
	w.questions = append(w.questions, q)
}

// plumbParts are the numbers of a plumb reading in the order they are asked for:
// the height last, which makes the others a reading.
var plumbParts = []struct {
	part job.PlumbPart
	ask  func(post phrase.Arg) phrase.Phrase
}{
	{job.PlumbAlong, func(post phrase.Arg) phrase.Phrase { return phrase.Of("walk.ask-lean-along", post) }},
	{job.PlumbAcross, func(post phrase.Arg) phrase.Phrase { return phrase.Of("walk.ask-lean-across", post) }},
	{job.PlumbOver, func(post phrase.Arg) phrase.Phrase { return phrase.Of("walk.ask-lean-over", post) }},
}

// notes are what to watch at a task.
func (w *Walk) notes(t *site.Task) string {
	var out []string
	for _, n := range t.Notes {
		out = append(out, w.words.Say(n))
	}
	return strings.Join(out, "; ")
}

func (w *Walk) askPlumb(t *site.Task) {
	have := map[job.PlumbPart]measure.Length{}
	for i := range w.entries {
		if p := w.entries[i].Plumb; p != nil && p.Post == t.Posts[0] {
			have[p.Part] = p.Is
		}
	}
	for _, v := range plumbParts {
		q := Question{
			ID: fmt.Sprintf("plumb %s %s", t.Posts[0], v.part), Kind: AskSmall, Place: t.Posts[0], Ask: w.words.Say(v.ask(named("post", t.Posts[0]))), How: w.words.Say(t.Hook), Watch: w.notes(t),
			Type: w.typeSmall(), Status: statusOf(t.State), task: t.Kind, posts: t.Posts, part: v.part,
		}
		if v.part == job.PlumbOver {
			q.Kind, q.Type = AskLength, w.typeLength()
		}
		if l, ok := have[v.part]; ok {
			q.Read, q.HasRead = l, true
			if q.Status == Open {
				q.Status = Done
			}
		}
		w.questions = append(w.questions, q)
	}
}

// askWidth asks whether the run is ready, for the clear width at three heights, and
// whether the bay may be released.
func (w *Walk) askWidth(t *site.Task, asked map[string]bool) {
	i, ok := w.plan.Layout.Bay(t.Bay)
	if !ok {
		return
	}
	r := &w.plan.Layout.Runs[w.plan.Layout.Bays[i].Run]
	base := Question{Place: t.Bay, task: t.Kind, bay: t.Bay, run: r.Name, framed: r.Framed(), Expected: t.Expected, Known: t.Known, Drawn: t.Drawn}
	ready := w.plan.Fit.Progress().Ready(r.Name) != nil
	if !asked[r.Name] {
		asked[r.Name] = true
		w.questions = append(w.questions, w.readyQuestion(base, ready))
	}
	read, all := w.read(t, r.Name)
	complete := true
	for _, h := range heights {
		q := base
		q.ID, q.Kind, q.height = fmt.Sprintf("width %s %s", t.Bay, h), AskLength, h
		q.Ask = w.say("walk.ask-width", named("bay", t.Bay), named("height", strings.ToUpper(w.words.Say(heightWord(h)))))
		q.How, q.Type, q.Status = w.words.Say(hook(w.plan.Layout.Bays[i].IsDoor(), h)), w.typeLength(), Open
		q.Read = heightOf(read, h)
		q.HasRead = q.Read > 0
		switch {
		case q.HasRead && t.State == site.Suspicious && (q.Read-t.Expected).Abs() > farOff:
			q.Status, q.Watch = Doubtful, w.notes(t)
		case q.HasRead || all:
			q.Status = Done
		case !ready:
			q.Status = Waiting
		}
		complete = complete && (q.Status == Done || q.Status == Doubtful)
		w.questions = append(w.questions, q)
	}
	w.questions = append(w.questions, w.releaseQuestion(base, i, ready && complete))
}

// hook is where the tape is held for a clear width.
func hook(door bool, h job.Height) phrase.Phrase {
	switch {
	case door && h == job.AtBottom:
		return phrase.Of("walk.hook-jambs-bottom")
	case door && h == job.AtMiddle:
		return phrase.Of("walk.hook-jambs-middle")
	case door:
		return phrase.Of("walk.hook-jambs-top")
	case h == job.AtBottom:
		return phrase.Of("walk.hook-webs-bottom")
	case h == job.AtMiddle:
		return phrase.Of("walk.hook-webs-middle")
	}
	return phrase.Of("walk.hook-webs-top")
}

// read is what counts of a bay's clear width, and whether that is all there is to
// read: what the job itself holds of a framed bay may be a single reading.
func (w *Walk) read(t *site.Task, run string) (width job.Width, all bool) {
	if v, ok := w.heights[t.Bay]; ok {
		return v, false
	}
	p := w.plan.Fit.Progress()
	ready := p.Ready(run)
	for i := range w.plan.Job.Measurements {
		m := &w.plan.Job.Measurements[i]
		if m.Bay == t.Bay && p.Counts(t.Bay, m) && (ready == nil || !job.Before(m.At, ready.At)) {
			width, all = m.Width, t.State != site.Open
		}
	}
	return width, all
}

func heightOf(w job.Width, h job.Height) measure.Length {
	switch h {
	case job.AtMiddle:
		return w.Middle
	case job.AtTop:
		return w.Top
	}
	return w.Bottom
}

// readyQuestion asks whether the bays of a run can be measured.
func (w *Walk) readyQuestion(q Question, ready bool) Question {
	q.ID, q.Kind, q.Place, q.Type, q.Status = "ready "+q.run, AskReady, q.run, w.say("walk.type-yes"), Open
	q.Expected, q.Known = 0, false
	if q.framed {
		q.Ask = w.say("walk.ask-tight", named("run", q.run))
		q.How = w.say("walk.how-tight")
	} else {
		q.Ask = w.say("walk.ask-lagged", named("run", q.run))
		q.How = w.say("walk.how-lagged")
	}
	q.Watch = w.say("walk.only-then")
	if ready {
		q.Status = Done
	}
	return q
}

// releaseQuestion asks whether a bay may be cut.
func (w *Walk) releaseQuestion(q Question, bay int, can bool) Question {
	b := &w.plan.Fit.Bays[bay]
	q.ID, q.Kind, q.Type, q.Status = "release "+q.bay, AskRelease, w.say("walk.type-yes"), Open
	q.Ask = w.say("walk.ask-release", named("bay", q.bay))
	q.How = w.say("walk.how-release")
	q.Expected, q.Known = 0, false
	switch fill := w.plan.Fit.Progress().Fill(q.bay); {
	case fill.Is.Frozen() && !w.misfits(q.bay):
		q.Status = Done
	case fill.Is.Frozen():
		q.Status, q.Ask = Doubtful, w.say("walk.ask-again", named("bay", q.bay))
	case !can || len(b.Pieces) == 0:
		q.Status = Waiting
	default:
		if _, err := w.plan.Fit.Release(bay, "", ""); err != nil {
			q.Status, q.Watch = Waiting, w.refused(err)
		}
	}
	return q
}

// misfits says whether pieces of a released bay no longer fit.
func (w *Walk) misfits(bay string) bool {
	for i := range w.plan.Findings {
		f := &w.plan.Findings[i]
		if f.Place == bay && (f.Code == finding.FrozenLong || f.Code == finding.FrozenShort || f.Code == finding.FrozenNew || f.Code == finding.FrozenLeft) {
			return true
		}
	}
	return false
}
