package site

import (
	"fmt"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/survey"
)

// farOff is how far a post may stand from where it was drawn before the drawing is
// doubted: posts in barns are off by an inch or two (common practice, no published
// source).
const farOff = 3 * measure.Inch

// leanFrom and leanPart: a post is told to lean when its top is off by more than
// this part of the height between the marks: 1/4 in over 4 ft, a level's bubble
// off its lines (common practice, no published source).
const (
	leanFrom = measure.Inch / 4
	leanOver = 4 * measure.Foot
)

// tell turns the survey's verdicts on one structure into findings.
func (p *planar) tell(r survey.Result) {
	s := p.s
	name := s.lay.Structures[p.structure].Name
	sure := map[int]bool{}
	for _, v := range r.Suspects {
		s.tellSuspect(v, p.index, firstPost(p.net.Readings[v.Reading].Posts, name))
		sure[v.Reading] = len(v.Others) == 0
	}
	s.tellProblems(r.Problems, r.Wanted, sure, name)
	p.tellMoved(name)
	p.tellUnread(name)
	if len(r.Suspects) == 0 && !r.Test.Passed {
		s.find(finding.ReadingsClash, finding.Note, name, fmt.Sprintf("together the readings of %s scatter more than a tape as good as stated should, though none stands out", name),
			phrase.Of("way.state-tape", phrase.With("key", phrase.Name("tape"))), phrase.Of("way.same-faces"))
		s.say("found.scatter", called("place", name))
	}
}

func firstPost(posts []string, otherwise string) string {
	if len(posts) > 0 {
		return posts[0]
	}
	return otherwise
}

// tellSuspect names a reading that disagrees with the others, and marks it and
// its rivals.
func (s *Site) tellSuspect(v survey.Suspect, index []int, place string) {
	i := index[v.Reading]
	s.Readings[i].Suspect = true
	message := v.Sentence
	if src := s.job.Readings[i].Source(); src != "measured" {
		message += " It was " + src + "."
	}
	choices := []phrase.Phrase{phrase.Of("way.read-again", phrase.With("reading", s.Readings[i].Say))}
	for _, o := range v.Others {
		s.Readings[index[o.Reading]].Suspect = true
	}
	if v.Separate != nil {
		choices = []phrase.Phrase{phrase.Of("way.read-it", phrase.With("reading", v.Separate.Say()))}
	}
	s.find(finding.ReadingSuspect, finding.Warning, place, message, choices...)
	s.Findings[len(s.Findings)-1].Say = v.Say
}

// tellProblems passes on what else the survey found; what only repeats a reading
// already named for certain is left out.
func (s *Site) tellProblems(problems []survey.Problem, wanted []survey.Advice, sure map[int]bool, name string) {
	var helps []phrase.Phrase
	for _, a := range wanted[:min(3, len(wanted))] {
		helps = append(helps, phrase.Of("way.read-because", phrase.With("reading", a.Say()), phrase.With("why", a.Why)))
	}
	for _, v := range problems {
		place := firstPost(v.Posts, name)
		switch v.Code {
		case survey.NotConnected, survey.NotDetermined:
			s.find(finding.PostUnplaced, finding.Warning, place, v.Sentence, helps...)
			s.saying(v.Say)
		case survey.NothingChecks:
			s.find(finding.ReadingUnchecked, finding.Note, name, v.Sentence, helps...)
			s.saying(v.Say)
		default:
			named := false
			for _, i := range v.Readings {
				named = named || sure[i]
			}
			if !named {
				s.find(finding.ReadingsClash, finding.Warning, place, v.Sentence)
				s.saying(v.Say)
			}
		}
	}
}

// tellMoved says how far from the drawing the posts of a structure stand.
func (p *planar) tellMoved(name string) {
	s := p.s
	n, far := 0, -1
	most := measure.Length(0)
	for i := range s.Posts {
		v := &s.Posts[i]
		if s.lay.Posts[v.Post].Structure != p.structure || !v.Placed {
			continue
		}
		n++
		if d := frame.Distance(v.Drawn, v.At); far < 0 || d > most {
			far, most = i, d
		}
	}
	if far < 0 {
		return
	}
	v := &s.Posts[far]
	severity := finding.Note
	var choices []phrase.Phrase
	if most > farOff {
		severity, choices = finding.Warning, []phrase.Phrase{phrase.Of("way.suspects-first"), phrase.Of("way.correct-so")}
	}
	place := s.lay.Posts[v.Post].Name
	s.find(finding.PostMoved, severity, name, fmt.Sprintf("%d posts are placed by %d readings; the furthest from the drawing is %s, by %s (± %s)",
		n, len(p.index), place, s.show(most), s.plusMinus(v.Ellipse.Major)), choices...)
	s.say("found.moved", called("post", place), size("by", most.Round(s.tape.Mark, measure.Nearest)))
}

// tellUnread names standing posts that no reading touches.
func (p *planar) tellUnread(name string) {
	var posts []string
	for _, post := range p.s.Unread {
		if i, ok := p.s.lay.Post(post); ok && p.s.lay.Posts[i].Structure == p.structure {
			posts = append(posts, post)
		}
	}
	if len(posts) > 0 {
		p.s.find(finding.PostUnread, finding.Note, name, fmt.Sprintf("no reading touches %s: they count as drawn, and so do the bays beside them in part", several(posts)), phrase.Of("way.read-listed"))
		p.s.say("found.unread", called("posts", strings.Join(posts, ", ")))
	}
}

// mostNamed is how many posts are named one by one.
const mostNamed = 8

// several writes names as a crew reads them, mostNamed at most.
func several(names []string) string {
	switch n := len(names); {
	case n == 1:
		return names[0]
	case n > mostNamed:
		return strings.Join(names[:mostNamed], ", ") + fmt.Sprintf(" and %d more", n-mostNamed)
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}

// tellLean warns of a post that leans too far for its bays to be even.
func (s *Site) tellLean(v *Lean) {
	name := s.lay.Posts[v.Post].Name
	allowed, _ := measure.MulDiv(int64(v.Over), int64(leanFrom), int64(leanOver), measure.Down)
	if max(v.Along.Abs(), v.Across.Abs()) <= measure.Length(allowed) {
		return
	}
	s.find(finding.PostLeans, finding.Warning, name, fmt.Sprintf("%s leans over %s: its top stands %s along the barn and %s across it", name, s.exact(v.Over), s.exact(v.Along), s.exact(v.Across)),
		phrase.Of("way.measure-beside"), phrase.Of("way.shim-plumb"))
	s.say("found.leans", size("over", v.Over), size("along", v.Along), size("across", v.Across))
}
