package draw

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Heights of text (of its capital letters) after ISO 3098-0 (second-hand).
const (
	MinText   Micron = 2500 // dimensions, labels, notes
	Text35    Micron = 3500 // captions, title block
	Text50    Micron = 5000 // sheet title
	Text70    Micron = 7000
	spacing10        = 16 // baselines lie 1.6 h apart; ISO 3098-0 asks for 1.5 h or more without accents
)

// Face is a cut of the DejaVu Sans type.
type Face uint8

// The faces. Condensed is used where the regular one is too wide.
const (
	Regular Face = iota
	Bold
	Condensed
)

// extent is the size of one line of text: its advance width, and how far its
// ink may reach above and below the baseline.
type extent struct{ Width, Up, Down Micron }

// measure gives the size of a line of clean text whose capitals are h high.
// Widths are without kerning and rounded up.
func (f Face) measure(s string, h Micron) extent {
	m := f.metrics()
	top, bottom, width := m.cap, int64(0), int64(0)
	for _, r := range s {
		g := m.glyph(r)
		width += g.advance
		top, bottom = max(top, g.top), min(bottom, g.bottom)
		if unicode.Is(unicode.M, r) { // marks may stack
			top, bottom = max(top, m.em*5/4), min(bottom, -m.em/2)
		}
	}
	up := func(units int64) Micron { return Micron((units*int64(h) + m.cap - 1) / m.cap) }
	return extent{up(width), up(top), up(-bottom)}
}

// EmSize is the size a renderer calls font size (the em) for capitals h high.
func (f Face) EmSize(h Micron) Micron {
	m := f.metrics()
	return Micron(divRound(m.em*int64(h), m.cap))
}

// noBreak is the space at which no line is broken, as between number and unit.
const noBreak = '\u00a0'

func words(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ' ' })
}

// clean makes one line of text safe to print and to measure: control
// characters become spaces, format characters that could hide or turn text
// are dropped, broken UTF-8 becomes U+FFFD, and marks may not pile up.
func clean(s string) string {
	var b strings.Builder
	marks := 0
	for _, r := range s {
		if unicode.Is(unicode.M, r) {
			marks++
		} else {
			marks = 0
		}
		switch {
		case r == noBreak:
			b.WriteRune(r)
		case unicode.IsControl(r) || unicode.IsSpace(r):
			b.WriteByte(' ')
		case unicode.Is(unicode.Cf, r) || marks > 2:
		case r&0xfffe == 0xfffe || unicode.Is(unicode.Co, r):
			b.WriteRune(utf8.RuneError)
		default:
			b.WriteRune(r)
		}
	}
	return strings.Join(words(b.String()), " ") // SVG collapses spaces too
}

// lines splits text at its line feeds and cleans each line. There is always at
// least one line.
func lines(s string) []string {
	out := strings.Split(strings.TrimRight(s, "\r\n"), "\n")
	for i := range out {
		out[i] = clean(out[i])
	}
	return out
}

// unbroken joins words that must stand on one line: the parts of a length, and a
// number with its unit. A crew that reads 4 1/2" where 7' 4 1/2" stood cuts wrong.
func unbroken(words []string) []string {
	var out []string
	for i, w := range words {
		if i > 0 && belong(words[i-1], w) {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// belong says whether b goes on with the length or the number that a ends in.
func belong(a, b string) bool {
	end := a[len(a)-1]
	if end != '\'' && (end < '0' || end > '9') {
		return false
	}
	b = strings.TrimRight(b, ".,;:)")
	switch b {
	case "mm", "cm", "m", "m²", "m³", "ft²", "ft³", "yd³", "kg", "lb", "min", "°":
		return true
	}
	return b != "" && b[0] >= '0' && b[0] <= '9' && (end == '\'' || strings.HasSuffix(b, "\"") || strings.Contains(b, "/"))
}

// wrap breaks text into lines no wider than width, between words where it can.
func wrap(s string, f Face, h, width Micron) []string {
	var out []string
	for _, para := range lines(s) {
		line := ""
		for _, word := range unbroken(words(para)) {
			longer := strings.TrimSpace(line + " " + word)
			if f.measure(longer, h).Width <= width {
				line = longer
				continue
			}
			if line != "" {
				out = append(out, line)
			}
			for line = word; line != "" && f.measure(line, h).Width > width; {
				n := f.prefix(line, h, width)
				out = append(out, line[:n])
				line = line[n:]
			}
		}
		out = append(out, line)
	}
	return out
}

// prefix is the number of bytes of s that fit in width, at least one rune.
func (f Face) prefix(s string, h, width Micron) int {
	m := f.metrics()
	sum := int64(0)
	for i, r := range s {
		sum += m.glyph(r).advance
		if i > 0 && sum*int64(h) > int64(width)*m.cap {
			return i
		}
	}
	return len(s)
}
