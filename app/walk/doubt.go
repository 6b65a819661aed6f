package walk

import (
	"fmt"
	"slices"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/engine/site"
)

// How far a reading may lie from what is known before it is held back for another
// look. All common practice, no published source.
const (
	farOff    = 3 * measure.Inch // from the drawing: posts in barns are off by an inch or two
	nearOff   = measure.Inch     // from what posts read to their places leave
	taperOff  = measure.Inch     // between the heights of one bay
	againOff  = measure.Inch / 8 // between two readings of one thing
	rodOff    = measure.Inch / 4 // between two set-ups
	leanShare = 100              // a lean of one in so many
)

// trialTime puts an entry that is only tried behind all others.
const trialTime = "9999-01-01T00:00:00Z"

// doubt says why an answer can hardly be true; empty where nothing speaks against
// it.
func (w *Walk) doubt(q *Question, l measure.Length, e *job.Entry) string {
	switch q.task {
	case site.TaskWidth, site.TaskOpening:
		return w.doubtWidth(q, l)
	case site.TaskPlumb:
		return w.doubtPlumb(q, l)
	case site.TaskLevel:
		if off := (l - q.Expected).Abs(); q.Known && off > rodOff {
			return w.off(l, q.Expected, w.say("walk.set-up-makes", named("is", w.approx(q.Expected))))
		}
	default:
		if off := (l - q.Expected).Abs(); q.Known && (q.Drawn && off > farOff || !q.Drawn && off > nearOff) {
			return w.off(l, q.Expected, w.expects(q, w.approx(q.Expected)))
		}
	}
	if why := w.before(q, l); why != "" {
		return why
	}
	return w.contradicts(q, e)
}

// expects says what a question's answer should come to, and by what.
func (w *Walk) expects(q *Question, is string) string {
	if q.Drawn {
		return w.say("walk.drawn", named("is", is))
	}
	return w.say("walk.posts-make", named("is", is))
}

// off says how far a reading lies from what is expected, and what slip would
// explain it.
func (w *Walk) off(l, expected measure.Length, what string) string {
	s := w.say("walk.off", named("read", w.show(l)), named("off", w.approx((l-expected).Abs())), named("what", what))
	if g, ok := slip(l, expected, w.tape()); ok {
		return s + ". " + sentence(w.say("walk.slip", phrase.With("slip", g.Say), named("value", g.Value.In(w.job.Units))))
	}
	return s
}

// approx is a length to the tape's mark.
func (w *Walk) approx(l measure.Length) string {
	return w.show(l.Round(w.kit.Board.Mark, measure.Nearest))
}

// doubtWidth compares a clear width with the other heights of its bay and with what
// is expected. Where another height was read, that is the better witness: the
// drawing knows nothing of where the posts stand.
func (w *Walk) doubtWidth(q *Question, l measure.Length) string {
	for _, h := range heights {
		o := w.find(widthID(q, h))
		if h == q.height || o == nil || !o.HasRead {
			continue
		}
		if d := (l - o.Read).Abs(); d > taperOff {
			return w.off(l, o.Read, w.say("walk.at-height", phrase.With("height", heightWord(h)), named("is", w.approx(o.Read))))
		}
	}
	if off := (l - q.Expected).Abs(); q.Known && off > farOff && !w.agreed(q, l) {
		return w.off(l, q.Expected, w.expects(q, w.approx(q.Expected)))
	}
	return w.before(q, l)
}

// agreed says whether another height of the bay, kept already, shows about the
// same.
func (w *Walk) agreed(q *Question, l measure.Length) bool {
	for _, h := range heights {
		if o := w.find(widthID(q, h)); h != q.height && o != nil && o.HasRead && (l-o.Read).Abs() <= taperOff {
			return true
		}
	}
	return false
}

// before compares a reading with the one it would take the place of.
func (w *Walk) before(q *Question, l measure.Length) string {
	if !q.HasRead || w.back || q.Status == Doubtful {
		return ""
	}
	if d := (l - q.Read).Abs(); d > againOff {
		return w.say("walk.read-before", named("read", w.show(q.Read)), named("off", w.show(d)))
	}
	return ""
}

func (w *Walk) doubtPlumb(q *Question, l measure.Length) string {
	if q.part != job.PlumbOver {
		return ""
	}
	if l < 2*measure.Foot || l > 20*measure.Foot {
		return w.say("walk.odd-height", named("height", w.show(l)))
	}
	for _, part := range []job.PlumbPart{job.PlumbAlong, job.PlumbAcross} {
		o := w.find(fmt.Sprintf("plumb %s %s", q.posts[0], part))
		if o == nil || !o.HasRead {
			continue
		}
		if o.Read.Abs() > l/steepLean {
			return w.say("walk.falls-over", named("lean", w.show(o.Read)), named("height", w.show(l)))
		}
		if o.Read.Abs() > l/leanShare {
			return w.say("walk.leans-much", named("lean", w.show(o.Read)), named("height", w.show(l)))
		}
	}
	return ""
}

// contradicts tries a reading among all others and says what the adjustment finds
// against it.
func (w *Walk) contradicts(q *Question, e *job.Entry) string {
	trial := *e
	trial.ID, trial.At = "trial", trialTime
	line, err := trial.Line()
	if err != nil {
		return ""
	}
	if trial, err = job.ReadEntry(line); err != nil {
		return err.Error()
	}
	noted, unused, err := plan.Noted(w.job, w.kit, append(slices.Clone(w.entries), trial))
	if err != nil {
		return ""
	}
	for _, u := range unused {
		if u.ID == "trial" {
			return w.only(u.Why, "walk.no-place")
		}
	}
	drawn, err := frame.Build(noted, w.kit)
	if err != nil {
		return ""
	}
	s := site.Adjust(noted, w.kit, drawn)
	last := -1
	for i := range noted.Readings {
		if noted.Readings[i].At == trialTime {
			last = i
		}
	}
	if last < 0 || !s.Readings[last].Suspect && s.Readings[last].Status != site.SetAside {
		return ""
	}
	return w.against(s, last)
}

// against is the adjustment's own sentence against a reading.
func (w *Walk) against(s *site.Site, reading int) string {
	v := &s.Readings[reading]
	if v.Status == site.SetAside {
		return w.off(v.Read, v.Makes, w.say("walk.others-make", named("is", w.approx(v.Makes))))
	}
	for i := range s.Findings {
		if f := &s.Findings[i]; f.Code == finding.ReadingSuspect {
			return w.say("walk.no-longer-agree") + " " + w.tell(f)
		}
	}
	return w.say("walk.disagrees")
}
