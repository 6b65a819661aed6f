package survey

import (
	"math"
	"sort"
	"strconv"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// slip is a candidate for what was really there when something else was
// written down.
type slip struct {
	words string
	meant measure.Length
	rank  int           // likelier slips first
	say   phrase.Phrase // words, for a crew in any language
}

// Ranks of slips, likeliest first. The order is judgement: common practice, no
// published source.
const (
	rankUnit = iota
	rankFoot
	rankDigits
	rankInch
	rankFace
	rankSixteenth
	rankLookAlike
)

// guesses are the slips that turn what the others say was there (expect, known
// to within sigma, both metres) into what was written. A guess must bring the
// reading within 3σ of the others and take away two thirds of the difference.
func (o Options) guesses(written measure.Length, expect, sigma float64) []Guess {
	off := math.Abs(metres(written) - expect)
	within := min(float64(3*sigma)+metres(measure.Inch/32), off/3)
	var out []slip
	if u, ok := mixedUnit(metres(written), expect, within); ok {
		out = append(out, u)
	}
	for _, s := range o.candidates(written) {
		if s.meant != written && math.Abs(metres(s.meant)-expect) <= within {
			out = append(out, s)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].rank < out[b].rank })
	var kept []Guess
	for _, s := range out {
		again := false
		for _, k := range kept {
			again = again || k.Value == s.meant
		}
		if !again && len(kept) < 3 {
			kept = append(kept, Guess{Slip: s.words, Say: s.say, Value: s.meant})
		}
	}
	return kept
}

// candidates lists what may have been there for what was written, by slips
// that do not depend on the unit system, then those of the system it is
// written in.
func (o Options) candidates(written measure.Length) []slip {
	var out []slip
	for _, f := range o.PostFaces {
		size, say := o.show(f), o.size("size", f)
		out = append(out,
			slip{"taken from the wrong face of a " + size + " post (" + size + " too long)", written - f, rankFace, phrase.Of("slip.face-long", say)},
			slip{"taken from the wrong face of a " + size + " post (" + size + " too short)", written + f, rankFace, phrase.Of("slip.face-short", say)},
			slip{"taken from the wrong faces of both " + size + " posts", written - 2*f, rankFace, phrase.Of("slip.faces", say)},
			slip{"taken from the wrong faces of both " + size + " posts", written + 2*f, rankFace, phrase.Of("slip.faces", say)})
	}
	sign := measure.Length(1)
	if written < 0 {
		sign = -1
	}
	feet, metric := written.Abs()%measure.SixtyFourthInch == 0, written.Abs()%measure.Millimetre == 0
	if !feet && !metric { // off every tape's marks: only whole figures can be told
		feet, metric = o.Show.System == measure.FeetInches, o.Show.System == measure.Metric
	}
	if feet {
		for _, s := range footInchSlips(written.Abs()) {
			out = append(out, slip{s.words, sign * s.meant, s.rank, s.say})
		}
	}
	if metric {
		for _, s := range metricSlips(written.Abs()) {
			out = append(out, slip{s.words, sign * s.meant, s.rank, s.say})
		}
	}
	return out
}

// wholeSlips are the slips by whole units of the tape's figures. say is a slip by k
// of them, long or short.
func wholeSlips(l, step measure.Length, most int, one, many string, rank int, say func(k int, long bool) phrase.Phrase) []slip {
	var out []slip
	for k := 1; k <= most; k++ {
		words := one
		if k > 1 {
			words = strconv.Itoa(k) + many
		}
		d := measure.Length(k) * step
		out = append(out, slip{words + " long", l - d, rank, say(k, true)}, slip{words + " short", l + d, rank, say(k, false)})
	}
	return out
}

func metricSlips(l measure.Length) []slip {
	out := wholeSlips(l, measure.Metre, 3, "one whole metre", " whole metres", rankFoot, wholeMetres)
	out = append(out, wholeSlips(l, 100*measure.Millimetre, 1, "100 mm", "", rankInch, millimetres(100))...)
	out = append(out, wholeSlips(l, 10*measure.Millimetre, 1, "10 mm", "", rankInch, millimetres(10))...)
	if l%measure.Millimetre != 0 {
		return out
	}
	digits := strconv.FormatInt(int64(l/measure.Millimetre), 10)
	for _, d := range transposed(digits) {
		if n, err := strconv.ParseInt(d, 10, 64); err == nil {
			out = append(out, slip{"two digits changed places", measure.Length(n) * measure.Millimetre, rankDigits, phrase.Of("slip.digits")})
		}
	}
	for _, d := range lookAlike(digits) {
		if n, err := strconv.ParseInt(d, 10, 64); err == nil {
			out = append(out, slip{"one digit misread for another like it", measure.Length(n) * measure.Millimetre, rankLookAlike, phrase.Of("slip.alike")})
		}
	}
	return out
}

// imperial is a length taken apart as it is written.
type imperial struct{ feet, inches, num, den int64 }

