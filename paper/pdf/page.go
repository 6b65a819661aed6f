package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"runtime"
	"sync"

	"stallwright/paper/draw"
)

// pageObjects is a page's size in points, as written.
type pageObjects struct{ wide, high string }

func (d *document) printf(format string, args ...any) { fmt.Fprintf(&d.out, format, args...) }

// points are a length in points of 1/72 in, to a hundredth.
func points(m draw.Micron) string {
	v := (int64(m)*7200 + 12_700) / 25_400
	return fmt.Sprintf("%d.%02d", v/100, v%100)
}

// pages draws and packs every page, several at a time, and writes them in order.
// It returns the characters used of each face.
func (d *document) pages(pages []Page) *usage {
	type packed struct {
		data []byte
		used *usage
	}
	out := make([]chan packed, len(pages))
	for i := range out {
		out[i] = make(chan packed, 1)
	}
	n := min(runtime.GOMAXPROCS(0), len(pages))
	next := make(chan int)
	ahead := make(chan struct{}, 4*n) // so many may be packed and not yet written
	var wait sync.WaitGroup
	for range n {
		wait.Go(func() {
			p := newPrinter()
			for i := range next {
				data := p.pack(pages[i].Sheet)
				out[i] <- packed{data, p.used}
			}
		})
	}
	go func() {
		for i := range pages {
			ahead <- struct{}{}
			next <- i
		}
		close(next)
	}()
	all := newUsage()
	seen := map[*usage]bool{}
	for i := range pages {
		v := <-out[i]
		<-ahead
		seen[v.used] = true
		s := pages[i].Sheet
		d.sizes = append(d.sizes, pageObjects{points(s.Width), points(s.Height)})
		d.object(pageObject(i))
		d.printf("<</Type/Page/Parent %d 0 R/MediaBox[0 0 %s %s]/Contents %d 0 R/Resources<</Font<<", pagesNumber, points(s.Width), points(s.Height), pageObject(i)+1)
		for f := range faces {
			d.printf("/F%d %d 0 R", f, fontsNumber+f*perFont)
		}
		d.printf(">>>>>>\nendobj\n")
		d.object(pageObject(i) + 1)
		d.stream("/Filter/FlateDecode", v.data)
	}
	wait.Wait()
	for u := range seen { // into a set: their order does not matter
		all.add(u)
	}
	return all
}

// stream writes a stream object's body.
func (d *document) stream(more string, data []byte) {
	d.printf("<</Length %d%s>>\nstream\n", len(data), more)
	d.out.Write(data)
	d.printf("\nendstream\nendobj\n")
}

// printer draws sheets one after the other. Everything on a page is written in
// whole micrometres, under one matrix that makes them points.
type printer struct {
	out  bytes.Buffer
	zip  *zlib.Writer
	used *usage
}

func newPrinter() *printer {
	z, err := zlib.NewWriterLevel(nil, packLevel)
	if err != nil { // the level is a constant
		panic("pdf: " + err.Error())
	}
	return &printer{zip: z, used: newUsage()}
}

// packLevel trades time for size: what lies beyond it saves little of drawings.
const packLevel = 4

// pack is a page's content, packed.
func (p *printer) pack(s *draw.Sheet) []byte {
	p.draw(s)
	var b bytes.Buffer
	b.Grow(p.out.Len() / 4)
	p.zip.Reset(&b)
	_, _ = p.zip.Write(p.out.Bytes()) // a bytes.Buffer takes every write
	_ = p.zip.Close()
	return b.Bytes()
}

// draw writes a page's content.
func (p *printer) draw(s *draw.Sheet) {
	p.out.Reset()
	// 72/25400 to ten digits: a micrometre is off by less than 1e-9 of itself.
	p.printf("0.002834645669 0 0 0.002834645669 0 0 cm\n")
	for _, layer := range layered(s) {
		for _, m := range layer {
			switch m := m.(type) {
			case draw.Stroke:
				p.stroke(m)
			case draw.Curve:
				p.curve(m)
			case draw.Text:
				p.text(m)
			}
		}
	}
}

// layered sorts a sheet's marks by layer, in painting order; those on no known
// layer come last, as they were added.
func layered(s *draw.Sheet) [][]draw.Mark {
	at := make(map[string]int, len(s.Layers))
	for i, l := range s.Layers {
		at[l] = i
	}
	out := make([][]draw.Mark, len(s.Layers)+1)
	for _, m := range s.Marks {
		i, ok := at[m.OnLayer()]
		if !ok {
			i = len(s.Layers)
		}
		out[i] = append(out[i], m)
	}
	return out
}

func (p *printer) printf(format string, args ...any) { fmt.Fprintf(&p.out, format, args...) }
