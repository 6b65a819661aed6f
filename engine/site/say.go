package site

import (
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// say tells a crew what the latest finding tells the office, with its numbers.
func (s *Site) say(key string, args ...phrase.Arg) {
	s.Findings[len(s.Findings)-1].Say = phrase.Of(key, args...)
}

// saying is say with a phrase that is made already.
func (s *Site) saying(p phrase.Phrase) { s.Findings[len(s.Findings)-1].Say = p }

// near is a length to the tape's nearest mark, as show writes it.
func (s *Site) near(l measure.Length) phrase.Length {
	return phrase.Length(l.Round(s.tape.Mark, measure.Nearest))
}

// names are posts as a language lists them, as several does.
func names(posts []string) phrase.List {
	var out phrase.List
	for i, p := range posts {
		if n := len(posts) - i; i == mostNamed && n > 0 {
			return append(out, phrase.Of("slip.more", phrase.With("n", phrase.Count(n))))
		}
		out = append(out, phrase.Of("slip.named", called("name", p)))
	}
	return out
}

// Values of what is said.
func called(as, s string) phrase.Arg              { return phrase.With(as, phrase.Name(s)) }
func size(as string, l measure.Length) phrase.Arg { return phrase.With(as, phrase.Length(l)) }
