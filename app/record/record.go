package record

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// Kind is what a record tells of.
type Kind string

// The kinds of records.
const (
	Note    Kind = "note"    // an entry of the job's notebook
	Cut     Kind = "cut"     // a board taken to the saw
	Step    Kind = "step"    // a step ticked off, or its tick removed
	Problem Kind = "problem" // anything that went wrong
	Void    Kind = "void"    // another record was a mistake
)

// Allowed lists the kinds.
func (Kind) Allowed() []string { return []string{"note", "cut", "step", "problem", "void"} }

// Bounds on one record.
const (
	MaxBytes = job.MaxEntry + 1024 // as JSON
	maxName  = 200                 // characters of a label, a step or a name
	maxText  = 4000                // characters of what a person writes
	maxList  = 400                 // pieces of one board, photos of one problem
	maxID    = 40                  // as in the notebook
	maxBoard = 500 * measure.Metre
)

// Record is one thing written down. Kind says which one of the parts is set.
type Record struct {
	ID   string `json:"id"`           // made by whoever wrote it, unlike any other
	At   string `json:"at"`           // when: RFC 3339 with the writer's offset from UTC
	By   string `json:"by,omitempty"` // who
	Kind Kind   `json:"kind"`

	Note    json.RawMessage `json:"note,omitempty"` // the notebook's line, as in docs/measure.md
	Cut     *CutBoard       `json:"cut,omitempty"`
	Step    *Tick           `json:"step,omitempty"`
	Problem *Trouble        `json:"problem,omitempty"`
	Void    *Voided         `json:"void,omitempty"`
}

// CutBoard is a board, or a bar of steel, that was cut: which good pieces it gave
// and what of it is left to use. It says what happened, not which ticket was
// worked on, so that it stays true when the plan changes.
type CutBoard struct {
	Item     string  `json:"item"`                // of the kit; board for boards
	Treated  bool    `json:"treated,omitempty"`   //
	LengthNM int64   `json:"length_nm"`           // as bought, or of the offcut it was
	FromRack bool    `json:"from_rack,omitempty"` // it was an offcut on hand, not a bought length
	Good     []Piece `json:"good,omitempty"`      // pieces that are right
	Wrong    bool    `json:"wrong,omitempty"`     // something was cut wrong
	RestNM   []int64 `json:"rest_nm,omitempty"`   // what is left of it and kept
	Note     string  `json:"note,omitempty"`
}

// Piece is a good piece, by the label it carries.
type Piece struct {
	Label    string `json:"label"`
	LengthNM int64  `json:"length_nm"`
}

// Tick says that a step is done, or is not done after all.
type Tick struct {
	Step string `json:"step"` // its id in the plan
	Done bool   `json:"done"`
	Note string `json:"note,omitempty"`
}

// Trouble is something that went wrong, or a question.
type Trouble struct {
	Step   string   `json:"step,omitempty"`  // the step it came up in
	Place  string   `json:"place,omitempty"` // a bay, a post, a piece
	Text   string   `json:"text"`
	Photos []string `json:"photos,omitempty"` // ids of photos
	Solved bool     `json:"solved,omitempty"` // it says that the trouble at that place is over
}

// Voided names a record that was a mistake.
type Voided struct {
	Record string `json:"record"`
}

// Read reads one record and checks it. The error is a sentence for a person.
func Read(line []byte) (Record, error) {
	var r Record
	if len(line) > MaxBytes {
		return r, fmt.Errorf("a record of %d bytes is too long: at most %d", len(line), MaxBytes)
	}
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&r); err != nil {
		return Record{}, fmt.Errorf("it is no record: %s", strings.TrimPrefix(err.Error(), "json: "))
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return Record{}, errors.New("it is no record: something follows it")
	}
	if err := r.Check(); err != nil {
		return Record{}, err
	}
	return r, nil
}

// Check says what is wrong with a record, and puts a note's line into its one
// form. A note's own id, time and writer count.
func (r *Record) Check() error {
	if r.Kind == Note {
		e, err := job.ReadEntry(r.Note)
		if err != nil {
			return err
		}
		if err := clean("the note", e.Typed+e.Note+e.By+e.Place+e.Asked, job.MaxEntry); err != nil {
			return err
		}
		if r.ID != "" && r.ID != e.ID || r.At != "" && r.At != e.At || r.By != "" && r.By != e.By {
			return fmt.Errorf("the record %s and the note inside it do not agree on id, at and by", r.ID)
		}
		if r.Note, err = e.Line(); err != nil {
			return err
		}
		r.ID, r.At, r.By = e.ID, e.At, e.By
	}
	if err := r.stamped(); err != nil {
		return err
	}
	if n, kind := r.parts(); n != 1 || kind != r.Kind {
		return fmt.Errorf("the record %s is a %s and must hold %q and nothing else", r.ID, r.Kind, r.Kind)
	}
	switch r.Kind {
	case Cut:
		return r.Cut.check()
	case Step:
		return errors.Join(named("step", r.Step.Step), clean("the note", r.Step.Note, maxText))
	case Problem:
		return r.Problem.check()
	case Void:
		if r.Void.Record == r.ID {
			return errors.New("a record cannot take itself back")
		}
		return checkID(r.Void.Record)
	}
	return nil
}

