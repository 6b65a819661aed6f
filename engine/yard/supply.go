package yard

import (
	"slices"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/job"
)

// Supply gives a copy of the job that takes its boards from the yard, whatever
// lengths the job states itself: those of its species, size and, where it states
// them, grade and treatment. The error is document.Problems, on the job's own
// lines, where the yard sells no such boards or several kinds of them.
func Supply(j *job.Job, y *Yard) (*job.Job, error) {
	r := j.Reporter()
	out := *j
	l := &out.Lumber
	s := &job.Supply{Yard: y.Yard, Currency: string(y.Currency), Dated: y.Dated, Until: y.Until}
	at := l.Of("yard")
	if !l.Has("yard") {
		at = l.Of("lengths")
	}
	plain := pick(r, at, y, l, false)
	treated := pick(r, at, y, l, true)
	if plain == nil && treated == nil && r.Len() == 0 {
		r.Add(at, "lumber.yard", l.Yard, y.Yard+" lists no boards for this job ("+wanted(l)+")", "it lists: "+strings.Join(y.kinds(), "; "))
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	switch {
	case plain == nil: // a yard may keep treated boards only
		plain = treated
	case treated == nil:
		treated, s.Untreated = plain, true
	}
	l.Lengths, l.Treated = plain.Lengths, treated.Lengths
	s.Lead, s.LeadTreated = plain.Lead, treated.Lead
	l.Supply = s
	return &out, nil
}

// pick finds the boards of a job; nil for none.
func pick(r *document.Reporter, at document.Pos, y *Yard, l *job.Lumber, treated bool) *Boards {
	var found []*Boards
	for i := range y.Boards {
		b := &y.Boards[i]
		if b.Treated() == treated && b.suits(l) {
			found = append(found, b)
		}
	}
	if len(found) == 0 {
		return nil
	}
	if len(found) > 1 {
		var kinds []string
		for _, b := range found {
			kinds = append(kinds, b.size())
		}
		hint := "say which grade: lumber.grade"
		if treated {
			hint = "say which: lumber.grade, lumber.treatment"
		}
		r.Add(at, "lumber.yard", l.Yard, y.Yard+" lists several boards for this job: "+strings.Join(kinds, "; "), hint)
	}
	return found[0]
}

// suits says whether boards are those that a job takes.
func (b *Boards) suits(l *job.Lumber) bool {
	board := l.Board()
	switch {
	case b.Species != l.Species,
		l.Grade != "" && !strings.EqualFold(b.Grade, l.Grade),
		b.Treated() && l.Treatment != "" && !strings.EqualFold(b.Treatment, l.Treatment),
		b.Thickness != 0 && b.Thickness != board.Thickness,
		b.Thickness == 0 && l.Has("thickness") && !l.Has("nominal"): // sold by its real size elsewhere
		return false
	case b.Nominal != "":
		return b.Nominal == board.Nominal
	}
	return b.Thickness != 0 || board.Nominal == "2x6"
}

// wanted says what a job takes, for messages.
func wanted(l *job.Lumber) string {
	board := l.Board()
	b := Boards{Species: l.Species, Grade: l.Grade, Nominal: board.Nominal}
	if l.Has("thickness") {
		b.Thickness = l.Thickness
	}
	return b.size()
}

// kinds lists what a yard sells.
func (y *Yard) kinds() []string {
	var out []string
	for i := range y.Boards {
		out = append(out, y.Boards[i].size())
	}
	slices.Sort(out)
	return out
}
