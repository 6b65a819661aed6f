package takeoff

import (
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// say tells a crew what the latest finding tells the office, with its numbers.
func (c *counter) say(key string, args ...phrase.Arg) {
	c.out.Findings[len(c.out.Findings)-1].Say = phrase.Of(key, args...)
}

// Values of what is said.
func called(as, s string) phrase.Arg              { return phrase.With(as, phrase.Name(s)) }
func size(as string, l measure.Length) phrase.Arg { return phrase.With(as, phrase.Length(l)) }

// says is what lists call an item, in any language.
func (c *counter) says(item, name string) phrase.Phrase {
	if size, ok := strings.CutSuffix(name, " tongue and groove"); ok && item == fit.Lumber {
		return phrase.Of("kind.lumber", phrase.With("size", phrase.Name(size)))
	}
	return c.kit.Called(item, name)
}
