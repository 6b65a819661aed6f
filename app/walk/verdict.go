package walk

import (
	"fmt"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/site"
)

// weak is the redundancy under which nothing worth the name checks a reading.
const weak = 0.1

// verdict tells what follows from an answer that was kept.
func (w *Walk) verdict(q Question) []string {
	switch {
	case q.Kind == AskReady && q.framed:
		return []string{fmt.Sprintf("Tight. %s can be measured.", q.run)}
	case q.Kind == AskReady:
		return []string{fmt.Sprintf("Lagged. %s can be measured.", q.run)}
	case q.Kind == AskRelease:
		return w.releaseVerdict(q.bay)
	case q.task == site.TaskWidth:
		return w.widthVerdict(q)
	case q.task == site.TaskPlumb && q.part == job.PlumbOver:
		return w.told("Noted.", finding.PostLeans, q.posts[0])
	case q.task == site.TaskPlumb:
		return []string{"Noted."}
	}
	return w.readingVerdict(q)
}

// told is a sentence and the findings of one code at a place.
func (w *Walk) told(first string, code finding.Code, place string) []string {
	out := []string{first}
	for i := range w.plan.Findings {
		if f := &w.plan.Findings[i]; f.Code == code && f.Place == place {
			out = append(out, sentence(f.Message))
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
		return []string{"Noted."}
	}
	v := &w.plan.Site.Readings[last]
	switch {
	case v.Status == site.SetAside:
		return []string{fmt.Sprintf("Kept, but set aside: the others make it %s.", w.approx(v.Makes))}
	case v.Status == site.Unusable:
		return []string{"Noted. It cannot be used yet: too little is read around it."}
	case v.Redundancy < weak:
		return []string{"Noted. Nothing checks it yet."}
	case v.Off.Abs() < w.kit.Board.Mark/2:
		return []string{"Good: it agrees with the others."}
	}
	return []string{fmt.Sprintf("Good: within %s of what the others make it.", w.approx(v.Off.Abs().Round(w.kit.Board.Mark, measure.Up)))}
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
		out = append(out, "Noted. The board length follows once the bottom is read.")
	case b.Frozen:
		out = append(out, "It is released: its pieces stay as they are.")
	case b.Door != nil:
		out = append(out, w.doorLine(b))
	case b.Board > 0 && b.Taper != nil && len(b.Taper.Lengths) > 1:
		short, long, _ := b.BoardRange()
		out = append(out, fmt.Sprintf("BOARDS %s to %s, by height: %s in %s.", w.show(short), w.show(long), plural(len(b.Taper.Lengths), "length"), plural(len(b.Courses), "course")))
	case b.Board > 0:
		out = append(out, fmt.Sprintf("BOARD %s (%s).", w.show(b.Board), plural(len(b.Courses), "course")))
	default:
		out = append(out, "Noted.")
	}
	if len(missing) > 0 {
		out[0] += " Still to read: " + strings.Join(missing, ", ") + "."
	} else if b.Widest > b.Clear && (b.Taper == nil || len(b.Taper.Lengths) == 1) {
		out = append(out, fmt.Sprintf("It is %s wider at one height than at another; the narrowest counts.", w.show(b.Widest-b.Clear)))
	}
	return append(out, w.faults(q.bay)...)
}

func (w *Walk) doorLine(b *fit.BayFit) string {
	if b.Door.Track != nil {
		return fmt.Sprintf("The leaf laps each jamb by %s.", w.show(b.Door.Lap))
	}
	return fmt.Sprintf("The leaf leaves %s at the latch.", w.show(b.Door.Latch))
}

// missing lists the heights of a bay still to be read.
func (w *Walk) missing(bay string) []string {
	var out []string
	for _, h := range heights {
		if q := w.find(fmt.Sprintf("width %s %s", bay, h)); q != nil && q.Status != Done && q.Status != Doubtful {
			out = append(out, string(h))
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
		s := strings.ToUpper(f.Severity.String()) + ": " + sentence(f.Message)
		if len(f.Choices) > 0 {
			s += " Do: " + f.Choices[0] + "."
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
		l := measureLabel{string(p.Kind), w.show(p.Length)}
		if count[l] == 0 {
			order = append(order, l)
		}
		count[l]++
	}
	var parts []string
	for _, l := range order {
		parts = append(parts, fmt.Sprintf("%s of %s", plural(count[l], l.kind), l.length))
	}
	if len(parts) == 0 {
		return []string{"RELEASED: " + bay + "."}
	}
	return []string{"RELEASED: " + bay + ", " + strings.Join(parts, ", ") + "."}
}

// measureLabel is pieces alike.
type measureLabel struct{ kind, length string }

// stateVerdict tells of a state that was marked.
func (w *Walk) stateVerdict(s *job.State) []string {
	if s.Is == job.StepReleased {
		return w.releaseVerdict(s.Bay)
	}
	return []string{fmt.Sprintf("%s is %s.", s.Name(), s.Is)}
}
