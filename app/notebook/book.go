package notebook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"stallwright/engine/job"
)

// Suffix ends a notebook's name, in place of the job's own.
const Suffix = ".notes.jsonl"

// Path is the notebook beside a job file.
func Path(job string) string {
	return strings.TrimSuffix(job, filepath.Ext(job)) + Suffix
}

// Book is a notebook as read.
type Book struct {
	Entries  []job.Entry // in order of time, then id, each once
	Clashing []string    // ids of entries that are there twice and not alike
	Damaged  []Damage    // lines that are no entries, in order
	Lines    int         // entries as they stand in the file, repeated ones counted
}

// Damage is a line that is no entry.
type Damage struct {
	Line int    // from 1
	Text string // as it stands
	Why  string // what is wrong with it
	Torn bool   // it ends in the middle: whoever wrote it was cut off
}

// String tells a person.
func (d Damage) String() string {
	if d.Torn {
		return fmt.Sprintf("line %d was torn off in the middle and does not count: %s", d.Line, shorten(d.Text))
	}
	return fmt.Sprintf("line %d does not count, %s: %s", d.Line, d.Why, shorten(d.Text))
}

// shorten keeps the beginning of a long text, what a screen would not show spelt
// out.
func shorten(s string) string {
	const most = 60
	r := []rune(s)
	if len(r) > most {
		r = append(r[:most:most], '…')
	}
	return strconv.Quote(string(r))
}

// Read reads a notebook's bytes. Any bytes whatever give a Book.
func Read(src []byte) Book {
	var b Book
	var all []job.Entry
	for n := 1; len(src) > 0; n++ {
		line, rest, ended := bytes.Cut(src, []byte("\n"))
		src = rest
		line = bytes.TrimSuffix(line, []byte("\r"))
		if len(bytes.TrimSpace(line)) == 0 && !bytes.ContainsRune(line, 0) {
			continue
		}
		if len(line) > job.MaxEntry {
			b.Damaged = append(b.Damaged, Damage{Line: n, Text: string(line[:job.MaxEntry]), Why: "it is too long for an entry", Torn: !ended})
			continue
		}
		e, err := job.ReadEntry(line)
		if err != nil {
			b.Damaged = append(b.Damaged, Damage{Line: n, Text: string(line), Why: err.Error(), Torn: !json.Valid(line)})
			continue
		}
		b.Lines++
		all = append(all, e)
	}
	b.Entries, b.Clashing = job.InOrder(all)
	return b
}

// Merge puts the entries of several books together; the order of the books changes
// nothing in Entries and Clashing. Damage stays with the file it stands in and is
// not merged.
func Merge(books ...Book) Book {
	var all []job.Entry
	var clashing []string
	out := Book{}
	for _, b := range books {
		all = append(all, b.Entries...)
		clashing = append(clashing, b.Clashing...)
		out.Lines += b.Lines
	}
	var fresh []string
	out.Entries, fresh = job.InOrder(all)
	clashing = append(clashing, fresh...)
	slices.Sort(clashing)
	out.Clashing = slices.Compact(clashing)
	return out
}

// Last is when the latest entry was written; the zero time for an empty book.
func (b *Book) Last() time.Time {
	if len(b.Entries) == 0 {
		return time.Time{}
	}
	t, _ := time.Parse(time.RFC3339, b.Entries[len(b.Entries)-1].At)
	return t
}

// stampLayout is RFC 3339 to the microsecond, which two entries of one hand never
// share.
const stampLayout = "2006-01-02T15:04:05.000000Z07:00"

// Stamp says when an entry that comes behind all of the book's is written: now, or
// where the book is ahead of this clock, just after its last entry, so that what a
// person writes having seen the book counts after it. behind is how far the clock
// is behind the book, none where it is not.
func (b *Book) Stamp(now time.Time) (at string, behind time.Duration) {
	now = now.Truncate(time.Microsecond)
	if last := b.Last(); !now.After(last) {
		next := last.Truncate(time.Microsecond).Add(time.Microsecond)
		return next.In(now.Location()).Format(stampLayout), last.Sub(now)
	}
	return now.Format(stampLayout), 0
}
