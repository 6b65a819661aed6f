package document

import (
	"fmt"
	"slices"
	"strings"
)

// Pos is a place in a text. The zero Pos means unknown.
type Pos struct {
	File   string // name as given to Read
	Line   int    // from 1; 0 when unknown
	Column int    // from 1, counted in characters (code points); 0 when unknown
}

// IsZero says whether the place is unknown.
func (p Pos) IsZero() bool { return p == Pos{} }

// String gives "job.yaml:12:5", leaving out what is unknown; "" for the zero Pos.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	case p.File == "":
		return fmt.Sprintf("%d:%d", p.Line, p.Column)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Compare orders places by file, then line, then column. Unknown ones come first.
func (p Pos) Compare(q Pos) int {
	if c := strings.Compare(p.File, q.File); c != 0 {
		return c
	}
	if p.Line != q.Line {
		return p.Line - q.Line
	}
	return p.Column - q.Column
}

// Where remembers where a struct and its keys stood in the text. Embed it in a
// struct and Read fills it. The zero Where knows nothing and answers with zero
// places.
type Where struct{ at *places }

// places is shared by copies of a Where and never changed after reading.
type places struct {
	own  Pos
	keys []place // sorted by name
}

type place struct {
	name       string // width, or widths[2], or heights.left
	entry      string // left, for the entry of a map
	key, value Pos    // key is zero for list items
}

// Pos is where the struct itself starts: at its first key, or at its opening
// bracket, or at the plain value it was read from.
func (w Where) Pos() Pos {
	if w.at == nil {
		return Pos{}
	}
	return w.at.own
}

// Of is where the value of a key stands, or the struct's own place if the key was
// not written. Items of a list and entries of a map directly below the key have
// places too: Of("widths[2]"), Of("heights.left").
func (w Where) Of(key string) Pos {
	if p, ok := w.find(key); ok {
		return p.value
	}
	return w.Pos()
}

// KeyOf is where the key itself stands, or the struct's own place if it was not
// written.
func (w Where) KeyOf(key string) Pos {
	if p, ok := w.find(key); ok && !p.key.IsZero() {
		return p.key
	}
	return w.Pos()
}

// Has says whether the key was written.
func (w Where) Has(key string) bool {
	_, ok := w.find(key)
	return ok
}

// KeysOf lists the keys of a map below a key, in the order they were written.
func (w Where) KeysOf(key string) []string {
	if w.at == nil {
		return nil
	}
	var found []place
	for _, p := range w.at.keys {
		if rest, ok := strings.CutPrefix(p.name, key+"."); ok && !p.key.IsZero() && p.entry == rest {
			found = append(found, p)
		}
	}
	slices.SortFunc(found, func(a, b place) int { return a.key.Compare(b.key) })
	names := make([]string, len(found))
	for i, p := range found {
		names[i] = p.entry
	}
	return names
}

// Equal says whether both remember the same places.
func (w Where) Equal(v Where) bool {
	if w.at == nil || v.at == nil {
		return w.at == v.at
	}
	return w.at.own == v.at.own && slices.Equal(w.at.keys, v.at.keys)
}

func (w Where) find(name string) (place, bool) {
	if w.at == nil {
		return place{}, false
	}
	i, ok := slices.BinarySearchFunc(w.at.keys, name, func(p place, name string) int {
		return strings.Compare(p.name, name)
	})
	if !ok {
		return place{}, false
	}
	return w.at.keys[i], true
}