// parts counts what a record holds, and names the last.
func (r *Record) parts() (n int, kind Kind) {
	for _, p := range []struct {
		on   bool
		kind Kind
	}{{len(r.Note) > 0, Note}, {r.Cut != nil, Cut}, {r.Step != nil, Step}, {r.Problem != nil, Problem}, {r.Void != nil, Void}} {
		if p.on {
			n, kind = n+1, p.kind
		}
	}
	return n, kind
}

func (r *Record) stamped() error {
	if err := checkID(r.ID); err != nil {
		return err
	}
	at, err := time.Parse(time.RFC3339, r.At)
	if err != nil || at.Year() < 2000 || at.Year() > 9000 {
		return fmt.Errorf("the record %s says when as %q; it should be like 2026-05-03T14:10:00+02:00", r.ID, r.At)
	}
	return clean("by", r.By, maxName)
}

func checkID(id string) error {
	if id == "" || len(id) > maxID || strings.ContainsFunc(id, func(c rune) bool { return c <= ' ' || c > '~' }) {
		return fmt.Errorf("a record has an id of its own, of at most %d letters and digits; this one has %q", maxID, id)
	}
	return nil
}

// named checks a name that must be there.
func named(what, s string) error {
	if strings.TrimSpace(s) == "" {
		return fmt.Errorf("%s is empty", what)
	}
	return clean(what, s, maxName)
}

// clean refuses text that is too long or that a screen would act on.
func clean(what, s string, most int) error {
	if utf8.RuneCountInString(s) > most {
		return fmt.Errorf("%s is longer than %d characters", what, most)
	}
	if !utf8.ValidString(s) || strings.ContainsFunc(s, func(c rune) bool {
		return unicode.IsControl(c) && c != '\n' && c != '\t' && c != '\r' || c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069
	}) {
		return fmt.Errorf("%s holds a character that cannot be seen", what)
	}
	return nil
}

func (c *CutBoard) check() error {
	if err := errors.Join(named("item", c.Item), clean("the note", c.Note, maxText)); err != nil {
		return err
	}
	if len(c.Good) > maxList || len(c.RestNM) > maxList {
		return fmt.Errorf("no board gives more than %d pieces", maxList)
	}
	if c.LengthNM <= 0 || c.LengthNM > int64(maxBoard) {
		return fmt.Errorf("no board is %s long", measure.Length(c.LengthNM))
	}
	sum := int64(0)
	for _, p := range c.Good {
		if err := named("a piece's label", p.Label); err != nil {
			return err
		}
		if p.LengthNM <= 0 || p.LengthNM > c.LengthNM {
			return fmt.Errorf("the piece %s is %s long, out of a board of %s", p.Label, measure.Length(p.LengthNM), measure.Length(c.LengthNM))
		}
		sum += p.LengthNM
	}
	for _, l := range c.RestNM {
		if l <= 0 || l > c.LengthNM {
			return fmt.Errorf("a rest of %s is not left of a board of %s", measure.Length(l), measure.Length(c.LengthNM))
		}
		sum += l
	}
	if sum > c.LengthNM {
		return fmt.Errorf("the pieces and rests are %s together, more than the board of %s", measure.Length(sum), measure.Length(c.LengthNM))
	}
	return nil
}

func (p *Trouble) check() error {
	if len(p.Photos) > maxList {
		return fmt.Errorf("a problem holds at most %d photos", maxList)
	}
	for _, id := range p.Photos {
		if err := checkID(id); err != nil {
			return err
		}
	}
	if strings.TrimSpace(p.Text) == "" && len(p.Photos) == 0 && !p.Solved {
		return errors.New("a problem needs a text or a photo")
	}
	return errors.Join(clean("the text", p.Text, maxText), clean("step", p.Step, maxName), clean("place", p.Place, maxName))
}

// Line writes a record in its one form: equal records give equal lines.
func (r *Record) Line() ([]byte, error) {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(r); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(buf.Bytes(), []byte("\n")), nil
}

// Instant is when a record was written.
func (r *Record) Instant() time.Time {
	t, _ := time.Parse(time.RFC3339, r.At)
	return t
}

// InOrder sorts records by time, then id, then text, each once, and leaves out
// those that were taken back, whatever order they come in. Two that share an id
// and are not alike both stay, since both were written by somebody; what follows
// from them must not depend on which is looked at first.
func InOrder(records []Record) []Record {
	type keyed struct {
		r    Record
		line string
	}
	var all []keyed
	void := map[string]bool{}
	seen := map[string]bool{}
	for _, r := range records {
		line, err := r.Line()
		if err != nil || seen[string(line)] {
			continue
		}
		seen[string(line)] = true
		if r.Kind == Void {
			void[r.Void.Record] = true
		}
		all = append(all, keyed{r, string(line)})
	}
	slices.SortFunc(all, func(a, b keyed) int {
		return cmp.Or(a.r.Instant().Compare(b.r.Instant()), cmp.Compare(a.r.ID, b.r.ID), cmp.Compare(a.line, b.line))
	})
	var out []Record
	for _, k := range all {
		if k.r.Kind != Void && (k.r.Kind == Note || !void[k.r.ID]) {
			out = append(out, k.r)
		}
	}
	return out
}

// Entries are the notebook's entries among records, in no particular order: the
// job's own reader orders them.
func Entries(records []Record) []job.Entry {
	var out []job.Entry
	for i := range records {
		if records[i].Kind != Note {
			continue
		}
		if e, err := job.ReadEntry(records[i].Note); err == nil {
			out = append(out, e)
		}
	}
	return out
}
