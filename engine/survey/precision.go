package survey

import "stallwright/engine/measure"

// Precision says how well a kind of reading is taken: its standard deviation
// is Fixed plus PartsPerMillion of the length it runs over. A tape good to
// 1/16 in and one part in 5,000 is {1/16 in, 200}.
type Precision struct {
	Fixed           measure.Length // part that does not grow with length
	PartsPerMillion int64          // part that does
}

// Sigma is the standard deviation of a reading over length l.
func (p Precision) Sigma(l measure.Length) measure.Length {
	return toLength(p.sigma(metres(l.Abs())))
}

// sigma is the same in metres, and never less than 1 µm so that a weight stays
// finite.
func (p Precision) sigma(m float64) float64 {
	return max(1e-6, metres(p.Fixed)+float64(m*float64(p.PartsPerMillion))/1e6)
}

// The usual precisions, for Options left zero. Common practice, no published
// source: a steel tape pulled by hand between posts, a string line with a rule
// held to it, a builder's square or 3-4-5 triangle carried over the whole arm,
// a rod read through a builder's level.
var (
	tapePrecision   = Precision{Fixed: measure.Inch / 16, PartsPerMillion: 200}
	linePrecision   = Precision{Fixed: measure.Inch / 8, PartsPerMillion: 100}
	squarePrecision = Precision{Fixed: measure.Inch / 8, PartsPerMillion: 1000}
	rodPrecision    = Precision{Fixed: measure.Inch / 16}
)
