package site

import (
	"cmp"
	"slices"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// Line is a datum line of a structure: the level line of the undersides of the
// first boards.
type Line struct {
	Structure int
	Datum     measure.Length // above the highest finished floor, or what is left of it after a step
	Drop      measure.Length // how much lower it has stepped than the structure's first line
	Height    measure.Length // above the job's zero
	Highest   int            // the floor that governs, in Levels
	Lowest    int            // the lowest floor, in Levels
	Why       *reason.Reason
}

// Mark is where a line is marked on a post.
type Mark struct {
	Post  int
	Line  int            // in Lines
	Above measure.Length // above the finished floor at the post
	// Ground is the same above the ground as it was measured, before base and mats
	// are laid: what the crew marks by.
	Ground measure.Length
	Why    *reason.Reason
}

// highest and lowest are the known floors of a structure, in Levels; -1 where none
// is known.
func (s *Site) highest(structure int) int { return s.extreme(structure, 1) }
func (s *Site) lowest(structure int) int  { return s.extreme(structure, -1) }

func (s *Site) extreme(structure int, sign measure.Length) int {
	best := -1
	for i := range s.Levels {
		v := &s.Levels[i]
		if v.Structure == structure && v.Known && (best < 0 || sign*v.Finished > sign*s.Levels[best].Finished) {
			best = i
		}
	}
	return best
}

// floorAt is a post's entry in Levels where its floor is known; -1 where not.
func (s *Site) floorAt(post int) int {
	if post >= len(s.floorOf) {
		return -1
	}
	return s.floorOf[post]
}

// index finds each post's known floor and each run's horses, once.
func (s *Site) index() {
	if len(s.Levels) == 0 {
		return
	}
	s.floorOf = make([]int, len(s.lay.Posts))
	for i := range s.floorOf {
		s.floorOf[i] = -1
	}
	for i := range s.Levels {
		if v := &s.Levels[i]; v.Post >= 0 && v.Known {
			s.floorOf[v.Post] = i
		}
	}
	room := make([]bool, len(s.lay.Runs))
	s.horse = make([]bool, len(s.lay.Runs))
	for i := range s.lay.Rooms {
		for _, run := range s.lay.Rooms[i].Runs {
			room[run] = true
			s.horse[run] = s.horse[run] || s.lay.Rooms[i].Kind.ForHorse()
		}
	}
	for run := range room {
		s.horse[run] = s.horse[run] || !room[run]
	}
}

// lines sets the datum lines on the floors and works out what follows from them.
func (s *Site) lines() {
	s.index()
	for i := range s.lay.Structures {
		high := s.highest(i)
		if high < 0 {
			continue
		}
		first := len(s.Lines)
		for _, d := range s.datums(i) {
			s.Lines = append(s.Lines, s.line(i, high, d[0], d[1]))
		}
		s.marks(i, first)
		s.gaps(i, first)
		s.tellLine(first)
		s.tellGaps(i)
	}
	s.headroom()
}

// line is one datum line of a structure, stepped down from its first by drop.
func (s *Site) line(structure, high int, datum, drop measure.Length) Line {
	top := &s.Levels[high]
	height := top.Finished + datum - drop
	rule, from := phrase.Of("rule.line"), []*reason.Reason{top.Why, s.whyDatum(structure, datum)}
	if drop != 0 {
		rule = phrase.Of("rule.line-step")
		from = append(from, reason.Given(phrase.Of("why.step"), s.near(drop), phrase.Of("source.job-datum")))
	}
	return Line{
		Structure: structure, Datum: datum, Drop: drop, Height: height, Highest: high, Lowest: s.lowest(structure),
		Why: reason.Of(phrase.Of("why.datum-line", phrase.With("place", phrase.Name(s.lay.Structures[structure].Name))), s.near(height), rule, phrase.Phrase{}, from...),
	}
}

// datums are the different datums of a structure's built runs with how far their
// lines have stepped, least step first, then lowest datum.
func (s *Site) datums(structure int) [][2]measure.Length {
	var out [][2]measure.Length
	for i := range s.lay.Runs {
		if r := &s.lay.Runs[i]; r.Structure == structure && r.Filled(s.lay) && !slices.Contains(out, [2]measure.Length{r.Datum, r.Drop}) {
			out = append(out, [2]measure.Length{r.Datum, r.Drop})
		}
	}
	slices.SortFunc(out, func(a, b [2]measure.Length) int { return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0])) })
	return out
}

func (s *Site) whyDatum(structure int, datum measure.Length) *reason.Reason {
	for i := range s.lay.Runs {
		if r := &s.lay.Runs[i]; r.Structure == structure && r.Datum == datum && r.Filled(s.lay) {
			return reason.Of(phrase.Of("why.datum-above-highest"), s.near(datum), r.Assembly.Datum.Say(), phrase.Of("source.assembly", phrase.With("assembly", phrase.Name(r.Assembly.ID)), phrase.With("kit", phrase.Name(s.kit.Kit))))
		}
	}
	return nil
}

// lineOf is the line that a run's boards start on, in Lines.
func (s *Site) lineOf(run, first int) int {
	for i := first; i < len(s.Lines); i++ {
		if l := &s.Lines[i]; l.Structure == s.lay.Runs[run].Structure && l.Datum == s.lay.Runs[run].Datum && l.Drop == s.lay.Runs[run].Drop {
			return i
		}
	}
	return -1
}

// marks marks each line on the posts whose runs start from it.
func (s *Site) marks(structure, first int) {
	type key struct{ post, line int }
	have := map[key]bool{}
	from := len(s.Marks)
	for i := range s.lay.Runs {
		r := &s.lay.Runs[i]
		if r.Structure != structure || !r.Filled(s.lay) {
			continue
		}
		line := s.lineOf(i, first)
		for _, post := range append([]int{r.From, r.To}, r.DoorPosts...) {
			at := s.floorAt(post)
			if k := (key{post, line}); at < 0 || have[k] {
				continue
			} else {
				have[k] = true
			}
			v := &s.Levels[at]
			above := s.Lines[line].Height - v.Finished
			s.Marks = append(s.Marks, Mark{
				Post: post, Line: line, Above: above, Ground: (s.Lines[line].Height - v.Ground).Round(s.tape.Mark, measure.Nearest),
				Why: reason.Of(phrase.Of("why.datum-mark", phrase.With("post", phrase.Name(v.Name))), s.near(above), phrase.Of("rule.mark-at"), phrase.Phrase{}, s.Lines[line].Why, v.Why),
			})
		}
	}
	slices.SortStableFunc(s.Marks[from:], func(a, b Mark) int {
		return cmp.Or(cmp.Compare(a.Post, b.Post), cmp.Compare(a.Line, b.Line))
	})
}
