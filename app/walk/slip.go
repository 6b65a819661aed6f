package walk

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"stallwright/engine/measure"
	"stallwright/engine/survey"
)

// nearness is how well the expected length may be known: the slip that explains a
// reading most closely is the likeliest.
var nearness = []measure.Length{measure.Inch / 16, measure.Inch / 4, measure.Inch}

// slip is what may have happened where a tape that should have shown about one
// length was written as another: two digits changed places, a whole foot, another
// unit; false where nothing explains it. It asks the survey about a reading between
// two marks whose places are known.
func slip(written, expected measure.Length, show measure.Tape) (survey.Guess, bool) {
	for _, sigma := range nearness {
		net := survey.Network{
			Points:   []survey.Point{{Name: "a", Fixed: true}, {Name: "b", X: expected, Fixed: true}},
			Readings: []survey.Reading{{Kind: survey.Distance, Posts: []string{"a", "b"}, Value: written, Sigma: sigma}},
		}
		for _, s := range survey.Adjust(net, survey.Options{Show: show}).Suspects {
			for _, g := range s.Guesses {
				if !g.OtherPosts {
					return g, true
				}
			}
		}
	}
	return survey.Guess{}, false
}

// sentence starts with a capital letter and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	first, n := utf8.DecodeRuneInString(s)
	s = string(unicode.ToUpper(first)) + s[n:]
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}
