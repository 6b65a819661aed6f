package notebook

import (
	"crypto/rand"
	"encoding/base32"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"stallwright/engine/job"
)

// maxBytes is the largest notebook that is read: some two hundred thousand entries.
const maxBytes = 64 << 20

// Open reads the notebook in a file. One that is not there yet is an empty Book.
func Open(path string) (Book, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return Book{}, nil
	}
	if err != nil {
		return Book{}, err
	}
	defer f.Close()
	src, err := io.ReadAll(io.LimitReader(f, maxBytes+1))
	if err != nil {
		return Book{}, err
	}
	if len(src) > maxBytes {
		return Book{}, fmt.Errorf("the notebook %s is over %d MB: nobody writes that much; is it the right file?", path, maxBytes>>20)
	}
	return Read(src), nil
}

// NewID makes an id that no other entry has: 80 random bits.
func NewID() string {
	var b [10]byte
	_, _ = rand.Read(b[:]) // never fails: crypto/rand
	return strings.ToLower(base32.StdEncoding.EncodeToString(b[:]))
}

// Pen writes a notebook for one person.
type Pen struct {
	Path  string
	By    string
	Clock func() time.Time // the local time
	ID    func() string    // NewID where nil

	book Book
}

// NewPen opens a notebook for writing; the file is made by the first entry.
func NewPen(path, by string, clock func() time.Time) (*Pen, error) {
	b, err := Open(path)
	if err != nil {
		return nil, err
	}
	return &Pen{Path: path, By: by, Clock: clock, book: b}, nil
}

// Book is the notebook as it stands, what this pen wrote included.
func (p *Pen) Book() Book { return p.book }

// Append stamps an entry with an id, time and writer and writes it behind all
// others. It returns the entry as any reader of the file will see it. Where the
// error is not nil, nothing counts as written: what may stand of it in the file is
// a torn line.
func (p *Pen) Append(e job.Entry) (job.Entry, error) {
	id := p.ID
	if id == nil {
		id = NewID
	}
	e.ID, e.By = id(), p.By
	e.At, _ = p.book.Stamp(p.Clock())
	line, err := e.Line()
	if err != nil {
		return job.Entry{}, err
	}
	read, err := job.ReadEntry(line) // before it is written: what is written can be read
	if err != nil {
		return job.Entry{}, err
	}
	if err := appendLines(p.Path, line); err != nil {
		return job.Entry{}, err
	}
	p.book.Entries, p.book.Clashing = job.InOrder(append(p.book.Entries, read))
	p.book.Lines++
	return read, nil
}

// Join appends to a notebook the entries of another that it does not hold, and
// returns how many. The other is not changed.
func Join(path string, other Book) (int, error) {
	b, err := Open(path)
	if err != nil {
		return 0, err
	}
	have := map[string]bool{}
	for i := range b.Entries {
		line, err := b.Entries[i].Line()
		if err != nil {
			return 0, err
		}
		have[string(line)] = true
	}
	var lines [][]byte
	for i := range other.Entries {
		line, err := other.Entries[i].Line()
		if err != nil {
			return 0, err
		}
		if !have[string(line)] {
			lines = append(lines, line)
		}
	}
	if len(lines) == 0 {
		return 0, nil
	}
	return len(lines), appendLines(path, lines...)
}

// appendLines writes lines behind a file's last one and waits until the disk has
// them. A last line without an end is ended first, so that nothing is written into
// it.
func appendLines(path string, lines ...[]byte) (err error) {
	_, statErr := os.Lstat(path)
	f, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND|os.O_CREATE, 0o644)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	var buf []byte
	switch open, err := unended(f); {
	case err != nil:
		return err
	case open:
		buf = append(buf, '\n')
	}
	for _, l := range lines {
		buf = append(append(buf, l...), '\n')
	}
	if _, err := f.Write(buf); err != nil {
		return fmt.Errorf("the notebook %s could not be written: %w", path, err)
	}
	if err := f.Sync(); err != nil {
		return fmt.Errorf("the disk did not take the notebook %s: %w", path, err)
	}
	if errors.Is(statErr, fs.ErrNotExist) {
		return syncFolder(filepath.Dir(path))
	}
	return nil
}

// unended says whether a file's last line has no end.
func unended(f *os.File) (bool, error) {
	info, err := f.Stat()
	if err != nil || info.Size() == 0 {
		return false, err
	}
	var last [1]byte
	_, err = f.ReadAt(last[:], info.Size()-1)
	return last[0] != '\n', err
}

// syncFolder waits until the disk knows of a new file. Windows has no such call.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
