package site

import (
	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
	"stallwright/engine/survey"
)

// Level is the height of one post's foot or of one spot.
type Level struct {
	Name      string
	Post      int            // in the layout; -1 for a spot
	Spot      int            // among the job's spots; -1 for a post
	Structure int            // in the layout; -1 for a spot that is no floor
	Ground    measure.Length // what the rod stood on, above the job's zero
	Sigma     measure.Length // standard deviation of Ground; none where the floor was stated
	Finished  measure.Length // finished floor: Ground with base and mats, to the tape's mark
	Known     bool           // readings join it to the others, or it was stated
	Stated    bool           // the job states the finished floor; nothing was levelled
	Why       *reason.Reason // of Finished
}

// level adjusts the level readings of the whole job, then adds the floors that
// are stated for structures without any.
func (s *Site) level() {
	first := len(s.Levels)
	for _, part := range s.levelNetworks() {
		r := survey.AdjustLevels(part.net, s.options())
		for k, m := range r.Points {
			s.Levels = append(s.Levels, s.levelled(part.at[k], m))
		}
		s.tellLevels(r, part.index)
	}
	if len(s.Levels) > first {
		s.tellUnlevel()
	}
	s.stated()
}

// levelPart is level readings that are adjusted together.
type levelPart struct {
	net   survey.LevelNetwork
	index []int   // of each reading, its place among the job's
	at    []Level // what each point is
}

// levelNetworks are the job's level readings, those of structures that share no
// set-up and no point apart: a pen behind a barn needs no common zero with it.
// Within one structure all belong together; what does not join is told.
func (s *Site) levelNetworks() []levelPart {
	net, index, at := s.levelNetwork()
	if len(index) == 0 {
		return nil
	}
	group := map[string]string{} // a name's representative: set-ups, points, structures
	find := func(name string) string {
		for group[name] != "" && group[name] != name {
			name = group[name]
		}
		return name
	}
	join := func(a, b string) {
		if a, b = find(a), find(b); a != b {
			group[b] = a
		}
	}
	for k := range at {
		if at[k].Structure >= 0 {
			join("point "+at[k].Name, "structure "+s.lay.Structures[at[k].Structure].Name)
		}
		if net.Points[k].Fixed {
			join("point "+at[k].Name, "benchmarks")
		}
	}
	for _, r := range net.Readings {
		join("point "+r.Point, "set-up "+r.SetUp)
	}
	var out []levelPart
	of := map[string]int{}
	part := func(name string) *levelPart {
		root := find(name)
		i, known := of[root]
		if !known {
			i = len(out)
			of[root], out = i, append(out, levelPart{})
		}
		return &out[i]
	}
	for k := range at {
		p := part("point " + at[k].Name)
		p.at, p.net.Points = append(p.at, at[k]), append(p.net.Points, net.Points[k])
	}
	for k, r := range net.Readings {
		p := part("set-up " + r.SetUp)
		p.index, p.net.Readings = append(p.index, index[k]), append(p.net.Readings, r)
	}
	return out
}

// levelNetwork is the job's level readings, with the place of each among the
// job's, and what each point is.
func (s *Site) levelNetwork() (net survey.LevelNetwork, index []int, at []Level) {
	used := map[string]bool{}
	for i := range s.job.Readings {
		r := &s.job.Readings[i]
		if r.Kind() != job.ReadLevel {
			continue
		}
		used[r.Level] = true
		index = append(index, i)
		net.Readings = append(net.Readings, survey.LevelReading{SetUp: r.From, Point: r.Level, Value: r.Rod, By: r.By, When: r.At})
	}
	for i := range s.lay.Posts {
		if p := &s.lay.Posts[i]; used[p.Name] {
			at = append(at, Level{Name: p.Name, Post: i, Spot: -1, Structure: p.Structure})
			net.Points = append(net.Points, survey.Mark{Name: p.Name})
		}
	}
	for i := range s.job.Spots {
		p := &s.job.Spots[i]
		known := p.Has("height")
		if !used[p.Name] && !known {
			continue
		}
		at = append(at, Level{Name: p.Name, Post: -1, Spot: i, Structure: s.structureOf(p)})
		net.Points = append(net.Points, survey.Mark{Name: p.Name, Height: p.Height, Fixed: known})
	}
	return net, index, at
}

// structureOf is the structure in whose floor a spot lies; -1 for none.
func (s *Site) structureOf(p *job.Spot) int {
	if run := s.runOf(p.Bay); run >= 0 {
		return s.lay.Runs[run].Structure
	}
	for i := range s.lay.Rooms {
		if p.Room != "" && s.lay.Rooms[i].Name == p.Room {
			return s.lay.Rooms[i].Structure
		}
	}
	return -1
}

// runOf is the run that a bay or run of this name stands in; -1 for none.
func (s *Site) runOf(name string) int {
	if name == "" {
		return -1
	}
	if i, ok := s.lay.Bay(name); ok {
		return s.lay.Bays[i].Run
	}
	for i := range s.lay.Runs {
		if s.lay.Runs[i].Name == name {
			return i
		}
	}
	return -1
}

