package site

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// showUp writes a length rounded up to the tape's mark.
func (s *Site) showUp(l measure.Length) string {
	return l.Round(s.tape.Mark, measure.Up).In(s.job.Units)
}

// tellLine says which floor governs a levelled structure's lines and how far the
// floor falls from it.
func (s *Site) tellLine(first int) {
	if first == len(s.Lines) {
		return
	}
	l := &s.Lines[first]
	high, low := &s.Levels[l.Highest], &s.Levels[l.Lowest]
	if high.Stated {
		return // nothing was worked out that the job does not say
	}
	name := s.lay.Structures[l.Structure].Name
	s.find(finding.DatumLine, finding.Note, name,
		fmt.Sprintf("the finished floor is highest at %s, which governs the datum line; it falls %s to %s", high.Name, s.show(high.Finished-low.Finished), low.Name),
		phrase.Of("way.mark-line"))
	s.say("found.floor-falls", called("high", high.Name), size("by", high.Finished-low.Finished), called("low", low.Name))
}

// tellGaps warns of gaps a hoof goes under, with the ways to close them.
func (s *Site) tellGaps(structure int) {
	first := true
	for i := range s.Gaps {
		g := &s.Gaps[i]
		b := &s.lay.Bays[g.Bay]
		if b.Structure != structure || !g.Wide() {
			continue
		}
		if first {
			if !s.stepped(structure) { // where the job steps the line itself, that is not second-guessed
				s.Steps = append(s.Steps, s.steps(structure, s.Lines[g.Line].Datum)...)
			}
			first = false
		}
		what, choices := "the lowest board", []phrase.Phrase{phrase.Of("way.fill-by", size("by", g.Fill.Round(s.tape.Mark, measure.Up)))}
		if b.IsDoor() {
			what = "the leaf"
		} else {
			choices = append(choices, phrase.Of("way.skirt", phrase.With("left", s.near(g.Skirt[0])), phrase.With("right", s.near(g.Skirt[1]))))
			choices = append(choices, s.stepChoices(structure)...)
		}
		s.find(finding.FloorGap, finding.Warning, b.Name,
			fmt.Sprintf("%s is left under %s where the floor is lowest; over %s a hoof or a foal's leg goes under", s.showUp(g.Most), what, s.show(g.Allowed)), choices...)
		s.say(map[bool]string{true: "found.gap-under-leaf", false: "found.gap-under-board"}[b.IsDoor()], size("gap", g.Most.Round(s.tape.Mark, measure.Up)), size("most", g.Allowed))
	}
}

// stepped says whether the job steps a structure's line.
func (s *Site) stepped(structure int) bool {
	for i := range s.Lines {
		if s.Lines[i].Structure == structure && s.Lines[i].Drop != 0 {
			return true
		}
	}
	return false
}

func (s *Site) stepChoices(structure int) []phrase.Phrase {
	var out []phrase.Phrase
	for _, st := range s.Steps {
		if st.Structure != structure {
			continue
		}
		way := "way.step-down"
		if st.Drop < 0 {
			way = "way.step-up"
		}
		out = append(out, phrase.Of(way, phrase.With("by", s.near(st.Drop.Abs())), phrase.With("posts", names(st.Posts))))
	}
	return out
}
