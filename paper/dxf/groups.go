package dxf

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"

	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// groups is a sequence of group codes with their values, a line each.
type groups struct{ bytes.Buffer }

func (g *groups) put(code int, value string) {
	fmt.Fprintf(&g.Buffer, "%3d\r\n%s\r\n", code, value)
}

func (g *groups) whole(code int, v int64) { g.put(code, strconv.FormatInt(v, 10)) }
func (g *groups) handle(code int, v int64) {
	g.put(code, strings.ToUpper(strconv.FormatInt(v, 16)))
}

// said writes text: characters beyond ASCII as \U+ and their code, which is how
// this release carries them.
func (g *groups) said(code int, s string) {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\\':
			b.WriteString(`\U+005C`)
		case r == '^':
			b.WriteString(`\U+005E`)
		case r == '%':
			b.WriteString(`\U+0025`)
		case r >= ' ' && r < 0x7f:
			b.WriteRune(r)
		case unicode.IsControl(r):
			b.WriteByte(' ')
		default:
			for _, u := range utf16.Encode([]rune{r}) {
				fmt.Fprintf(&b, `\U+%04X`, u)
			}
		}
	}
	g.put(code, b.String())
}

// decimal writes a number of n decimals, none of them lost.
func (g *groups) decimal(code int, v int64, n int) {
	sign := ""
	if v < 0 {
		sign, v = "-", -v
	}
	s := fmt.Sprintf("%0*d", n+1, v)
	s = s[:len(s)-n] + "." + strings.TrimRight(s[len(s)-n:], "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	g.put(code, sign+s)
}

func (g *groups) angle(code int, a draw.Angle) { g.decimal(code, int64(a), 3) }

// length writes a length in the file's unit: whole nanometres are six decimals
// of a millimetre; an inch is 25,400,000 of them, so that a billionth of it is
// 127/5000 nm.
func (f *file) length(g *groups, code int, l measure.Length) {
	if f.units == measure.Metric {
		g.decimal(code, int64(l), 6)
		return
	}
	v, _ := measure.MulDiv(int64(l), 5000, 127, measure.Nearest)
	g.decimal(code, v, 9)
}

// point writes a point as codes code, code+10 and code+20.
func (f *file) point(g *groups, code int, p draw.Point) {
	f.length(g, code, p.X)
	f.length(g, code+10, p.Y)
	g.put(code+20, "0.0")
}

// handles of what every file has, and the first of the rest.
const (
	paperSpace  = 0x1B
	modelSpace  = 0x1F
	plotStyle   = 0x0F
	firstHandle = 0x100
)

func (f *file) newHandle() int64 {
	f.next++
	return f.next - 1
}

// entity begins an entity.
func (c *canvas) entity(kind, layer string) {
	c.to.put(0, kind)
	c.to.handle(5, c.newHandle())
	c.to.handle(330, c.owner)
	c.to.put(100, "AcDbEntity")
	c.to.put(8, c.layer(layer))
}

// pen writes how an entity is drawn.
func (c *canvas) pen(p draw.Pen) {
	switch p.Type {
	case draw.Dashed:
		c.to.put(6, "DASHED")
	case draw.Chain:
		c.to.put(6, "CHAIN")
	}
	if p.Grey > 0 {
		c.to.whole(62, 8)
	}
	c.to.whole(370, weight(p.Weight))
}

// weight is the nearest of the format's line widths, in hundredths of a
// millimetre.
func weight(w draw.Weight) int64 {
	widths := []int64{0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100}
	best := widths[0]
	for _, v := range widths {
		if abs(v*10-int64(w)) < abs(best*10-int64(w)) {
			best = v
		}
	}
	return best
}

func abs(v int64) int64 { return max(v, -v) }
