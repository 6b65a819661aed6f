package draw

import "fmt"

// Wording is the words that a sheet writes by itself, in the language of those
// who read it. A field left empty is in English.
type Wording struct {
	Job, Title, Date, Revision, State, Sheet string                      // over the fields of the title block
	Scale, ScaleUnit                         string                      // over the scale's field; ScaleUnit where dimensions are in mm without saying so
	AsShown, NotToScale, FullSize, HalfSize  string                      // scales in words
	Notes, Key                               string                      // headings
	Note                                     string                      // before each note in the sheet's description
	Of                                       func(number, of int) string // 2 of 5
	SheetOf                                  func(number, of int) string // sheet 2 of 5; of is 0 where it is not known
}

// or is the word, or the English one where there is none.
func or(word, english string) string {
	if word == "" {
		return english
	}
	return word
}

// of writes which sheet this is.
func (w *Wording) of(number, of int) string {
	switch {
	case number <= 0:
		return ""
	case of <= 0:
		return itoa(number)
	case w.Of == nil:
		return fmt.Sprintf("%d of %d", number, of)
	}
	return w.Of(number, of)
}

// sheetOf names the sheet by its number.
func (w *Wording) sheetOf(number, of int) string {
	switch {
	case number <= 0:
		return ""
	case w.SheetOf != nil:
		return w.SheetOf(number, of)
	}
	return "sheet " + w.of(number, of)
}

// scale is the scale's words: its ratio as it is, what is said in words in the
// sheet's language.
func (w *Wording) scale(words string) string {
	switch words {
	case wordsNotToScale:
		return or(w.NotToScale, words)
	case wordsFullSize:
		return or(w.FullSize, words)
	case wordsHalfSize:
		return or(w.HalfSize, words)
	}
	return words
}

// Scales in words.
const (
	wordsNotToScale = "not to scale"
	wordsFullSize   = "full size"
	wordsHalfSize   = "half size"
)
