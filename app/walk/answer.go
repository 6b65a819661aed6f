package walk

import (
	"errors"
	"regexp"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/site"
)

// typeLength and typeSmall say how an answer is typed.
func (w *Walk) typeLength() string {
	if w.job.Units == measure.Metric {
		return w.say("walk.type-millimetres")
	}
	return w.say("walk.type-feet")
}

func (w *Walk) typeSmall() string {
	if w.job.Units == measure.Metric {
		return w.say("walk.type-small-millimetres")
	}
	return w.say("walk.type-small-inches")
}

// spaced is feet and inches typed without marks, as a phone's number keys allow:
// 11 6, 11 6 1/2, 11-6-1/2.
var spaced = regexp.MustCompile(`^(\d{1,3})[ -]+(\d{1,2})(?:[ -]+(\d{1,2})/(\d{1,2}))?$`)

// parse reads a length typed for a question.
func (w *Walk) parse(q *Question, text string) (measure.Length, error) {
	t := strings.TrimSpace(text)
	if t == "0" {
		return 0, nil
	}
	if w.job.Units == measure.Metric {
		return measure.ParseLength(t, measure.MillimetreUnit)
	}
	if q.Kind == AskSmall {
		return measure.ParseLength(t, measure.InchUnit)
	}
	if m := spaced.FindStringSubmatch(t); m != nil {
		t = m[1] + "' " + m[2]
		if m[3] != "" {
			t += " " + m[3] + "/" + m[4]
		}
		t += `"`
	}
	return measure.ParseLength(t, measure.NoUnit)
}

// length takes a length as the answer.
func (w *Walk) length(q *Question, text string) Reply {
	l, err := w.parse(q, text)
	if err != nil {
		return Reply{Say: []string{w.only(refusal(err), "walk.no-length"), q.Type}}
	}
	if why := w.impossible(q, l); why != "" {
		return Reply{Say: []string{why}}
	}
	e := w.entry(q, text)
	w.fill(q, l, e)
	if h := w.held; h != nil && h.question == q.ID && h.value == l {
		e.Note = "typed twice: " + h.why
		return Reply{Entry: e, Say: []string{w.say("walk.twice")}}
	}
	if why := w.doubt(q, l, e); why != "" {
		w.held = &held{q.ID, l, why}
		return Reply{Say: []string{w.say("walk.stop", named("why", sentence(why))), w.say("walk.look-again")}}
	}
	return Reply{Entry: e}
}

// refusal is why a text could not be read as a length, without the text.
func refusal(err error) string {
	var p *measure.ParseError
	if errors.As(err, &p) {
		return p.Error()
	}
	return sentence(err.Error())
}

// Bounds beyond which an answer is none: as the job's own readers have them.
const (
	mostLength = 500 * measure.Metre
	mostRod    = 10 * measure.Metre
	steepLean  = 5
)

// impossible says why a length is no answer to a question at all.
func (w *Walk) impossible(q *Question, l measure.Length) string {
	switch {
	case q.task == site.TaskLevel && l.Abs() > mostRod:
		return w.say("walk.no-rod", named("most", w.words.Length(mostRod)))
	case q.task == site.TaskLevel:
		return ""
	case q.Kind == AskSmall && l.Abs() > measure.Metre:
		return w.say("walk.no-lean")
	case q.Kind == AskSmall:
		return ""
	case l <= 0:
		return w.say("walk.not-nothing")
	case l > mostLength:
		return w.say("walk.check-unit", named("most", w.words.Length(mostLength)))
	}
	return ""
}

// entry is an entry for the question that stands.
func (w *Walk) entry(q *Question, text string) *job.Entry {
	return &job.Entry{Asked: q.ID, Typed: text}
}

// fill says what a length was understood as.
func (w *Walk) fill(q *Question, l measure.Length, e *job.Entry) {
	switch q.task {
	case site.TaskWidth:
		e.Width = &job.WidthEntry{Bay: q.bay, Height: q.height, Is: l}
	case site.TaskOpening:
		e.Width = &job.WidthEntry{Bay: q.bay, Height: q.height, Is: l, From: job.FromFaces}
	case site.TaskPlumb:
		e.Plumb = &job.PlumbEntry{Post: q.posts[0], Part: q.part, Is: l}
	case site.TaskLevel:
		e.Reading = &job.Reading{Level: q.posts[0], From: q.setUp, Rod: l}
	case site.TaskDiagonal:
		e.Reading = &job.Reading{Diagonal: q.posts, Is: l, Between: q.touch}
	default:
		e.Reading = &job.Reading{Distance: q.posts, Is: l, Between: q.touch}
	}
}

// yesNo takes yes or no as the answer.
func (w *Walk) yesNo(q *Question, word, text string) Reply {
	e := w.entry(q, text)
	switch {
	case w.isYes(word):
	case w.isNo(word) && (q.Kind == AskSpots || q.Kind == AskCrossings):
		e.Note, e.Place = w.say("walk.none-found"), q.Place
		return Reply{Entry: e}
	case w.isNo(word):
		e.Skip = true
		return Reply{Entry: e}
	default:
		return Reply{Say: []string{q.Type}}
	}
	switch q.Kind {
	case AskSpots:
		e.Spot = &job.Spot{Name: w.spotName(q.Place), Room: q.Place}
		return Reply{Entry: e}
	case AskCrossings:
		return Reply{Say: []string{w.say("walk.cross-how")}}
	}
	if q.Kind == AskReady {
		e.State = &job.State{Frame: q.run, Is: job.StepLagged}
		if q.framed {
			e.State.Is = job.StepTight
		}
		return Reply{Entry: e}
	}
	s, err := w.release(q.bay)
	if err != nil {
		return Reply{Say: []string{w.refused(err), w.say("walk.not-released")}}
	}
	e.State = &s
	return Reply{Entry: e}
}

// release is the entry that releases a bay as things stand.
func (w *Walk) release(bay string) (job.State, error) {
	i, ok := w.plan.Layout.Bay(bay)
	if !ok {
		return job.State{}, &fit.ReleaseError{Bay: bay, Why: "there is no bay " + bay, Say: phrase.Of("walk.no-bay", named("name", bay))}
	}
	return w.plan.Fit.Release(i, "", "")
}
