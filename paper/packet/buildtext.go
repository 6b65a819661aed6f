package packet

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/paper/words"
)

// stepText writes the order of work as plain text.
type stepText struct {
	fieldText
	p *plan.Plan
}

// Steps is the order of work as plain text: every step with its operations, parts
// by label, fasteners by size and count, tools, people, minutes, what to check and
// what can go wrong. remaining leaves out steps that the job's states say are done.
func Steps(p *plan.Plan, w *words.Words, remaining bool) []byte {
	s := &stepText{fieldText{w: w, tape: fieldTape(p.Job.Units)}, p}
	left := 0
	for i := range p.Build.Steps {
		if !p.Build.Steps[i].Done {
			left++
		}
	}
	s.title(p.Job.Job, "=")
	s.line(s.say("build.label-remaining", counted("n", left)))
	for i := range p.Build.Steps {
		v := &p.Build.Steps[i]
		if remaining && v.Done {
			continue
		}
		title := fmt.Sprintf("%d. %s", v.No, s.w.Say(v.Title))
		if v.Done {
			title += " (" + s.say("build.label-done") + ")"
		}
		s.title(title, "-")
		if v.Like >= 0 {
			s.line(s.say("build.label-like", phrase.With("step", phrase.Count(p.Build.Steps[v.Like].No))))
		}
		ops := make([]*build.Operation, len(v.Ops))
		for i, k := range v.Ops {
			ops[i] = &p.Build.Operations[k]
		}
		s.operations(ops)
	}
	return s.buf.Bytes()
}

// operations writes what a page holds, each caution once at its end.
func (s *stepText) operations(ops []*build.Operation) {
	var cautions []string
	for _, o := range ops {
		s.operation(o)
		for _, c := range o.Cautions {
			if text := s.w.Say(c); !slices.Contains(cautions, text) {
				cautions = append(cautions, text)
			}
		}
	}
	for _, c := range cautions {
		s.para("  ! ", stepMargin, s.say("build.label-caution")+": "+c)
	}
}

const stepMargin = 4

// operation writes one operation, what it takes in lines below it.
func (s *stepText) operation(o *build.Operation) {
	done := ""
	if o.Done {
		done = " (" + s.say("build.label-done") + ")"
	}
	s.para("  - ", stepMargin, s.w.Say(o.Do)+done)
	for _, h := range o.How {
		s.para("", stepMargin, s.w.Say(h))
	}
	s.item("build.label-parts", s.parts(o))
	s.item("build.label-fasteners", s.uses(o.Bolts))
	s.item("build.label-tools", s.tools(o))
	line := []string{s.say("book.people", counted("n", o.People)), s.w.Time(int64(o.Minutes))}
	if l := o.Lift; l != nil && (l.People > 1 || l.Aid) {
		key := "book.lift"
		if l.Aid {
			key = "book.lift-aid"
		}
		line = append(line, s.say(key, phrase.With("mass", phrase.Mass(l.Carry)), counted("n", l.People)))
	}
	s.para("", stepMargin, strings.Join(line, ", "))
	if o.Check != nil {
		s.item("build.label-check", s.target(o.Check))
	}
	if o.Cure > 0 {
		s.para("", stepMargin, s.say("book.cure", phrase.With("time", phrase.Time(o.Cure))))
	}
}

// item writes one line under a label; nothing writes nothing.
func (s *stepText) item(label, text string) {
	if text != "" {
		s.para("", stepMargin, s.say(label)+": "+text)
	}
}

// parts lists an operation's pieces by label and its counted parts.
func (s *stepText) parts(o *build.Operation) string {
	var out []string
	for _, p := range o.Adds {
		v := &s.p.Fit.Pieces[p]
		t := v.Label
		if v.Length > 0 {
			t += " " + s.w.Length(v.Length)
		}
		out = append(out, t)
	}
	if u := s.uses(o.Parts); u != "" {
		out = append(out, u)
	}
	return strings.Join(out, ", ")
}

// Tally is how many of one thing an operation takes.
type Tally struct {
	Count int
	What  string // its name, and its length where it has one
}

// Hardware gathers hardware: each thing once, in the order it is first named.
func Hardware(p *plan.Plan, w *words.Words, list []build.Use) []Tally {
	type key struct {
		item   string
		length measure.Length
	}
	var out []Tally
	at := map[key]int{}
	for _, u := range list {
		k := key{u.Item, u.Length}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			what := w.Say(words.Item(p.Kit.Kit, u.Item, u.Name))
			if u.Length > 0 {
				what += " " + w.Length(u.Length)
			}
			out = append(out, Tally{What: what})
		}
		out[i].Count += u.Count
	}
	return out
}

// uses lists hardware: how many, what, how long.
func (s *stepText) uses(list []build.Use) string {
	var out []string
	for _, t := range Hardware(s.p, s.w, list) {
		out = append(out, fmt.Sprintf("%d x %s", t.Count, t.What))
	}
	return strings.Join(out, ", ")
}

func (s *stepText) tools(o *build.Operation) string {
	var out []string
	for _, t := range o.Tools {
		v := s.say("build.tool-" + t.Key)
		if t.Size > 0 {
			v += " " + s.w.Length(t.Size)
		}
		out = append(out, v)
	}
	return strings.Join(out, ", ")
}

// target writes what to measure, what it should be and how far it may be off.
func (s *stepText) target(t *build.Target) string {
	what := s.w.Say(t.What)
	switch {
	case t.Value == 0 && t.Least == 0 && t.Most == 0:
		return what
	case t.Value == 0 && t.Least == -t.Most:
		return what + ": ±" + s.show(t.Most)
	case t.Least == 0 && t.Most == 0:
		return what + ": " + s.show(t.Value)
	}
	return fmt.Sprintf("%s: %s (%s … %s)", what, s.show(t.Value), s.show(t.Least), s.show(t.Most))
}

// RepairText is how to replace a board, as plain text.
func RepairText(p *plan.Plan, r *build.Replacement, w *words.Words) []byte {
	s := &stepText{fieldText{w: w, tape: fieldTape(p.Job.Units)}, p}
	s.title(w.Say(r.Title), "=")
	for _, v := range r.Spares {
		text := s.say("build.repair-spare", phrase.With("piece", phrase.Name(p.Fit.Pieces[v.Piece].Label)), phrase.With("length", phrase.Length(v.Length)))
		if v.Treated {
			text += ", " + s.say("build.repair-treated")
		}
		for _, work := range p.Todo(&p.Fit.Pieces[v.Piece]) {
			text += ", " + w.Say(work)
		}
		s.para("", 0, text)
	}
	for _, n := range r.Notes {
		s.para("", 0, w.Say(n))
	}
	s.para("", 0, s.say("build.repair-stay", counted("n", r.Stays)))
	for _, half := range []struct {
		key string
		ops []build.Operation
	}{{"build.repair-out", r.Out}, {"build.repair-in", r.In}} {
		s.title(s.say(half.key), "-")
		ops := make([]*build.Operation, len(half.ops))
		for i := range half.ops {
			ops[i] = &half.ops[i]
		}
		s.operations(ops)
	}
	return s.buf.Bytes()
}
