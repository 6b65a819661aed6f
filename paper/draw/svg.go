package draw

import (
	"fmt"
	"io"
	"strconv"
	"strings"
)

// WriteSVG writes the sheet as SVG 1.1: width and height in millimetres, user
// units of one millimetre, one group for each layer. The same sheet gives the
// same bytes. Numbers are printed from whole micrometres.
func (s *Sheet) WriteSVG(w io.Writer) error {
	_, err := io.WriteString(w, s.SVG())
	return err
}

// SVG returns the sheet as WriteSVG writes it.
func (s *Sheet) SVG() string {
	b := &svgWriter{height: s.Height}
	b.printf("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	b.printf("<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\" role=\"img\" aria-labelledby=\"title desc\">\n",
		mm(s.Width), mm(s.Height), mm(s.Width), mm(s.Height))
	b.printf("<title id=\"title\">%s</title>\n", escape(s.Title()))
	b.printf("<desc id=\"desc\">%s</desc>\n", escape(s.Description()))
	b.printf("<rect width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", mm(s.Width), mm(s.Height))
	b.printf("<g fill=\"none\" stroke=\"none\" stroke-linejoin=\"miter\" font-family=\"%s\">\n", families[Regular])
	ids := map[string]bool{}
	for _, layer := range s.Layers {
		marks := s.onLayer(layer)
		if len(marks) == 0 {
			continue
		}
		b.printf("<g id=\"%s\">\n", layerID(layer, ids))
		for _, m := range marks {
			b.mark(m)
		}
		b.printf("</g>\n")
	}
	b.printf("</g>\n</svg>\n")
	return b.String()
}

// families name the fonts of the faces, with wide-spread ones of like width
// behind; textLength keeps every text to its box with any of them.
var families = [...]string{
	Regular:   "'DejaVu Sans', Verdana, sans-serif",
	Bold:      "'DejaVu Sans', Verdana, sans-serif",
	Condensed: "'DejaVu Sans Condensed', 'DejaVu Sans', Verdana, sans-serif",
}

// layerID makes a layer's name an XML identifier, unlike those before it.
func layerID(name string, taken map[string]bool) string {
	id := "layer-" + strings.Map(func(r rune) rune {
		if r < 128 && (r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_') {
			return r
		}
		return '-'
	}, name)
	unique := id
	for n := 2; taken[unique]; n++ {
		unique = id + "-" + itoa(n)
	}
	taken[unique] = true
	return unique
}

type svgWriter struct {
	strings.Builder
	height Micron
}

func (b *svgWriter) printf(format string, args ...any) { fmt.Fprintf(&b.Builder, format, args...) }

// mm writes micrometres as millimetres, without needless zeros.
func mm(m Micron) string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return sign + thousandths(int64(m))
}

func thousandths(v int64) string {
	whole, rest := strconv.FormatInt(v/1000, 10), v%1000
	if rest == 0 {
		return whole
	}
	return whole + "." + strings.TrimRight(fmt.Sprintf("%03d", rest), "0")
}

// xy writes a point, turning y down as SVG has it.
func (b *svgWriter) xy(p PaperPoint) string { return mm(p.X) + " " + mm(b.height-p.Y) }

func (b *svgWriter) mark(m Mark) {
	switch m := m.(type) {
	case Stroke:
		b.stroke(m)
	case Curve:
		b.curve(m)
	case Text:
		b.text(m)
	}
}

func (b *svgWriter) stroke(s Stroke) {
	if len(s.Runs) == 0 || s.Pen.Weight == 0 && s.Fill.Kind == NoFill {
		return
	}
	b.printf("<path d=\"")
	for _, r := range s.Runs {
		for i, p := range r {
			b.printf("%c%s", "ML"[min(i, 1)], b.xy(p))
		}
		if s.Closed {
			b.printf("Z")
		}
	}
	b.printf("\"%s%s/>\n", fillStyle(s.Fill), penStyle(s.Pen))
}

func (b *svgWriter) curve(c Curve) {
	if c.Sweep >= 360*Degree {
		b.printf("<circle cx=\"%s\" cy=\"%s\" r=\"%s\"%s%s/>\n", mm(c.Centre.X), mm(b.height-c.Centre.Y), mm(c.Radius), fillStyle(c.Fill), penStyle(c.Pen))
		return
	}
	from, to := c.Ends()
	large := 0
	if c.Sweep > 180*Degree {
		large = 1
	}
	// Counter-clockwise on paper is the negative direction in SVG: sweep flag 0.
	b.printf("<path d=\"M%sA%s %s 0 %d 0 %s\"%s/>\n", b.xy(from), mm(c.Radius), mm(c.Radius), large, b.xy(to), penStyle(c.Pen))
}

func (b *svgWriter) text(t Text) {
	if t.Text == "" {
		return
	}
	b.printf("<text x=\"%s\" y=\"%s\" font-size=\"%s\"", mm(t.At.X), mm(b.height-t.At.Y), mm(t.Face.EmSize(t.Height)))
	if t.Rotation.turn() != 0 {
		b.printf(" transform=\"rotate(%s %s)\"", thousandths(int64((-t.Rotation).turn())), b.xy(t.At))
	}
	b.printf("%s", [...]string{Start: "", Middle: " text-anchor=\"middle\"", End: " text-anchor=\"end\""}[min(t.Anchor, End)])
	switch t.Face {
	case Bold:
		b.printf(" font-weight=\"bold\"")
	case Condensed:
		b.printf(" font-family=\"%s\" font-stretch=\"condensed\"", families[Condensed])
	}
	if utf := []rune(t.Text); len(utf) > 1 {
		b.printf(" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\"", mm(t.Face.measure(t.Text, t.Height).Width))
	}
	b.printf(" fill=\"#000\">%s</text>\n", escape(t.Text))
}

func grey(lightness uint8) string {
	v := int(min(lightness, 100)) * 255 / 100
	return fmt.Sprintf("#%02x%02x%02x", v, v, v)
}

func fillStyle(f Fill) string {
	switch f.Kind {
	case WhiteFill:
		return " fill=\"#fff\" fill-rule=\"evenodd\""
	case TintFill:
		return " fill=\"" + grey(f.Grey) + "\" fill-rule=\"evenodd\""
	}
	return ""
}

func penStyle(p Pen) string {
	if p.Weight <= 0 {
		return ""
	}
	out := " stroke=\"" + grey(min(p.Grey, 60)) + "\" stroke-width=\"" + mm(p.Weight) + "\""
	if pat := p.Type.Pattern(p.Weight); pat != nil {
		var parts []string
		for _, m := range pat {
			parts = append(parts, mm(m))
		}
		out += " stroke-dasharray=\"" + strings.Join(parts, " ") + "\""
	}
	return out
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// escape makes clean text safe in XML content and attributes. Escaping every >
// also breaks up ]]>.
func escape(s string) string { return escaper.Replace(s) }
