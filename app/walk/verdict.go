package walk

import (
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/site"
	"stallwright/paper/words"
)

// weak is the redundancy under which nothing worth the name checks a reading.
const weak = 0.1

// verdict tells what follows from an answer that was kept.
func (w *Walk) verdict(q Question) []string {
	switch {
	case q.Kind == AskReady && q.framed:
		return []string{w.say("walk.tight", named("run", q.run))}
	case q.Kind == AskReady:
		return []string{w.say("walk.lagged", named("run", q.run))}
	case q.Kind == AskRelease:
		return w.releaseVerdict(q.bay)
	case q.task == site.TaskWidth:
		return w.widthVerdict(q)
	case q.task == site.TaskOpening:
		return w.openingVerdict(q)
	case q.Kind == AskSpots:
		return w.spotsVerdict(q)
	case q.Kind == AskCrossings:
		return []string{w.say("walk.noted")}
	case q.task == site.TaskPlumb && q.part == job.PlumbOver:
		return w.told(w.say("walk.noted"), finding.PostLeans, q.posts[0])
	case q.task == site.TaskPlumb:
		return []string{w.say("walk.noted")}
	}
	return w.readingVerdict(q)
}

// told is a sentence and the findings of one code at a place.
func (w *Walk) told(first string, code finding.Code, place string) []string {
	out := []string{first}
	for i := range w.plan.Findings {
		if f := &w.plan.Findings[i]; f.Code == code && f.Place == place {
			out = append(out, w.tell(f))
		}
	}
	return out
}

// readingVerdict tells what the other readings make of the latest one.
func (w *Walk) readingVerdict(q Question) []string {
	last := len(w.plan.Job.Readings) - 1
	for ; last >= 0; last-- {
		if r := &w.plan.Job.Readings[last]; w.answers(r, q) {
			break
		}
	}
	if last < 0 {
		return []string{w.say("walk.noted")}
	}
	v := &w.plan.Site.Readings[last]
	switch {
	case v.Status == site.SetAside:
		return []string{w.say("walk.set-aside", named("is", w.approx(v.Makes)))}
	case v.Status == site.Unusable:
		return []string{w.say("walk.too-little")}
	case v.Redundancy < weak:
		return []string{w.say("walk.unchecked")}
	case v.Off.Abs() < w.kit.Board.Mark/2:
		return []string{w.say("walk.agrees")}
	}
	return []string{w.say("walk.within", named("off", w.approx(v.Off.Abs().Round(w.kit.Board.Mark, measure.Up))))}
}

// answers says whether a reading is one that a question asks for.
func (w *Walk) answers(r *job.Reading, q Question) bool {
	switch q.task {
	case site.TaskLevel:
		return r.Level == q.posts[0] && r.From == q.setUp
	case site.TaskDiagonal:
		return len(r.Diagonal) == 2 && r.Diagonal[0] == q.posts[0] && r.Diagonal[1] == q.posts[1] && r.Touched() == q.touch
	}
	return len(r.Distance) == 2 && r.Distance[0] == q.posts[0] && r.Distance[1] == q.posts[1] && r.Touched() == q.touch
}

// widthVerdict tells the board length that follows from a bay's clear width.
func (w *Walk) widthVerdict(q Question) []string {
	i, _ := w.plan.Layout.Bay(q.bay)
	b := &w.plan.Fit.Bays[i]
	missing := w.missing(q.bay)
	var out []string
	switch {
	case heightOf(w.heights[q.bay], job.AtBottom) == 0:
		out = append(out, w.say("walk.bottom-first"))
	case b.Frozen:
		out = append(out, w.say("walk.stays-released"))
	case b.Door != nil:
		out = append(out, w.doorLine(b))
	case b.Board > 0 && b.Taper != nil && len(b.Taper.Lengths) > 1:
		short, long, _ := b.BoardRange()
		out = append(out, w.say("walk.boards", named("short", w.show(short)), named("long", w.show(long)),
			phrase.With("lengths", phrase.Of("walk.lengths", number("n", len(b.Taper.Lengths)))), phrase.With("courses", phrase.Of("walk.courses", number("n", len(b.Courses))))))
	case b.Board > 0:
		out = append(out, w.say("walk.board", named("length", w.show(b.Board)), phrase.With("courses", phrase.Of("walk.courses", number("n", len(b.Courses))))))
	default:
		out = append(out, w.say("walk.noted"))
	}
	if len(missing) > 0 {
		out[0] += " " + w.say("walk.still-to-read", named("heights", strings.Join(missing, ", ")))
	} else if b.Widest > b.Clear && (b.Taper == nil || len(b.Taper.Lengths) == 1) {
		out = append(out, w.say("walk.wider", named("by", w.show(b.Widest-b.Clear))))
	}
	return append(out, w.faults(q.bay)...)
}

func (w *Walk) doorLine(b *fit.BayFit) string {
	if b.Door.Track != nil {
		return w.say("walk.leaf-laps", named("lap", w.show(b.Door.Lap)))
	}
	return w.say("walk.leaf-leaves", named("gap", w.show(b.Door.Latch)))
}

// missing lists the heights of a bay still to be read.
func (w *Walk) missing(bay string) []string {
	var out []string
	for _, h := range heights {
		if q := w.find("width " + bay + " " + string(h)); q != nil && q.Status != Done && q.Status != Doubtful {
			out = append(out, w.words.Say(heightWord(h)))
		}
	}
	return out
}

// faults are what stands against building a bay as measured.
func (w *Walk) faults(bay string) []string {
	var out []string
	for i := range w.plan.Findings {
		f := &w.plan.Findings[i]
		if f.Place != bay || f.Severity == finding.Note && f.Code != finding.FrozenFits {
			continue
		}
		s := strings.ToUpper(w.words.Say(words.Severity(f.Severity))) + ": " + w.tell(f)
		if len(f.Choices) > 0 {
			s += " " + w.say("walk.do", phrase.With("what", f.Choices[0]))
		}
		out = append(out, s)
	}
	return out
}

func (w *Walk) releaseVerdict(bay string) []string {
	i, _ := w.plan.Layout.Bay(bay)
	count := map[measureLabel]int{}
	var order []measureLabel
	for _, k := range w.plan.Fit.Bays[i].Pieces {
		p := &w.plan.Fit.Pieces[k]
		if !p.Cut {
			continue
		}
		l := measureLabel{p.Kind, w.show(p.Length)}
		if count[l] == 0 {
			order = append(order, l)
		}
		count[l]++
	}
	var parts []string
	for _, l := range order {
		parts = append(parts, w.say("walk.pieces", phrase.With("what", kindCount(l.kind, count[l])), named("length", l.length)))
	}
	if len(parts) == 0 {
		return []string{w.say("walk.released", named("bay", bay))}
	}
	return []string{w.say("walk.released-pieces", named("bay", bay), named("pieces", strings.Join(parts, ", ")))}
}

// measureLabel is pieces alike.
type measureLabel struct {
	kind   fit.PieceKind
	length string
}

// stateVerdict tells of a state that was marked.
func (w *Walk) stateVerdict(s *job.State) []string {
	if s.Is == job.StepReleased {
		return w.releaseVerdict(s.Bay)
	}
	return []string{w.say("walk.is-now", named("name", s.Name()), phrase.With("state", s.Is.Say()))}
}