func takeApart(l measure.Length) imperial {
	i := imperial{feet: int64(l / measure.Foot), den: 64}
	rest := l % measure.Foot
	i.inches = int64(rest / measure.Inch)
	i.num = int64(rest % measure.Inch / measure.SixtyFourthInch)
	for i.den > 1 && i.num%2 == 0 {
		i.num, i.den = i.num/2, i.den/2
	}
	return i
}

// length puts the parts together; false for what nobody would write.
func (i imperial) length() (measure.Length, bool) {
	switch i.den {
	case 1, 2, 4, 8, 16, 32, 64:
	default:
		return 0, false
	}
	if i.inches > 11 || i.num >= i.den && i.num > 0 {
		return 0, false
	}
	return measure.Length(i.feet)*measure.Foot + measure.Length(i.inches)*measure.Inch + measure.Length(i.num)*(measure.Inch/measure.Length(i.den)), true
}

func footInchSlips(l measure.Length) []slip {
	w := takeApart(l)
	out := wholeSlips(l, measure.Foot, 3, "one whole foot", " whole feet", rankFoot, wholeFeet)
	out = append(out, slip{"ten feet long", l - 10*measure.Foot, rankFoot, wholeFeet(10, true)}, slip{"ten feet short", l + 10*measure.Foot, rankFoot, wholeFeet(10, false)})
	out = append(out, slip{"one inch long, as when the tape is held at its 1 in mark", l - measure.Inch, rankInch, phrase.Of("slip.inch-long")}, slip{"one inch short", l + measure.Inch, rankInch, phrase.Of("slip.inch-short")})
	if l%measure.SixtyFourthInch != 0 {
		return out
	}
	add := func(words string, rank int, i imperial, say phrase.Phrase) {
		if m, ok := i.length(); ok {
			out = append(out, slip{words, m, rank, say})
		}
	}
	// Feet and inches are one row of digits to the hand that writes them.
	feet, inches := strconv.FormatInt(w.feet, 10), strconv.FormatInt(w.inches, 10)
	split := func(words string, rank int, digits []string, say phrase.Phrase) {
		for _, d := range digits {
			f, err1 := strconv.ParseInt(d[:len(feet)], 10, 64)
			n, err2 := strconv.ParseInt(d[len(feet):], 10, 64)
			if err1 == nil && err2 == nil {
				add(words, rank, imperial{f, n, w.num, w.den}, say)
			}
		}
	}
	split("two digits changed places", rankDigits, transposed(feet+inches), phrase.Of("slip.digits"))
	split("one digit misread for another like it", rankLookAlike, lookAlike(feet+inches), phrase.Of("slip.alike"))
	if w.feet <= 11 {
		add("feet and inches changed places", rankDigits, imperial{w.inches, w.feet, w.num, w.den}, phrase.Of("slip.feet-inches"))
	}
	for den := int64(2); den <= 32; den *= 2 {
		if w.num > 0 && w.num < den && den != w.den {
			add("the fraction misread, "+fraction(w.num, w.den)+" for "+fraction(w.num, den), rankSixteenth, imperial{w.feet, w.inches, w.num, den},
				phrase.Of("slip.fraction", called("read", fraction(w.num, w.den)), called("right", fraction(w.num, den))))
		}
	}
	if w.num > 0 {
		add("the fraction counted back from the next inch", rankSixteenth, imperial{w.feet, w.inches, w.den - w.num, w.den}, phrase.Of("slip.from-next"))
		add("the fraction counted back from the inch before", rankSixteenth, imperial{w.feet, w.inches - 1, w.den - w.num, w.den}, phrase.Of("slip.from-before"))
	}
	// 12.3 ft written as 12' 3": the inches are tenths of a foot.
	tenths := measure.Length(w.feet)*measure.Foot + (l%measure.Foot)*12/10
	if w.inches > 0 && w.inches < 10 {
		out = append(out, slip{"tenths of a foot written as inches", tenths, rankUnit, phrase.Of("slip.tenths")})
	}
	return out
}

func fraction(n, d int64) string { return strconv.FormatInt(n, 10) + "/" + strconv.FormatInt(d, 10) }

// transposed lists the digit rows got by changing two neighbours over.
func transposed(digits string) []string {
	var out []string
	for i := 0; i+1 < len(digits); i++ {
		if digits[i] != digits[i+1] {
			b := []byte(digits)
			b[i], b[i+1] = b[i+1], b[i]
			out = append(out, string(b))
		}
	}
	return out
}

// alikeDigit pairs the digits that are taken for each other: 6 and 9 on a tape
// read upside down, 1 and 7, 3 and 8 in handwriting.
var alikeDigit = map[byte]byte{'6': '9', '9': '6', '1': '7', '7': '1', '3': '8', '8': '3'}

// lookAlike lists the digit rows with one digit taken for another like it.
func lookAlike(digits string) []string {
	var out []string
	for i := range digits {
		if d, ok := alikeDigit[digits[i]]; ok {
			b := []byte(digits)
			b[i] = d
			out = append(out, string(b))
		}
	}
	return out
}
