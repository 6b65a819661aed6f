package setout

import (
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// say tells a crew what the latest finding tells the office, with its numbers.
func (m *maker) say(key string, args ...phrase.Arg) {
	m.out.Findings[len(m.out.Findings)-1].Say = phrase.Of(key, args...)
}

// Values of what is said.
func count(as string, n int) phrase.Arg { return phrase.With(as, phrase.Count(n)) }

func called(as, s string) phrase.Arg { return phrase.With(as, phrase.Name(s)) }

// size is a length as show shows it.
func (m *maker) size(as string, l measure.Length) phrase.Arg {
	return phrase.With(as, phrase.Length(m.tape.Round(l, measure.Nearest)))
}

// near is a length as show shows it.
func (m *maker) near(l measure.Length) phrase.Length {
	return phrase.Length(m.tape.Round(l, measure.Nearest))
}

// bench is what heights count from.
func (m *maker) bench() phrase.Arg {
	if m.field.Bench == ZeroBench {
		return phrase.With("bench", phrase.Of("source.job-zero"))
	}
	return called("bench", m.field.Bench)
}
