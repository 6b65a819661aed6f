package site

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Headroom is what is left between a structure's walls and what is built over
// them.
type Headroom struct {
	Structure int
	Top       measure.Length // top of the walls above the job's zero
	Under     measure.Length // underside of the trusses above it
	Left      measure.Length // Under − Top
}

// headroom compares walls with trusses. Where no floor is known the ground counts
// as level.
func (s *Site) headroom() {
	for i := range s.job.Structures {
		t := s.job.Structures[i].Trusses
		if t == nil || i >= len(s.lay.Structures) {
			continue
		}
		post, ok := s.lay.Post(t.Post)
		if !ok {
			continue
		}
		h := Headroom{Structure: i, Top: s.layers(i).Thickness() + s.lay.Structures[i].Height, Under: t.Under}
		if at := s.floorAt(post); at >= 0 {
			h.Under = s.Levels[at].Ground + t.Under
			if high := s.highest(i); high >= 0 {
				h.Top = s.Levels[high].Finished + s.lay.Structures[i].Height
			}
		}
		h.Top += s.raised(i)
		h.Left = h.Under - h.Top
		s.Headroom = append(s.Headroom, h)
		if h.Left < 0 {
			s.find(finding.Headroom, finding.Error, s.lay.Structures[i].Name,
				fmt.Sprintf("walls %s high on the highest finished floor reach %s above the underside of the trusses", s.show(s.lay.Structures[i].Height), s.showUp(-h.Left)),
				phrase.Of("way.lower-wall"), phrase.Of("way.less-base"), phrase.Of("way.floor-down"))
			s.say("found.over-truss", size("height", s.lay.Structures[i].Height), size("by", (-h.Left).Round(s.tape.Mark, measure.Up)))
		}
	}
}

// raised is how much higher than its first line the highest of a structure's lines
// has stepped.
func (s *Site) raised(structure int) measure.Length {
	var most measure.Length
	for i := range s.lay.Runs {
		if r := &s.lay.Runs[i]; r.Structure == structure {
			most = max(most, -r.Drop)
		}
	}
	return most
}
