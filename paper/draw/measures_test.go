package draw

import (
	"testing"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Every character of the fonts, and every one they lack, measures as the font
// files themselves say, read by golang.org/x/image/font/sfnt.
func TestMeasuresAreThoseOfTheFonts(t *testing.T) {
	for _, f := range []Face{Regular, Bold, Condensed} {
		ft, err := sfnt.Parse(TTF(f))
		if err != nil {
			t.Fatal(err)
		}
		m := f.metrics()
		if m.em != int64(ft.UnitsPerEm()) {
			t.Fatalf("face %d: em %d, want %d; run go generate", f, m.em, ft.UnitsPerEm())
		}
		var buf sfnt.Buffer
		met := 0
		for r := rune(0); r <= unicode.MaxRune; r++ {
			want := glyph{advance: m.em, top: m.em, bottom: -m.em / 4}
			if x, err := ft.GlyphIndex(&buf, r); err == nil && x != 0 {
				if b, adv, err := ft.GlyphBounds(&buf, x, fixed.Int26_6(m.em), font.HintingNone); err == nil {
					want = glyph{int64(adv), -int64(b.Min.Y), -int64(b.Max.Y)}
					met++
				}
			}
			if got := m.glyph(r); got != want {
				t.Fatalf("face %d: %U measures %v, want %v; run go generate", f, r, got, want)
			}
		}
		if met < 4000 {
			t.Errorf("face %d: only %d characters met", f, met)
		}
	}
}
