package pdf

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"

	"stallwright/paper/draw"
)

// text writes one text. Characters that the face lacks are shown as a box; where
// that makes the text wider than it was measured, it is set narrower.
func (p *printer) text(t draw.Text) {
	face := min(t.Face, draw.Condensed)
	shown := shownBy(face, visual(t.Text))
	if shown == "" {
		return
	}
	width := face.Extent(t.Text, t.Height).Width
	shift := draw.Micron(0)
	switch t.Anchor {
	case draw.Middle:
		shift = -(width + 1) / 2
	case draw.End:
		shift = -width
	}
	p.printf("BT /F%d %d Tf ", face, face.EmSize(t.Height))
	if t.Rotation%(360*draw.Degree) == 0 {
		p.printf("%d %d Td ", t.At.X+shift, t.At.Y)
	} else {
		// Six digits of sine and cosine: under a micrometre over a metre of text.
		const one = 1_000_000
		v := on(draw.PaperPoint{}, one, t.Rotation)
		p.printf("%s %s %s %s %d %d Tm %d 0 Td ", millionths(v.X), millionths(v.Y), millionths(-v.Y), millionths(v.X), t.At.X, t.At.Y, shift)
	}
	natural := face.Extent(shown, t.Height).Width
	if natural > width {
		p.printf("%d Tz ", width*100/natural)
	}
	p.out.WriteByte('<')
	for _, r := range shown {
		p.used.note(face, r)
		p.printf("%04X", r)
	}
	p.out.WriteString("> Tj")
	if natural > width {
		p.out.WriteString(" 100 Tz")
	}
	p.out.WriteString(" ET\n")
}

func millionths(m draw.Micron) string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return fmt.Sprintf("%s%d.%06d", sign, m/1_000_000, m%1_000_000)
}

// visual orders a line as it is seen from left to right, where some of it reads
// from right to left (Unicode Standard Annex 9, by golang.org/x/text).
func visual(s string) string {
	if !strings.ContainsFunc(s, func(r rune) bool {
		return r > 0x500 && unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko)
	}) {
		return s
	}
	var p bidi.Paragraph
	if _, err := p.SetString(s); err != nil {
		return s
	}
	o, err := p.Order()
	if err != nil {
		return s
	}
	var b strings.Builder
	for i := range o.NumRuns() {
		r := o.Run(i)
		if r.Direction() == bidi.RightToLeft {
			b.WriteString(bidi.ReverseString(r.String()))
		} else {
			b.WriteString(r.String())
		}
	}
	return b.String()
}
