package draw

// Extent is the room that one line of text takes: its advance width, and how
// far its ink may reach above and below the baseline, in micrometres.
type Extent struct{ Width, Up, Down Micron }

// Extent measures a line of clean text whose capitals are h high, without
// kerning and rounded up, as Lay does: for those who set text on sheets of their
// own.
func (f Face) Extent(s string, h Micron) Extent { return Extent(f.measure(s, h)) }

// Wrap breaks text into clean lines no wider than width, between words where it
// can and inside a word where it must. A line feed starts a new line. There is
// always at least one line.
func Wrap(s string, f Face, h, width Micron) []string { return wrap(s, f, h, width) }

// Clean makes one line of text safe to print and to measure: no control or
// format characters, no broken UTF-8, no piles of marks.
func Clean(s string) string { return clean(s) }

// Unbroken parts a clean line where Wrap may break it: words, but lengths and
// numbers with their units stay whole.
func Unbroken(s string) []string { return unbroken(words(s)) }
