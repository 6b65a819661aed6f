package site

import (
	"strconv"
	"strings"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
)

// Step is where a structure's datum line would step down or up for the gaps to
// stay small enough: at one row of posts across it.
type Step struct {
	Structure int
	Posts     []string       // the posts the step stands at
	Drop      measure.Length // how much lower the line goes on, toward higher post numbers; up is negative
}

// column is one row of posts across a structure, and the floors there and on the
// way to the next.
type column struct {
	posts []string
	at    []measure.Length
	on    []measure.Length // spots between this row and the next
}

// numbered is a post's number in its line: 3 for A.b3; 0 for none.
func numbered(name string) int {
	_, last, ok := strings.Cut(name, ".")
	if !ok || len(last) < 2 {
		return 0
	}
	n, err := strconv.Atoi(last[1:])
	if err != nil || n < 0 || n > 100_000 {
		return 0
	}
	return n
}

// columns are a row structure's posts by number, with the floors known there.
func (s *Site) columns(structure int) []column {
	switch s.lay.Structures[structure].Kind {
	case frame.BarnRow, frame.FreeRow, frame.FreeBarn:
	default:
		return nil
	}
	most := 0
	for i := range s.lay.Posts {
		if p := &s.lay.Posts[i]; p.Structure == structure && p.Kind != frame.Door {
			most = max(most, numbered(p.Name))
		}
	}
	out := make([]column, most)
	for i := range s.lay.Posts {
		p := &s.lay.Posts[i]
		n := numbered(p.Name)
		if p.Structure != structure || p.Kind == frame.Door || n == 0 {
			continue
		}
		c := &out[n-1]
		c.posts = append(c.posts, p.Name)
		if at := s.floorAt(i); at >= 0 {
			c.at = append(c.at, s.Levels[at].Finished)
		}
	}
	for i := range s.Levels {
		v := &s.Levels[i]
		if v.Spot < 0 || !v.Known || v.Structure != structure {
			continue
		}
		if n := s.before(&s.job.Spots[v.Spot].Bay, s.job.Spots[v.Spot].Room); n > 0 && n <= len(out) {
			out[n-1].on = append(out[n-1].on, v.Finished)
		}
	}
	return out
}

// before is the lowest number among the posts around a bay or room.
func (s *Site) before(bay *string, room string) int {
	least := 0
	take := func(post int) {
		if n := numbered(s.lay.Posts[post].Name); n > 0 && (least == 0 || n < least) {
			least = n
		}
	}
	if run := s.runOf(*bay); run >= 0 {
		take(s.lay.Runs[run].From)
		take(s.lay.Runs[run].To)
		return least
	}
	for i := range s.lay.Rooms {
		if s.lay.Rooms[i].Name == room {
			for _, c := range s.lay.Rooms[i].Corners {
				take(c)
			}
		}
	}
	return least
}

// steps parts a structure's length into the fewest stretches, each with a line of
// its own, in which no gap is over the allowed one. Stretches share the row of
// posts at which they meet. Where even one bay alone falls too much, a step does
// not help and there are none.
func (s *Site) steps(structure int, datum measure.Length) []Step {
	cols := s.columns(structure)
	spare := max(wallGap, datum) - datum // how much a floor may fall within one stretch
	var out []Step
	var line measure.Length
	for from := 0; from < len(cols)-1; {
		high, low, ok := spread(cols, from, from+1)
		if !ok || high-low > spare {
			return nil
		}
		to := from + 1
		for to+1 < len(cols) {
			h, l, ok := spread(cols, from, to+1)
			if !ok || h-l > spare {
				break
			}
			high, to = h, to+1
		}
		if from > 0 {
			out = append(out, Step{Structure: structure, Posts: cols[from].posts, Drop: line - high})
		}
		line, from = high, to
	}
	return out
}

// spread is the highest and lowest floor from one column to another; not ok where
// none is known.
func spread(cols []column, from, to int) (high, low measure.Length, ok bool) {
	take := func(list []measure.Length) {
		for _, h := range list {
			if !ok {
				high, low, ok = h, h, true
			}
			high, low = max(high, h), min(low, h)
		}
	}
	for c := from; c <= to; c++ {
		take(cols[c].at)
		if c < to {
			take(cols[c].on)
		}
	}
	return high, low, ok
}
