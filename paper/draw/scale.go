package draw

import (
	"strconv"

	"stallwright/engine/measure"
)

// Scale is a reduction: Ratio model lengths to one paper length. The zero Scale
// means that none is chosen.
type Scale struct {
	Ratio int64  // 48 for 1:48
	Words string // as written on the sheet: 1:50, 1/4" = 1'-0"
}

// Metric scales, after ISO 5455 (1, 2 and 5 with their decimal multiples,
// second-hand) with 1:25, common practice in building.
var metricScales = []Scale{
	{1, "1:1"}, {2, "1:2"}, {5, "1:5"}, {10, "1:10"}, {20, "1:20"}, {25, "1:25"},
	{50, "1:50"}, {100, "1:100"}, {200, "1:200"}, {500, "1:500"}, {1000, "1:1000"},
}

// The graduations of the architect's scale (second-hand), then those of the
// engineer's scale from 20 feet to the inch (second-hand). Each ratio is 12
// times the feet drawn as one inch.
var inchScales = []Scale{
	{1, wordsFullSize}, {2, wordsHalfSize}, {4, `3" = 1'-0"`}, {8, `1 1/2" = 1'-0"`}, {12, `1" = 1'-0"`},
	{16, `3/4" = 1'-0"`}, {24, `1/2" = 1'-0"`}, {32, `3/8" = 1'-0"`}, {48, `1/4" = 1'-0"`},
	{64, `3/16" = 1'-0"`}, {96, `1/8" = 1'-0"`}, {128, `3/32" = 1'-0"`}, {192, `1/16" = 1'-0"`},
	{240, `1" = 20'`}, {360, `1" = 30'`}, {480, `1" = 40'`}, {600, `1" = 50'`}, {720, `1" = 60'`}, {1200, `1" = 100'`},
}

// Scales lists the standard scales of a system of measurement, largest picture
// first. The caller may change the list it gets.
func Scales(sys measure.System) []Scale {
	if sys == measure.Metric {
		return append([]Scale(nil), metricScales...)
	}
	return append([]Scale(nil), inchScales...)
}

// ScaleOf returns the standard scale of a ratio, in the words of the system
// where it is a standard one there, else as 1:ratio.
func ScaleOf(ratio int64, sys measure.System) Scale {
	for _, s := range Scales(sys) {
		if s.Ratio == ratio {
			return s
		}
	}
	return Scale{ratio, "1:" + strconv.FormatInt(ratio, 10)}
}

// Paper reduces a model length to paper, to the nearest micrometre.
func (s Scale) Paper(l measure.Length) Micron {
	return Micron(divRound(int64(l), s.Ratio*int64(measure.Micrometre)))
}

// Model is the model length that m on paper stands for.
func (s Scale) Model(m Micron) measure.Length {
	return measure.Length(int64(m) * s.Ratio * int64(measure.Micrometre))
}

// notToScale are the reductions tried where no scale is claimed.
func notToScale() []Scale {
	var out []Scale
	for r := int64(1); r <= 2000; r += 1 + r/20 {
		out = append(out, Scale{r, wordsNotToScale})
	}
	return out
}
