package walk

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/site"
)

// Help is what a person may type besides answers.
const Help = `Type what the tape shows, then Enter. Or:
  skip           leave this one open, go on
  back           go back to the one before
  note WORDS     write down anything seen here
  why            what it is for, what it should be
  go NAME        go to a bay, run or post
  mark NAME STATE   a frame: delivered, standing, tight
                 (channels: lagged); a bay: drawn, released,
                 cut, loaded
  quit           stop; everything typed is kept
An answer that can hardly be true is not taken at once:
look at the tape again. The same typed twice is kept.`

// command takes a command; false where the words are none.
func (w *Walk) command(words []string, text string) (Reply, bool) {
	switch strings.ToLower(words[0]) {
	case "quit", "q", "exit":
		return Reply{Quit: true}, true
	case "help", "?", "h":
		return Reply{Say: strings.Split(Help, "\n")}, true
	case "skip", "s":
		return w.skip(text), true
	case "back", "b":
		return w.goBack(), true
	case "note":
		return w.note(words, text), true
	case "why", "w":
		return Reply{Say: w.why()}, true
	case "go":
		return w.goTo(strings.Join(words[1:], " ")), true
	case "mark":
		return w.mark(words, text), true
	}
	return Reply{}, false
}

func (w *Walk) skip(text string) Reply {
	q := w.Question()
	if q == nil {
		return Reply{Say: []string{"There is no question to skip."}}
	}
	if q.Status == Done { // gone back to: what was read stands
		w.leave()
		return Reply{Moved: true, Say: []string{"As it was."}}
	}
	e := w.entry(q, text)
	e.Skip = true
	return Reply{Entry: e}
}

func (w *Walk) goBack() Reply {
	if len(w.trail) == 0 {
		return Reply{Say: []string{"This is the first one. Type go and a name for another."}}
	}
	id := w.trail[len(w.trail)-1]
	w.trail = w.trail[:len(w.trail)-1]
	w.at, w.back, w.held = id, true, nil
	r := Reply{Moved: true}
	if q := w.Question(); q != nil && q.HasRead {
		r.Say = []string{fmt.Sprintf("It was read as %s. Type it anew, or skip to leave it.", w.show(q.Read))}
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
		hint := "Type go and a bay, run or post."
		if near, ok := document.Nearest(name, places); ok {
			hint = "Did you mean " + near + "?"
		}
		return Reply{Say: []string{fmt.Sprintf("The sheet asks nothing at %q. %s", name, hint)}}
	}
	q := &w.questions[best]
	if q.Status == Waiting {
		return Reply{Say: []string{sentence(q.Place + " waits: first " + w.waitsFor(q))}}
	}
	w.at, w.back, w.held = q.ID, false, nil
	r := Reply{Moved: true}
	if q.HasRead {
		r.Say = []string{fmt.Sprintf("It was read as %s. Type it anew, or skip to leave it.", w.show(q.Read))}
	}
	return r
}

// waitsFor is what has to be before a question can be asked.
func (w *Walk) waitsFor(q *Question) string {
	if ready := w.find("ready " + q.run); ready != nil && ready.Status != Done {
		if q.framed {
			return "its frame is tight and squared"
		}
		return "its channels are lagged"
	}
	if q.Watch != "" {
		return q.Watch
	}
	return "its clear width is read at all heights"
}

func (w *Walk) note(words []string, text string) Reply {
	if len(words) < 2 {
		return Reply{Say: []string{"Type note and what you saw: note post twisted."}}
	}
	e := &job.Entry{Typed: text, Note: strings.Join(words[1:], " "), Place: w.job.Job}
	if q := w.Question(); q != nil {
		e.Asked, e.Place = q.ID, q.Place
	}
	return Reply{Entry: e}
}

// mark states how far a frame or a bay has come.
func (w *Walk) mark(words []string, text string) Reply {
	if len(words) < 3 {
		return Reply{Say: []string{"Type mark, a name and a state: mark A1-front tight, or mark A1-A2 cut."}}
	}
	name, step := strings.Join(words[1:len(words)-1], " "), job.Step(strings.ToLower(words[len(words)-1]))
	if !slices.Contains(job.Step("").Allowed(), string(step)) {
		return Reply{Say: []string{fmt.Sprintf("%q is no state. One of: %s.", step, strings.Join(job.Step("").Allowed(), ", "))}}
	}
	s := job.State{Bay: name, Is: step}
	if step.OfFrame() {
		s = job.State{Frame: name, Is: step}
	}
	if why := w.unmarkable(&s); why != "" {
		return Reply{Say: []string{sentence(why), "Not written down."}}
	}
	if step == job.StepReleased {
		var err error
		if s, err = w.release(name); err != nil {
			return Reply{Say: []string{sentence(err.Error()), "Not written down."}}
		}
	}
	return Reply{Entry: &job.Entry{Typed: text, State: &s}}
}

// unmarkable says why a state cannot be stated; empty where it can.
func (w *Walk) unmarkable(s *job.State) string {
	l := w.plan.Layout
	if s.Bay != "" {
		if _, ok := l.Bay(s.Bay); !ok {
			return w.unknown("bay", s.Bay, l.BayNames())
		}
		why, do := w.plan.Fit.Progress().Refuses(s)
		if why != "" && do != "" {
			why += "; " + do
		}
		return why
	}
	i, ok := l.Run(s.Frame)
	switch {
	case !ok:
		var runs []string
		for k := range l.Runs {
			runs = append(runs, l.Runs[k].Name)
		}
		return w.unknown("frame", s.Frame, runs)
	case l.Runs[i].Framed() && s.Is == job.StepLagged:
		return s.Frame + " is a frame, not two channels: delivered, standing, or tight"
	case !l.Runs[i].Framed() && (s.Is == job.StepTight || s.Is == job.StepStanding):
		return s.Frame + " has no frame to tighten: its channels are lagged"
	}
	return ""
}

func (w *Walk) unknown(what, name string, among []string) string {
	if near, ok := document.Nearest(name, among); ok {
		return fmt.Sprintf("there is no %s %s; did you mean %s?", what, name, near)
	}
	return fmt.Sprintf("there is no %s %s", what, name)
}

// why tells what a question is for and what its answer should be.
func (w *Walk) why() []string {
	q := w.Question()
	if q == nil {
		return []string{"There is no question left."}
	}
	var out []string
	switch q.task {
	case site.TaskWidth:
		out = append(out, "The boards are cut to the narrowest of three heights, less the end play.")
	case site.TaskLevel:
		out = append(out, "From the rod follows how high the floor is here, and so where the datum line is marked on the post.")
	case site.TaskPlumb:
		out = append(out, "A post out of plumb makes a bay that is wider at one height than at another.")
	default:
		out = append(out, "From distances and diagonals follows where each post stands; enough of them name a wrong one.")
	}
	if q.Known && (q.Kind == AskLength) {
		out = append(out, sentence(expectWords(q)+" "+w.approx(q.Expected)))
	}
	if q.small > 0 {
		out = append(out, fmt.Sprintf("Once all are read, a slip of %s or more here shows.", w.approx(q.small)))
	}
	if q.Watch != "" {
		out = append(out, sentence(q.Watch))
	}
	if q.bay != "" {
		topics, err := w.plan.Why(q.bay)
		if err == nil && len(topics) > 0 {
			out = append(out, topics[0].Why.Chain()...)
		}
	}
	return out
}
