package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"

	"stallwright/paper/draw"
)

// faces are the fonts of a document, by face.
var faces = [...]struct {
	style string // fpdf's name; it has no condensed style, so that one goes by italic
	name  string // six capitals say that a font holds only the characters used (ISO 32000-1, 9.6.4)
}{
	draw.Regular:   {"", "STALLA+DejaVuSans"},
	draw.Bold:      {"B", "STALLB+DejaVuSans-Bold"},
	draw.Condensed: {"I", "STALLC+DejaVuSansCondensed"},
}

// usage is the characters used of each face.
type usage struct{ of [len(faces)]map[rune]bool }

func newUsage() *usage {
	u := &usage{}
	for f := range u.of {
		u.of[f] = map[rune]bool{}
	}
	return u
}

func (u *usage) note(f draw.Face, r rune) { u.of[f][r] = true }

func (u *usage) add(o *usage) {
	for f := range o.of {
		for r := range o.of[f] {
			u.of[f][r] = true
		}
	}
}

// errFonts says that fpdf's objects are not as this package expects them: another
// version of it.
var errFonts = errors.New("the PDF library describes fonts in a way not known here")

// fonts writes the fonts: fpdf is made to write a document that holds the
// characters used, and the objects of its fonts are taken out of that.
func (d *document) fonts(used *usage) error {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: 100, Ht: 100}})
	doc.SetCatalogSort(true)
	for f, face := range faces {
		doc.AddUTF8FontFromBytes(fpdfFamily, face.style, draw.TTF(draw.Face(f)))
	}
	doc.AddPage()
	for f, face := range faces {
		doc.SetFont(fpdfFamily, face.style, 10)
		runes := make([]rune, 0, len(used.of[f]))
		for r := range used.of[f] {
			runes = append(runes, r)
		}
		slices.Sort(runes)
		doc.Text(0, 0, string(runes))
	}
	var buf bytes.Buffer
	if err := doc.Output(&buf); err != nil {
		return fmt.Errorf("subsetting fonts: %w", err)
	}
	objects, err := objectsOf(buf.Bytes())
	if err != nil {
		return err
	}
	for f, face := range faces {
		at := slices.IndexFunc(objects, func(o []byte) bool {
			return bytes.Contains(o, []byte("/Subtype /Type0\n/BaseFont /utf8"+fpdfFamily+face.style+"\n"))
		})
		if at < 0 || at+perFont > len(objects) {
			return errFonts
		}
		for k, o := range objects[at : at+perFont] {
			head, stream, isStream := bytes.Cut(o, []byte("stream\n"))
			text := strings.ReplaceAll(string(head), "/utf8"+fpdfFamily+face.style, "/"+face.name)
			text = reference.ReplaceAllStringFunc(text, func(s string) string {
				n, _ := strconv.Atoi(reference.FindStringSubmatch(s)[1])
				return fmt.Sprintf("%d 0 R", n-(at+1)+fontsNumber+f*perFont)
			})
			d.object(fontsNumber + f*perFont + k)
			d.out.WriteString(text)
			if isStream {
				d.out.WriteString("stream\n")
				d.out.Write(stream)
			}
		}
	}
	return nil
}

const fpdfFamily = "dejavu"

var (
	reference = regexp.MustCompile(`(\d+) 0 R`)
	tail      = regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`)
	offset    = regexp.MustCompile(`(?m)^(\d{10}) 00000 n `)
)

// objectsOf takes a document of fpdf apart: the text of each object, by number
// from 1, without its first line.
func objectsOf(data []byte) ([][]byte, error) {
	m := tail.FindSubmatch(data)
	if m == nil {
		return nil, errFonts
	}
	xref, err := strconv.Atoi(string(m[1]))
	if err != nil || xref >= len(data) {
		return nil, errFonts
	}
	var starts []int
	for _, v := range offset.FindAllSubmatch(data[xref:], -1) {
		n, _ := strconv.Atoi(string(v[1]))
		starts = append(starts, n)
	}
	order := slices.Clone(starts)
	slices.Sort(order)
	out := make([][]byte, len(starts))
	for i, start := range starts {
		end := xref
		if k, _ := slices.BinarySearch(order, start); k+1 < len(order) {
			end = order[k+1]
		}
		if start < 0 || start >= end || end > len(data) {
			return nil, errFonts
		}
		_, body, ok := bytes.Cut(data[start:end], []byte(" 0 obj\n"))
		if !ok {
			return nil, errFonts
		}
		out[i] = body
	}
	return out, nil
}

// box stands for a character that a face lacks.
const box = '□'

// glyphs tells which characters a face has.
type glyphs struct {
	once sync.Once
	mu   sync.Mutex
	font *sfnt.Font
	buf  sfnt.Buffer
	has  map[rune]bool
}

var known [len(faces)]glyphs

// shownBy replaces what a face cannot show. A PDF font of this kind holds the
// basic plane only.
func shownBy(f draw.Face, s string) string {
	g := &known[f]
	g.once.Do(func() {
		ft, err := sfnt.Parse(draw.TTF(f))
		if err != nil { // the file is compiled in, so this is a broken build
			panic("pdf: built-in font: " + err.Error())
		}
		g.font, g.has = ft, map[rune]bool{}
	})
	g.mu.Lock()
	defer g.mu.Unlock()
	return strings.Map(func(r rune) rune {
		has, ok := g.has[r]
		if !ok {
			i, err := g.font.GlyphIndex(&g.buf, r)
			has = err == nil && i != 0 && r <= 0xffff
			g.has[r] = has
		}
		if !has {
			return box
		}
		return r
	}, s)
}
