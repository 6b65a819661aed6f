package job

import (
	"fmt"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Swelling is how thick the boards may become in use.
type Swelling struct {
	Dry   measure.Length // as loaded
	Wet   measure.Length // at the moisture they may reach, up to the nanometre
	From  int            // moisture content as loaded, percent
	To    int            // and the highest in use, percent
	Rule  phrase.Phrase  // the arithmetic in words
	About phrase.Phrase  // where it comes from
}

// fibreSaturation is the moisture content, in percent, over which wood swells no
// further (Wood Handbook FPL-GTR-190 ch. 4, about 30 %; from memory).
const fibreSaturation = 30

// wettest is the highest moisture content in use where the job states none, in
// percent: at more, lumber counts as wet in service (National Design
// Specification; from memory). As a default it is common practice, no published
// source.
const wettest = 19

// tangential is the coefficient of dimensional change across the growth rings, in
// hundred-thousandths for each percent of moisture. A board may be sawn so that
// its thickness runs that way, in which wood swells most. Southern pine and
// Douglas-fir: Wood Handbook 1987 as cited by others, second-hand. Spruce-pine-fir
// (white and red spruce, the most of the group) and, for any other species, red
// oak: FPL-GTR-190 Table 13-5, from memory.
var tangential = map[Species]int64{SouthernPine: 265, DouglasFirLarch: 267, SprucePineFir: 274, OtherSpecies: 369}

// Swelling works out how thick the boards may become:
//
//	ΔD = D · C · ΔM
//
// with D the thickness as loaded, C the coefficient of dimensional change and ΔM
// the change of moisture content in percent (Wood Handbook FPL-GTR-190 ch. 13,
// seen). Boards that are loaded wetter than they will be in use only shrink.
func (l *Lumber) Swelling() Swelling {
	s := Swelling{Dry: l.Board().Thickness, From: l.loaded(), To: l.Wettest}
	s.About = phrase.Of("source.swells", phrase.With("key", phrase.Name("lumber.moisture_most")))
	if s.To == 0 && !l.Has("moisture_most") {
		s.To, s.About = wettest, phrase.Of("source.swells-unstated", phrase.With("key", phrase.Name("moisture_most")))
	}
	rise := int64(max(min(s.To, fibreSaturation)-min(s.From, fibreSaturation), 0))
	c := tangential[l.Species]
	s.Rule = phrase.Of("rule.swells", called("coefficient", fmt.Sprintf("0.00%d", c)), phrase.With("percent", phrase.Count(rise)))
	s.Wet = s.Dry
	if more, ok := measure.MulDiv(int64(s.Dry), c*rise, 100_000, measure.Up); ok {
		s.Wet += measure.Length(more)
	}
	return s
}
