package walk

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/site"
)

// Help is what a person may type besides answers, line by line.
func (w *Walk) Help() []string { return strings.Split(w.say("walk.help"), "\n") }

// command takes a command; false where the words are none.
func (w *Walk) command(words []string, text string) (Reply, bool) {
	switch command(strings.ToLower(words[0])) {
	case "quit":
		return Reply{Quit: true}, true
	case "help":
		return Reply{Say: w.Help()}, true
	case "skip":
		return w.skip(text), true
	case "back":
		return w.goBack(), true
	case "note":
		return w.note(words, text), true
	case "why":
		return Reply{Say: w.why()}, true
	case "go":
		return w.goTo(strings.Join(words[1:], " ")), true
	case "mark":
		return w.mark(words, text), true
	case "cross":
		return w.cross(words, text), true
	case "spot":
		return w.spot(words, text), true
	}
	return Reply{}, false
}

func (w *Walk) skip(text string) Reply {
	q := w.Question()
	if q == nil {
		return Reply{Say: []string{w.say("walk.nothing-to-skip")}}
	}
	if q.Status == Done { // gone back to: what was read stands
		w.leave()
		return Reply{Moved: true, Say: []string{w.say("walk.as-it-was")}}
	}
	e := w.entry(q, text)
	e.Skip = true
	return Reply{Entry: e}
}

func (w *Walk) goBack() Reply {
	if len(w.trail) == 0 {
		return Reply{Say: []string{w.say("walk.first")}}
	}
	id := w.trail[len(w.trail)-1]
	w.trail = w.trail[:len(w.trail)-1]
	w.at, w.back, w.held = id, true, nil
	r := Reply{Moved: true}
	if q := w.Question(); q != nil && q.HasRead {
		r.Say = []string{w.say("walk.was-read", named("read", w.show(q.Read)))}
	}
	return r
}

// goTo goes to a question by its number, or to the first open one about a place; to
// the first clear width there, to be read again, where none is open.
func (w *Walk) goTo(name string) Reply {
	best, rank := -1, 0
	var places []string
	for i := range w.questions {
		q := &w.questions[i]
		names := append([]string{q.ID, fmt.Sprint(q.No), q.bay, q.run, q.Place}, q.posts...)
		if q.height != "" {
			names = append(names, q.bay+" "+string(q.height))
		}
		places = append(places, names[2:]...)
		if name == "" || !slices.Contains(names, name) {
			continue
		}
		r := 1
		switch {
		case q.Status != Done && q.Status != Waiting:
			r = 4
		case q.Kind == AskLength && q.Status == Done:
			r = 3
		case q.Status == Done:
			r = 2
		}
		if r > rank {
			best, rank = i, r
		}
	}
	if best < 0 {
		if near, ok := document.Nearest(name, places); ok {
			return Reply{Say: []string{w.say("walk.go-nowhere-near", named("name", name), named("near", near))}}
		}
		return Reply{Say: []string{w.say("walk.go-nowhere", named("name", name))}}
	}
	q := &w.questions[best]
	if q.Status == Waiting {
		return Reply{Say: []string{w.say("walk.waits", named("place", q.Place), named("what", w.waitsFor(q)))}}
	}
	w.at, w.back, w.held = q.ID, false, nil
	r := Reply{Moved: true}
	if q.HasRead {
		r.Say = []string{w.say("walk.was-read", named("read", w.show(q.Read)))}
	}
	return r
}

// waitsFor is what has to be before a question can be asked.
func (w *Walk) waitsFor(q *Question) string {
	if ready := w.find("ready " + q.run); ready != nil && ready.Status != Done {
		if q.framed {
			return w.say("walk.until-tight")
		}
		return w.say("walk.until-lagged")
	}
	if q.Watch != "" {
		return q.Watch
	}
	return w.say("walk.until-read")
}

