package site

import (
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// say tells a crew what the latest finding tells the office, with its numbers.
func (s *Site) say(key string, args ...phrase.Arg) {
	s.Findings[len(s.Findings)-1].Say = phrase.Of(key, args...)
}

// Values of what is said.
func called(as, s string) phrase.Arg              { return phrase.With(as, phrase.Name(s)) }
func size(as string, l measure.Length) phrase.Arg { return phrase.With(as, phrase.Length(l)) }
