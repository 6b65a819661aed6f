package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Entry is one line of a job's notebook: what somebody typed on site, kept word
// for word, and what it was understood as. At most one of Width, Plumb, Reading,
// State, Spot and Crosses is set; with none of them it is a note, or a question
// left open.
// Entries are never changed, only added.
type Entry struct {
	ID    string // made by whoever wrote it, unlike any other
	At    string // when: RFC 3339 with the writer's offset from UTC
	By    string // who
	Asked string // the question it answers; empty where nobody asked
	Typed string // word for word

	Width   *WidthEntry
	Plumb   *PlumbEntry
	Reading *Reading
	State   *State
	Spot    *Spot        // a high spot of a floor that somebody found
	Crosses *Obstruction // something of the building that crosses a wall
	Note    string       // anything seen
	Place   string       // what a note is about: a bay, a run, a post
	Skip    bool         // the question was left open
}

// WidthEntry is a clear width read at one height of a bay.
type WidthEntry struct {
	document.Where `yaml:"-" json:"-"`

	Bay    string         `yaml:"bay,required" doc:"the bay, by name"`
	Height Height         `yaml:"height,required" doc:"bottom, middle or top"`
	Is     measure.Length `yaml:"is,required" doc:"what the tape showed"`
	From   Ends           `yaml:"from" doc:"of a whole front: webs (where left out) or faces"`
}

// Height is where on a bay its clear width was read.
type Height string

// The heights.
const (
	AtBottom Height = "bottom" // at the lowest board
	AtMiddle Height = "middle" // halfway up
	AtTop    Height = "top"    // at the highest board
)

// Allowed lists the heights.
func (Height) Allowed() []string { return []string{"bottom", "middle", "top"} }

// PlumbEntry is one number of a plumb reading: the height it was read over, or how
// far the top leans along or across the barn. All three make a reading.
type PlumbEntry struct {
	document.Where `yaml:"-" json:"-"`

	Post string         `yaml:"post,required" doc:"the post, by name"`
	Part PlumbPart      `yaml:"part,required" doc:"over, along or across"`
	Is   measure.Length `yaml:"is,required" doc:"what was read; the signs are a plumb reading's"`
}

// PlumbPart is one number of a plumb reading, by its key.
type PlumbPart string

// The numbers of a plumb reading.
const (
	PlumbOver   PlumbPart = "over"
	PlumbAlong  PlumbPart = "along"
	PlumbAcross PlumbPart = "across"
)

// Allowed lists the numbers of a plumb reading.
func (PlumbPart) Allowed() []string { return []string{"over", "along", "across"} }

// entryLine is an entry as it is written: one JSON object (RFC 8259) a line.
type entryLine struct {
	ID      string          `json:"id"`
	At      string          `json:"at"`
	By      string          `json:"by,omitempty"`
	Asked   string          `json:"asked,omitempty"`
	Typed   string          `json:"typed"`
	Width   json.RawMessage `json:"width,omitempty"`
	Plumb   json.RawMessage `json:"plumb,omitempty"`
	Reading json.RawMessage `json:"reading,omitempty"`
	State   json.RawMessage `json:"state,omitempty"`
	Spot    json.RawMessage `json:"spot,omitempty"`
	Crosses json.RawMessage `json:"crosses,omitempty"`
	Note    string          `json:"note,omitempty"`
	Place   string          `json:"place,omitempty"`
	Skip    bool            `json:"skip,omitempty"`
}

// MaxEntry is the longest line of a notebook that is read, in bytes.
const MaxEntry = 256 << 10

// EntryPlace goes before an entry's id where positions and sources name it.
const EntryPlace = "notebook entry "

// name is what positions and sources call the entry.
func (e *Entry) name() string { return EntryPlace + e.ID }

// Line writes an entry on one line, without the line's end. Entries that are equal
// give equal lines.
func (e *Entry) Line() ([]byte, error) {
	l := entryLine{ID: e.ID, At: e.At, By: e.By, Asked: e.Asked, Typed: e.Typed, Note: e.Note, Place: e.Place, Skip: e.Skip}
	if err := e.stamped(); err != nil {
		return nil, err
	}
	var err error
	put := func(to *json.RawMessage, v any, keep ...string) {
		if err == nil {
			*to, err = flow(v, keep...)
		}
	}
	if e.Width != nil {
		put(&l.Width, e.Width)
	}
	if e.Plumb != nil {
		put(&l.Plumb, e.Plumb)
	}
	// Who, when and what was seen stand in the entry itself.
	if e.Reading != nil {
		r := *e.Reading
		r.By, r.At, r.Note = "", "", ""
		put(&l.Reading, &r, readingNeeds[r.Kind()]...)
	}
	if e.State != nil {
		s := *e.State
		s.By, s.At, s.Note = "", "", ""
		put(&l.State, &s)
	}
	if e.Spot != nil {
		put(&l.Spot, e.Spot)
	}
	if e.Crosses != nil {
		o := *e.Crosses
		o.By, o.At, o.Note = "", "", ""
		put(&l.Crosses, &o)
	}
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(l); err != nil {
		return nil, err
	}
	line := bytes.TrimSuffix(buf.Bytes(), []byte("\n"))
	if len(line) > MaxEntry {
		return nil, fmt.Errorf("an entry of %d bytes is too long for the notebook: at most %d", len(line), MaxEntry)
	}
	return line, nil
}

