package making

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"stallwright/paper/book"
	"stallwright/paper/packet"
	"stallwright/paper/views"
	"stallwright/paper/words"
)

// Paper says on what and in which language papers are made. The zero Paper is what
// the job itself says.
type Paper struct {
	Size     string // letter or a4
	Language string // en, es
}

// papers are what was made of a plan for one Paper. Each part is made when it is
// first asked for.
type papers struct {
	words  *words.Words
	sheets func() ([]views.Sheet, error)
	files  func() ([]packet.File, error)
	pdf    func() ([]byte, error)
}

// ErrPaper is a size or a language that there is none of.
var ErrPaper = errors.New("no such paper or language")

// on gives the papers of a plan for a Paper.
func (v *Made) on(p Paper) (*papers, error) {
	v.mu.Lock()
	defer v.mu.Unlock()
	if out, ok := v.papers[p]; ok {
		return out, nil
	}
	size, err := packet.PaperOf(p.Size)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrPaper, err)
	}
	lang := p.Language
	if lang == "" {
		lang = v.Plan.Job.Language
	}
	w, err := words.For(lang, v.Plan.Job.Units)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrPaper, err)
	}
	out := &papers{words: w}
	out.sheets = sync.OnceValues(func() (sheets []views.Sheet, err error) {
		defer guard(&err)
		return packet.Sheets(v.Plan, p.Size, w)
	})
	out.files = sync.OnceValues(func() (files []packet.File, err error) {
		defer guard(&err)
		sheets, err := out.sheets()
		if err != nil {
			return nil, err
		}
		files, err = packet.Files(v.Plan, packet.Options{Paper: p.Size, Words: w, Sheets: sheets})
		for _, f := range files {
			v.maker.grow(v, int64(len(f.Data)))
		}
		return files, err
	})
	out.pdf = sync.OnceValues(func() (data []byte, err error) {
		defer guard(&err)
		sheets, err := out.sheets()
		if err != nil {
			return nil, err
		}
		b, err := book.Make(v.Plan, w, book.Options{Paper: size, Drawings: sheets})
		if err != nil {
			return nil, err
		}
		data, err = b.PDF()
		v.maker.grow(v, int64(len(data)))
		return data, err
	})
	v.papers[p] = out
	return out, nil
}

// slot waits for a processor to make papers on.
func (v *Made) slot(ctx context.Context) (free func(), err error) {
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case v.maker.slots <- struct{}{}:
		return func() { <-v.maker.slots }, nil
	}
}

// begin gives the papers asked for and a processor to make them on.
func (v *Made) begin(ctx context.Context, p Paper) (on *papers, free func(), err error) {
	if on, err = v.on(p); err != nil {
		return nil, nil, err
	}
	free, err = v.slot(ctx)
	return on, free, err
}

// Files are the files of the packet, its PDF last.
func (v *Made) Files(ctx context.Context, p Paper) ([]packet.File, error) {
	on, free, err := v.begin(ctx, p)
	if err != nil {
		return nil, err
	}
	defer free()
	files, err := on.files()
	if err != nil {
		return nil, fault(err)
	}
	pdf, err := on.pdf()
	if err != nil {
		return nil, fault(err)
	}
	return append(files[:len(files):len(files)], packet.File{Name: packet.PDFName, Data: pdf}), nil
}

// Drawing is one sheet as a picture.
type Drawing struct {
	Name  string
	Title string
	SVG   []byte
}

// Drawings are the sheets.
func (v *Made) Drawings(ctx context.Context, p Paper) ([]Drawing, error) {
	on, free, err := v.begin(ctx, p)
	if err != nil {
		return nil, err
	}
	defer free()
	sheets, err := on.sheets()
	if err != nil {
		return nil, fault(err)
	}
	out := make([]Drawing, 0, len(sheets))
	for i := range sheets {
		out = append(out, Drawing{sheets[i].Name, sheets[i].Title, []byte(sheets[i].SVG())})
	}
	return out, nil
}

// Zip packs files. The same files give the same bytes.
func Zip(files []packet.File) ([]byte, error) {
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	for _, f := range files {
		// The oldest time a ZIP can hold: the same for all, since nothing here reads
		// the clock.
		h := &zip.FileHeader{Name: f.Name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)}
		to, err := w.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := to.Write(f.Data); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}