// layers is what is still to be laid on a structure's ground.
func (s *Site) layers(structure int) *job.Layers {
	if structure >= 0 && structure < len(s.job.Structures) {
		if l := s.job.Structures[structure].Floor; l != nil {
			return l
		}
	}
	return s.job.Floor
}

// levelled is one adjusted height with what is laid on it.
func (s *Site) levelled(v Level, m survey.AdjustedMark) Level {
	v.Ground, v.Sigma, v.Known = m.Height, m.Sigma, m.Determined
	laid := measure.Length(0)
	var from []*reason.Reason
	if v.Structure >= 0 && (v.Spot < 0 || !s.job.Spots[v.Spot].Finished) {
		l := s.layers(v.Structure)
		if laid = l.Thickness(); l != nil {
			from = append(from, reason.Given(phrase.Of("why.still-laid"), s.near(laid), job.Written(l.Pos())))
		}
	}
	ground := reason.Of(phrase.Of("why.ground-at", phrase.With("post", phrase.Name(v.Name))), s.near(v.Ground), phrase.Of("rule.level-adjusted", phrase.With("plus", phrase.Name(s.plusMinus(v.Sigma)))), phrase.Phrase{})
	for i := range s.job.Readings {
		if r := &s.job.Readings[i]; r.Level == v.Name {
			ground.From = append(ground.From, reason.Given(phrase.Of("why.rod", phrase.With("post", phrase.Name(v.Name)), phrase.With("set-up", phrase.Name(r.From))), phrase.Length(r.Rod), r.Cite()))
		}
	}
	if by, filled := s.job.FilledBy(v.Name); filled != nil {
		laid += by
		from = append(from, reason.Given(phrase.Of("why.filled-by"), s.near(by), job.Written(filled.Pos())))
	}
	v.Finished = (v.Ground + laid).Round(s.tape.Mark, measure.Nearest)
	v.Why = reason.Of(phrase.Of("why.finished-floor-at", phrase.With("post", phrase.Name(v.Name))), s.near(v.Finished), phrase.Of("rule.floor-sum", phrase.With("mark", phrase.Length(s.tape.Mark))), phrase.Phrase{}, append([]*reason.Reason{ground}, from...)...)
	return v
}

// stated adds the floors a job states, in structures whose floor was not levelled.
func (s *Site) stated() {
	has := map[int]bool{}
	for i := range s.Levels {
		has[s.Levels[i].Structure] = true
	}
	latest := map[string]int{}
	for i := range s.job.Floors {
		latest[s.job.Floors[i].Post] = i
	}
	for i := range s.lay.Posts {
		p := &s.lay.Posts[i]
		k, ok := latest[p.Name]
		if !ok || has[p.Structure] {
			continue
		}
		f := &s.job.Floors[k]
		l := Level{
			Name: p.Name, Post: i, Spot: -1, Structure: p.Structure, Known: true, Stated: true,
			Ground: f.Height - s.layers(p.Structure).Thickness(), Finished: f.Height,
			Why: reason.Given(phrase.Of("why.floor-at", phrase.With("post", phrase.Name(p.Name))), s.near(f.Height), job.Written(f.Pos())),
		}
		if by, filled := s.job.FilledBy(p.Name); filled != nil {
			l.Finished += by
			l.Why = reason.Of(l.Why.What, s.near(l.Finished), phrase.Of("rule.stated-filled"), phrase.Phrase{}, l.Why, reason.Given(phrase.Of("why.filled-by"), s.near(by), job.Written(filled.Pos())))
		}
		s.Levels = append(s.Levels, l)
	}
}

// tellLevels passes on what the level readings say of each other.
func (s *Site) tellLevels(r survey.LevelResult, index []int) {
	for k, v := range r.Readings {
		s.Readings[index[k]] = readingOf(v, 0)
	}
	s.Tests = append(s.Tests, Test{-1, r.Test})
	s.Wanted = append(s.Wanted, r.Wanted...)
	sure := map[int]bool{}
	for _, v := range r.Suspects {
		s.tellSuspect(v, index, s.job.Readings[index[v.Reading]].Level)
		sure[v.Reading] = len(v.Others) == 0
	}
	s.tellProblems(r.Problems, r.Wanted, sure, s.job.Farm.Name)
}

// tellUnlevel names principal posts that were not levelled though others of their
// structure were.
func (s *Site) tellUnlevel() {
	for i := range s.lay.Structures {
		read, has := map[int]bool{}, false
		for k := range s.Levels {
			if v := &s.Levels[k]; v.Structure == i && v.Post >= 0 {
				read[v.Post], has = true, true
			}
		}
		var posts []string
		for k := range s.lay.Posts {
			if p := &s.lay.Posts[k]; has && p.Structure == i && p.Kind != frame.Door && !read[k] {
				posts = append(posts, p.Name)
			}
		}
		if len(posts) > 0 {
			s.Unlevel = append(s.Unlevel, posts...)
			s.find(finding.PostUnread, finding.Note, s.lay.Structures[i].Name, "no level reading at "+several(posts)+": the floor there counts as the highest", phrase.Of("way.rod-foot"))
			s.say("found.no-level", phrase.With("posts", names(posts)))
		}
	}
}