// stamped says what an entry lacks to be told from others.
func (e *Entry) stamped() error {
	if strings.TrimSpace(e.ID) == "" || len(e.ID) > maxName || strings.ContainsFunc(e.ID, func(r rune) bool { return r <= ' ' || r > '~' }) {
		return fmt.Errorf("a notebook entry has an id of its own, of at most %d letters and digits; this one has %q", maxName, e.ID)
	}
	if _, err := time.Parse(time.RFC3339, e.At); err != nil {
		return fmt.Errorf("the notebook entry %s says when as %q; it should be like 2026-05-03T14:10:00+02:00", e.ID, e.At)
	}
	n := 0
	for _, on := range []bool{e.Width != nil, e.Plumb != nil, e.Reading != nil, e.State != nil, e.Spot != nil, e.Crosses != nil} {
		if on {
			n++
		}
	}
	if n > 1 {
		return fmt.Errorf("the notebook entry %s holds %d things; an entry holds one", e.ID, n)
	}
	return nil
}

// ReadEntry reads one line of a notebook. Keys that are not known, values out of
// range and things that do not belong together are refused; the error says what
// is wrong with the line.
func ReadEntry(line []byte) (Entry, error) {
	var l entryLine
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&l); err != nil {
		return Entry{}, fmt.Errorf("it is no entry of a notebook: %s", strings.TrimPrefix(err.Error(), "json: "))
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return Entry{}, errors.New("it is no entry of a notebook: something follows the entry")
	}
	e := Entry{ID: l.ID, At: l.At, By: l.By, Asked: l.Asked, Typed: l.Typed, Note: l.Note, Place: l.Place, Skip: l.Skip}
	err := e.stamped()
	take := func(text json.RawMessage, into any, check func(c *checker)) {
		if len(text) > 0 && err == nil {
			err = e.understand(text, into, check)
		}
	}
	if len(l.Width) > 0 {
		e.Width = new(WidthEntry)
		take(l.Width, e.Width, func(c *checker) { c.size(e.Width.Where, "is", "width", e.Width.Is, true) })
	}
	if len(l.Plumb) > 0 {
		e.Plumb = new(PlumbEntry)
		take(l.Plumb, e.Plumb, func(c *checker) {
			if e.Plumb.Part == PlumbOver {
				c.size(e.Plumb.Where, "is", "plumb", e.Plumb.Is, true)
			}
		})
	}
	if len(l.Reading) > 0 {
		e.Reading = new(Reading)
		take(l.Reading, e.Reading, func(c *checker) { c.reading(e.Reading, "reading") })
	}
	if len(l.State) > 0 {
		e.State = new(State)
		take(l.State, e.State, func(c *checker) { c.state(e.State, "state") })
	}
	if len(l.Spot) > 0 {
		e.Spot = new(Spot)
		take(l.Spot, e.Spot, func(c *checker) { c.spot(e.Spot, "spot") })
	}
	if len(l.Crosses) > 0 {
		e.Crosses = new(Obstruction)
		take(l.Crosses, e.Crosses, func(c *checker) { c.obstruction(e.Crosses, "crosses") })
	}
	if err == nil {
		err = e.stamped()
	}
	if err != nil {
		return Entry{}, err
	}
	e.sign()
	return e, nil
}

// understand reads what an entry was understood as, in the job's own terms: JSON
// with a blank behind each colon is YAML.
func (e *Entry) understand(text []byte, into any, check func(c *checker)) error {
	var yaml bytes.Buffer
	if err := json.Indent(&yaml, text, "", " "); err != nil {
		return err
	}
	r := document.NewReporter(e.name(), yaml.Bytes())
	if r.Read(into) {
		check(&checker{r: r, names: map[string]bool{}})
	}
	var ps document.Problems
	if errors.As(r.Err(), &ps) && len(ps) > 0 {
		return fmt.Errorf("%s: %s", e.name(), ps[0].Message)
	}
	return r.Err()
}

// sign puts who and when into what was understood, and gives it its place.
func (e *Entry) sign() {
	switch {
	case e.Width != nil:
		e.Width.Where = e.Width.Where.Named(e.name())
	case e.Plumb != nil:
		e.Plumb.Where = e.Plumb.Where.Named(e.name())
	case e.Reading != nil:
		e.Reading.Where = e.Reading.Where.Named(e.name())
		e.Reading.By, e.Reading.At, e.Reading.Note = e.By, e.At, e.Note
	case e.State != nil:
		e.State.Where = e.State.Where.Named(e.name())
		e.State.By, e.State.At, e.State.Note = e.By, e.At, e.Note
	case e.Spot != nil:
		e.Spot.Where = e.Spot.Where.Named(e.name())
	case e.Crosses != nil:
		e.Crosses.Where = e.Crosses.Where.Named(e.name())
		e.Crosses.By, e.Crosses.At, e.Crosses.Note = e.By, e.At, e.Note
	}
}

// instant is when an entry was written.
func (e *Entry) instant() time.Time {
	t, _ := time.Parse(time.RFC3339, e.At)
	return t
}

// InOrder puts entries in order, by time, then by id, each id once, whatever order
// they come in. Two entries of one id that are not alike were written by mistake:
// one counts, the same in any order, and the ids of such entries are returned too.
func InOrder(entries []Entry) (ordered []Entry, clashing []string) {
	text := map[string][]byte{} // of the entry of each id that counts
	best := map[string]Entry{}
	clash := map[string]bool{}
	for _, e := range entries {
		line, err := e.Line()
		if err != nil {
			continue // cannot be told from others: nobody can have read it
		}
		was, twice := text[e.ID]
		if twice && !bytes.Equal(was, line) {
			clash[e.ID] = true
		}
		if !twice || bytes.Compare(line, was) < 0 {
			text[e.ID], best[e.ID] = line, e
		}
	}
	for _, id := range sortedKeys(best) {
		ordered = append(ordered, best[id])
	}
	slices.SortStableFunc(ordered, func(a, b Entry) int { return a.instant().Compare(b.instant()) })
	return ordered, sortedKeys(clash)
}
