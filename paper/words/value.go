package words

import (
	"strconv"
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Value writes one value of a phrase; nil is a question mark.
func (w *Words) Value(v phrase.Value) string {
	switch v := v.(type) {
	case phrase.Name:
		return string(v)
	case phrase.Formula:
		return w.Formula(string(v))
	case phrase.Count:
		return w.Count(int64(v))
	case phrase.Length:
		return w.Length(measure.Length(v))
	case phrase.Mass:
		return w.Mass(measure.Mass(v))
	case phrase.Angle:
		return w.Angle(measure.Angle(v))
	case phrase.Time:
		return w.Time(int64(v))
	case phrase.Phrase:
		return w.Say(v)
	case phrase.List:
		return w.List(v)
	}
	return "?"
}

// Count writes a number of things: plain digits, with no sign between thousands
// that one crew could read as the decimal sign of another.
func (w *Words) Count(n int64) string { return strconv.FormatInt(n, 10) }

// Length writes a length as the job's tapes do: see measure.Length.In.
func (w *Words) Length(l measure.Length) string { return w.local(l.In(w.units)) }

// Mass writes a mass for loading and lifting, rounded up: see measure.Mass.ToLift.
func (w *Words) Mass(m measure.Mass) string { return w.local(m.ToLift(w.units)) }

// Angle writes an angle in degrees and tenths, rounded to the nearest.
func (w *Words) Angle(a measure.Angle) string {
	tenths, _ := measure.MulDiv(int64(a), 10, int64(measure.Degree), measure.Nearest)
	return w.Decimal(tenths, 1) + "°"
}

// Time writes a span of minutes as hours and minutes.
func (w *Words) Time(minutes int64) string {
	h, m := minutes/60, minutes%60
	switch {
	case h == 0:
		return w.Text("unit.minutes", phrase.With("minutes", phrase.Count(m)))
	case m == 0:
		return w.Text("unit.hours", phrase.With("hours", phrase.Count(h)))
	}
	return w.Text("unit.hours-minutes", phrase.With("hours", phrase.Count(h)), phrase.With("minutes", phrase.Count(m)))
}

// Decimal writes v·10^-places with the language's decimal sign, trailing zeros
// kept: Decimal(120, 1) is 12.0.
func (w *Words) Decimal(v int64, places int) string {
	if places <= 0 {
		return w.Count(v)
	}
	sign := ""
	digits := strconv.FormatInt(v, 10)
	if v < 0 {
		sign, digits = "-", digits[1:]
	}
	if short := places + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	at := len(digits) - places
	return sign + digits[:at] + w.decimal + digits[at:]
}

// List writes things one after the other, as the language lists them.
func (w *Words) List(items []phrase.Phrase) string {
	var said []string
	for _, p := range items {
		said = append(said, w.Say(p))
	}
	return w.Join(said)
}

// Join lists texts that are in the language already, or in none.
func (w *Words) Join(items []string) string {
	if len(items) == 0 {
		return ""
	}
	two := func(key, a, b string) string {
		return w.Text(key, phrase.With("a", phrase.Name(a)), phrase.With("b", phrase.Name(b)))
	}
	last := len(items) - 1
	out := items[0]
	for i := 1; i < last; i++ {
		out = two("list.more", out, items[i])
	}
	switch {
	case last == 1:
		out = two("list.two", out, items[1])
	case last > 1:
		out = two("list.last", out, items[last])
	}
	return out
}

// local puts the language's decimal sign into a number that the engine wrote.
func (w *Words) local(s string) string { return strings.ReplaceAll(s, ".", w.decimal) }

// decimalSign is CLDR's for a language and region.
func decimalSign(tag language.Tag) string {
	s := message.NewPrinter(tag).Sprint(number.Decimal(1.5, number.MinFractionDigits(1), number.MaxFractionDigits(1)))
	for _, sign := range []string{",", "٫"} {
		if strings.Contains(s, sign) {
			return sign
		}
	}
	return "."
}
