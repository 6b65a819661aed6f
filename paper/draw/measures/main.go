// Command measures reads the fonts and writes measures.bin: how wide each
// character is and how far it reaches above and below the baseline, in font
// units. Drawing needs no more of a font, and a page that draws need not carry
// the fonts. It is run by go generate in the folder above.
package main

import (
	"encoding/binary"
	"fmt"
	"os"
	"unicode"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

func main() {
	var out []byte
	for _, ttf := range [][]byte{dejavusans.TTF, dejavusansbold.TTF, dejavusanscondensed.TTF} {
		var err error
		if out, err = face(out, ttf); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	if err := os.WriteFile("measures.bin", out, 0o644); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// face writes one face: units to the em, then runs of characters that follow one
// another. A run is how far it begins after the end of the one before, how many
// characters, and for each how advance, top and bottom differ from the character
// before; a run of none ends the face.
func face(out, ttf []byte) ([]byte, error) {
	ft, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, err
	}
	var buf sfnt.Buffer
	em := fixed.Int26_6(ft.UnitsPerEm()) // one 26.6 unit is one font unit
	out = binary.AppendUvarint(out, uint64(em))
	var run []byte
	var end, n, last rune
	var before [3]int64
	flush := func() {
		if n > 0 {
			out = binary.AppendUvarint(out, uint64(last+1-n-end))
			out = binary.AppendUvarint(out, uint64(n))
			out = append(out, run...)
			end = last + 1
		}
		run, n = run[:0], 0
	}
	for r := rune(0); r <= unicode.MaxRune; r++ {
		x, err := ft.GlyphIndex(&buf, r)
		if err != nil || x == 0 {
			continue
		}
		b, adv, err := ft.GlyphBounds(&buf, x, em, font.HintingNone)
		if err != nil {
			continue
		}
		if r != last+1 {
			flush()
		}
		now := [3]int64{int64(adv), -int64(b.Min.Y), -int64(b.Max.Y)}
		for i := range now {
			run = binary.AppendVarint(run, now[i]-before[i])
		}
		before, last = now, r
		n++
	}
	flush()
	return append(out, 0, 0), nil
}
