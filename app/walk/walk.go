package walk

import (
	"slices"
	"strings"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/site"
	"stallwright/paper/words"
)

// Walk is one person's way through a job's measuring sheet. It is not for use by
// two at once.
type Walk struct {
	job     *job.Job // as its file has it
	kit     *kit.Kit
	words   *words.Words
	entries []job.Entry

	plan      *plan.Plan
	sheet     *site.Sheet
	heights   map[string]job.Width
	questions []Question

	at    string          // id of the question that stands
	seen  map[string]bool // answered, skipped or passed in this session
	trail []string        // questions answered or left, the latest last
	back  bool            // the question that stands was gone back to
	held  *held           // a doubtful answer
	done  int             // answers kept in this session
}

// held is an answer that can hardly be true, waiting to be typed again.
type held struct {
	question string
	value    measure.Length
	why      string
}

// Reply is what is to be done about something typed.
type Reply struct {
	Say   []string   // sentences to show
	Entry *job.Entry // to be stamped, written into the notebook and handed to Keep; nil for none
	Moved bool       // another question stands now
	Quit  bool       // the person wants to stop
}

// New begins a walk where the notebook's entries left it, in the job's language.
// The error is document.Problems where the job is at fault.
func New(j *job.Job, k *kit.Kit, entries []job.Entry) (*Walk, error) {
	said, err := words.For(j.Language, j.Units)
	if err != nil {
		return nil, err
	}
	return NewIn(said, j, k, entries)
}

// NewIn is New in a language of one's own choice.
func NewIn(said *words.Words, j *job.Job, k *kit.Kit, entries []job.Entry) (*Walk, error) {
	w := &Walk{job: j, kit: k, words: said, entries: slices.Clone(entries), seen: map[string]bool{}}
	if err := w.renew(); err != nil {
		return nil, err
	}
	w.move("")
	return w, nil
}

// renew works the job through with the entries as they are.
func (w *Walk) renew() error {
	p, err := plan.MakeWith(w.job, w.kit, w.entries)
	if err != nil {
		return err
	}
	w.plan, w.sheet, w.heights = p, site.NewSheet(p.Site, p.Layout), job.Heights(w.job, w.entries)
	w.ask()
	return nil
}

// Plan is the job worked through with everything kept so far.
func (w *Walk) Plan() *plan.Plan { return w.plan }

// Questions are all questions of the sheet with how far each is, in walking order.
func (w *Walk) Questions() []Question { return w.questions }

// Question is the question that stands; nil once all are answered or left open.
func (w *Walk) Question() *Question { return w.find(w.at) }

func (w *Walk) find(id string) *Question {
	for i := range w.questions {
		if w.questions[i].ID == id {
			return &w.questions[i]
		}
	}
	return nil
}

// Kept is how many answers were kept in this session.
func (w *Walk) Kept() int { return w.done }

// move goes to the next question behind one: open or doubtful ones first, those
// that an earlier session skipped after them all.
func (w *Walk) move(behind string) {
	start := 0
	for i := range w.questions {
		if w.questions[i].ID == behind {
			start = i + 1
		}
	}
	w.at, w.back, w.held = "", false, nil
	for _, wanted := range [][]Status{{Open, Doubtful}, {Skipped}} {
		for n := range w.questions {
			q := &w.questions[(start+n)%len(w.questions)]
			if !w.seen[q.ID] && slices.Contains(wanted, q.Status) {
				w.at = q.ID
				return
			}
		}
	}
}

// leave marks the question that stands as dealt with and goes on.
func (w *Walk) leave() {
	id := w.at
	w.seen[id] = true
	w.trail = append(w.trail, id)
	w.move(id)
}

// Keep takes an entry that Say made, stamped and written, and tells what follows
// from it. The error is document.Problems, and cannot come from the entry.
func (w *Walk) Keep(e job.Entry) ([]string, error) {
	var q *Question
	if now := w.Question(); now != nil {
		was := *now // renew lays the questions out anew
		q = &was
	}
	w.entries = append(w.entries, e)
	if err := w.renew(); err != nil {
		return nil, err
	}
	w.held = nil
	found := q != nil && (q.Kind == AskSpots || q.Kind == AskCrossings)
	if q == nil || e.Asked != q.ID || isNote(&e) && !found {
		if now := w.Question(); now != nil && !w.back && (now.Status == Done || now.Status == Waiting) {
			w.move(w.at) // what was stated answers it
		} else if now == nil {
			w.move("")
		}
		w.toSpot(&e)
		return w.noted(&e), nil
	}
	say := []string{w.say("walk.left-open")}
	if !e.Skip {
		w.done++
		if say = w.verdict(*q); e.Crosses != nil {
			say = w.crossVerdict(e.Crosses)
		}
	}
	w.leave()
	w.toSpot(&e)
	return say, nil
}

// toSpot puts the rod at a high spot that was just found before the person: they
// stand on it.
func (w *Walk) toSpot(e *job.Entry) {
	if e.Spot == nil {
		return
	}
	for i := range w.questions {
		if q := &w.questions[i]; q.Status == Open && len(q.posts) == 1 && q.posts[0] == e.Spot.Name {
			w.at = q.ID
			return
		}
	}
}

// isNote says whether an entry is nothing but a note.
func isNote(e *job.Entry) bool {
	return e.Width == nil && e.Plumb == nil && e.Reading == nil && e.State == nil && e.Spot == nil && e.Crosses == nil && !e.Skip
}

// noted tells of an entry that answers no question.
func (w *Walk) noted(e *job.Entry) []string {
	switch {
	case e.State != nil:
		return w.stateVerdict(e.State)
	case e.Crosses != nil:
		return w.crossVerdict(e.Crosses)
	case e.Spot != nil:
		return []string{w.say("walk.spot-added", named("spot", e.Spot.Name))}
	}
	return []string{w.say("walk.noted-at", named("place", e.Place))}
}

// Say takes what a person typed: an answer to the question that stands, or a
// command.
func (w *Walk) Say(text string) Reply {
	typed := strings.Fields(text)
	if len(typed) == 0 {
		return Reply{}
	}
	if r, ok := w.command(typed, text); ok {
		return r
	}
	q := w.Question()
	if q == nil {
		return Reply{Say: []string{w.say("walk.none-left-help")}}
	}
	switch q.Kind {
	case AskReady, AskRelease, AskSpots, AskCrossings:
		return w.yesNo(q, strings.ToLower(typed[0]), text)
	}
	return w.length(q, text)
}

// Left counts the questions that are open or doubtful, and those that wait.
func (w *Walk) Left() (open, waiting int) {
	for i := range w.questions {
		switch w.questions[i].Status {
		case Open, Doubtful, Skipped:
			open++
		case Waiting:
			waiting++
		}
	}
	return open, waiting
}

// show writes a length as the job's readers do.
func (w *Walk) show(l measure.Length) string { return l.In(w.job.Units) }

// tape is the tape that sentences are rounded to.
func (w *Walk) tape() measure.Tape {
	return measure.Tape{System: w.job.Units, Mark: w.kit.Board.Mark}
}
