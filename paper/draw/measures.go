package draw

import (
	_ "embed"
	"encoding/binary"
	"sort"
	"sync"
)

//go:generate go run ./measures

// measures is what drawing needs of the fonts; see the command measures.
//
//go:embed measures.bin
var measures []byte

// glyph holds the measures of one character in font units, y up.
type glyph struct {
	advance, top, bottom int64
}

// metrics are the measures of one face.
type metrics struct {
	em, cap   int64
	runs      []charRun
	otherwise glyph // of a character that another font will draw, at most an em wide
}

// charRun is characters that follow one another.
type charRun struct {
	first  rune
	glyphs []glyph
}

var faceMetrics = sync.OnceValue(func() (out [Condensed + 1]metrics) {
	from := reader(measures)
	for f := range out {
		out[f] = from.face()
	}
	return out
})

func (f Face) metrics() *metrics {
	all := faceMetrics()
	return &all[min(f, Condensed)]
}

// reader reads numbers off the front. A file that ends too soon is a broken build;
// it reads as zeros, which end every list.
type reader []byte

func (r *reader) count() int64 {
	v, n := binary.Uvarint(*r)
	*r = (*r)[max(n, 0):]
	return int64(v)
}

func (r *reader) step() int64 {
	v, n := binary.Varint(*r)
	*r = (*r)[max(n, 0):]
	return v
}

func (r *reader) face() metrics {
	m := metrics{em: r.count()}
	at := rune(0)
	var g glyph
	for {
		at += rune(r.count())
		n := r.count()
		if n == 0 {
			break
		}
		run := charRun{first: at, glyphs: make([]glyph, n)}
		for i := range run.glyphs {
			g.advance += r.step()
			g.top += r.step()
			g.bottom += r.step()
			run.glyphs[i] = g
		}
		m.runs = append(m.runs, run)
		at += rune(n)
	}
	m.otherwise = glyph{advance: m.em, top: m.em, bottom: -m.em / 4}
	m.cap = m.glyph('H').top
	return m
}

// glyph looks a character up.
func (m *metrics) glyph(r rune) glyph {
	i := sort.Search(len(m.runs), func(i int) bool { return m.runs[i].first > r }) - 1
	if i < 0 || int(r-m.runs[i].first) >= len(m.runs[i].glyphs) {
		return m.otherwise
	}
	return m.runs[i].glyphs[r-m.runs[i].first]
}