func (w *Walk) note(words []string, text string) Reply {
	if len(words) < 2 {
		return Reply{Say: []string{w.say("walk.note-how")}}
	}
	e := &job.Entry{Typed: text, Note: strings.Join(words[1:], " "), Place: w.job.Job}
	if q := w.Question(); q != nil {
		e.Place = q.Place
		if q.Kind != AskSpots && q.Kind != AskCrossings { // there a note would be an answer
			e.Asked = q.ID
		}
	}
	return Reply{Entry: e}
}

// mark states how far a frame or a bay has come.
func (w *Walk) mark(words []string, text string) Reply {
	if len(words) < 3 {
		return Reply{Say: []string{w.say("walk.mark-how")}}
	}
	name, step, word := w.typedStep(words[1:])
	if step == "" {
		return Reply{Say: []string{w.say("walk.no-state", named("state", word), named("states", w.stepNames()))}}
	}
	s := job.State{Bay: name, Is: step}
	if step.OfFrame() {
		s = job.State{Frame: name, Is: step}
	}
	if why := w.unmarkable(&s); why != "" {
		return Reply{Say: []string{sentence(why), w.say("walk.not-written")}}
	}
	if step == job.StepReleased {
		var err error
		if s, err = w.release(name); err != nil {
			return Reply{Say: []string{w.refused(err), w.say("walk.not-written")}}
		}
	}
	return Reply{Entry: &job.Entry{Typed: text, State: &s}}
}

// unmarkable says why a state cannot be stated; empty where it can.
func (w *Walk) unmarkable(s *job.State) string {
	l := w.plan.Layout
	if s.Bay != "" {
		if _, ok := l.Bay(s.Bay); !ok {
			return w.unknownBay(s.Bay)
		}
		if no := w.plan.Fit.Progress().Refuses(s); no != nil {
			return w.words.Say(no.Say) + "; " + w.words.Say(no.Do)
		}
		return ""
	}
	i, ok := l.Run(s.Frame)
	switch {
	case !ok:
		var runs []string
		for k := range l.Runs {
			runs = append(runs, l.Runs[k].Name)
		}
		if near, ok := document.Nearest(s.Frame, runs); ok {
			return w.say("walk.no-frame-near", named("name", s.Frame), named("near", near))
		}
		return w.say("walk.no-frame", named("name", s.Frame))
	case l.Runs[i].Framed() && s.Is == job.StepLagged:
		return w.say("walk.is-frame", named("name", s.Frame))
	case !l.Runs[i].Framed() && (s.Is == job.StepTight || s.Is == job.StepStanding):
		return w.say("walk.is-channels", named("name", s.Frame))
	}
	return ""
}

func (w *Walk) unknownBay(name string) string {
	if near, ok := document.Nearest(name, w.plan.Layout.BayNames()); ok {
		return w.say("walk.no-bay-near", named("name", name), named("near", near))
	}
	return w.say("walk.no-bay", named("name", name))
}

// why tells what a question is for and what its answer should be.
func (w *Walk) why() []string {
	q := w.Question()
	if q == nil {
		return []string{w.say("walk.none-left")}
	}
	var out []string
	switch q.task {
	case site.TaskWidth:
		out = append(out, w.say("walk.why-width"))
	case site.TaskOpening:
		out = append(out, w.say("walk.why-opening"))
	case site.TaskSpots:
		out = append(out, w.say("walk.why-spots"))
	case site.TaskCrossings:
		out = append(out, w.say("walk.why-crossings"))
	case site.TaskLevel:
		out = append(out, w.say("walk.why-level"))
	case site.TaskPlumb:
		out = append(out, w.say("walk.why-plumb"))
	default:
		out = append(out, w.say("walk.why-distance"))
	}
	if q.Known && (q.Kind == AskLength) {
		out = append(out, sentence(w.expects(q, w.approx(q.Expected))))
	}
	if q.small > 0 {
		out = append(out, w.say("walk.slip-shows", named("slip", w.approx(q.small))))
	}
	if q.Watch != "" {
		out = append(out, sentence(q.Watch))
	}
	if q.bay != "" {
		topics, err := w.plan.Why(q.bay)
		if err == nil && len(topics) > 0 {
			out = append(out, w.words.Chain(topics[0].Why)...)
		}
	}
	return out
}
