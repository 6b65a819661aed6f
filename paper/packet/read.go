package packet

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"sync"
	"unicode/utf8"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// MaxBytes is the largest plan.json that Read accepts: some thousand stalls.
const MaxBytes = 128 << 20

// Read reads a plan.json back. Nothing in it is trusted: what Document does not
// know, a key written twice or missing, a value of the wrong kind, a reference
// to what is not there, sums that do not add up and characters nobody can see
// are refused. The error is document.Problems, each with its line and column.
//
// The texts beside exact values (clear beside clear_nm) are read but bind
// nobody: whoever shows a length shows the exact one.
func Read(file string, src []byte) (*Document, error) {
	r := &reader{file: file, src: src}
	d := r.read()
	if len(r.faults) == 0 {
		return d, nil
	}
	if len(src) > MaxBytes {
		src = nil
	}
	report := document.NewReporter(file, src)
	for _, f := range r.faults {
		report.Add(r.pos(f.at), f.path, f.text, f.message, f.hint)
	}
	return nil, report.Err()
}

// again is what helps against almost anything wrong with a plan.json.
const again = "nobody needs to edit a plan.json: plan the job again"

// fault is one mistake at a byte of the text; at is -1 where it has no place.
type fault struct {
	at                        int
	path, text, message, hint string
}

// reader reads one plan.json.
type reader struct {
	file   string
	src    []byte
	dec    *json.Decoder
	faults []fault
	want   map[string]int // places asked for, by path; filled by a second walk
}

func (r *reader) add(at int, path, text, message, hint string) {
	if len(r.faults) < 2*document.MaxProblems {
		r.faults = append(r.faults, fault{at, path, text, message, hint})
	}
}

// pos turns a byte offset into line and column.
func (r *reader) pos(at int) document.Pos {
	if at < 0 || at > len(r.src) {
		return document.Pos{File: r.file}
	}
	before := r.src[:at]
	start := bytes.LastIndexByte(before, '\n') + 1
	return document.Pos{File: r.file, Line: bytes.Count(before, []byte("\n")) + 1, Column: utf8.RuneCount(before[start:]) + 1}
}

func (r *reader) read() *Document {
	switch {
	case len(r.src) > MaxBytes:
		r.add(-1, "", "", fmt.Sprintf("the plan is too long: %d MB, and at most %d MB can be read", len(r.src)>>20, MaxBytes>>20), "check that it is the right file")
		return nil
	case !utf8.Valid(r.src):
		at := 0
		for at < len(r.src) {
			c, n := utf8.DecodeRune(r.src[at:])
			if c == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		r.add(at, "", "", fmt.Sprintf("the byte 0x%02X is not UTF-8", r.src[at]), again)
		return nil
	}
	var whole json.RawMessage
	if err := json.Unmarshal(r.src, &whole); err != nil {
		at := len(r.src)
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) && syntax.Offset > 0 {
			at = int(syntax.Offset) - 1
		}
		r.add(at, "", "", "this is not JSON: "+strings.TrimPrefix(err.Error(), "json: "), "a plan.json as stallwright plan writes it, or a job file that ends in .yaml")
		return nil
	}
	d := new(Document)
	r.walk(d)
	if len(r.faults) > 0 {
		return nil
	}
	if err := json.Unmarshal(r.src, d); err != nil {
		r.add(-1, "", "", err.Error(), again)
		return nil
	}
	r.agree(d)
	return d
}

// walk checks every key and value against the document's type.
func (r *reader) walk(d *Document) {
	r.dec = json.NewDecoder(bytes.NewReader(r.src))
	r.dec.UseNumber()
	r.value(reflect.TypeOf(*d), nil)
}

func (r *reader) asked(path string) bool {
	_, ok := r.want[path]
	return ok
}

// next is the next token and where it starts. The text is known to be JSON, so
// there is always one.
func (r *reader) next() (json.Token, int) {
	at := int(r.dec.InputOffset())
	for at < len(r.src) && strings.IndexByte(" \t\r\n,:", r.src[at]) >= 0 {
		at++
	}
	t, err := r.dec.Token()
	if err != nil {
		return nil, at
	}
	return t, at
}

// value checks one value of type t; a nil t takes anything.
func (r *reader) value(t reflect.Type, path *trail) {
	tok, at := r.next()
	if r.want != nil {
		if name := path.String(); r.asked(name) {
			r.want[name] = at
		}
	}
	if t != nil && t.Kind() == reflect.Pointer {
		if tok == nil {
			return
		}
		t = t.Elem()
	}
	switch v := tok.(type) {
	case json.Delim:
		switch {
		case v == '{' && (t == nil || t.Kind() == reflect.Struct):
			r.object(t, path, at)
			return
		case v == '[' && (t == nil || t.Kind() == reflect.Slice):
			r.list(t, path)
			return
		}
		r.wrong(at, path.String(), t, map[json.Delim]string{'{': "a group", '[': "a list"}[v])
		r.rest()
	case string:
		if bad := unseen(v); bad >= 0 {
			r.add(at, path.String(), "", fmt.Sprintf("an invisible control character (U+%04X) stands in this text", bad), again)
		}
		if t != nil && t.Kind() != reflect.String {
			r.wrong(at, path.String(), t, "a text")
		}
	case json.Number:
		if t == nil {
			return
		}
		_, err := v.Int64()
		switch {
		case t.Kind() != reflect.Int && t.Kind() != reflect.Int64:
			r.wrong(at, path.String(), t, "a number")
		case err != nil:
			r.add(at, path.String(), v.String(), "this is no whole number that fits 64 bits", again)
		case t.Kind() == reflect.Int && (len(v) > 10 || tooMany(v)):
			r.add(at, path.String(), v.String(), "nothing is counted this far", again)
		case path.length() && !isLength(v):
			r.add(at, path.String(), v.String(), "no length is this long", again)
		}
	case bool:
		if t != nil && t.Kind() != reflect.Bool {
			r.wrong(at, path.String(), t, "true or false")
		}
	case nil:
		if t != nil && t.Kind() != reflect.Slice {
			r.wrong(at, path.String(), t, "null")
		}
	}
}

// most is the most that anything is counted to; it keeps sums inside 32 bits.
const most = 1_000_000_000

func tooMany(v json.Number) bool {
	n, err := v.Int64()
	return err != nil || n > most || n < -most
}

func isLength(v json.Number) bool {
	n, err := v.Int64()
	return err == nil && n <= int64(measure.MaxLength) && n >= -int64(measure.MaxLength)
}

// rest skips to the end of the group or list just opened.
func (r *reader) rest() {
	for depth := 1; depth > 0; {
		tok, at := r.next()
		if at >= len(r.src) {
			return
		}
		switch tok {
		case json.Delim('{'), json.Delim('['):
			depth++
		case json.Delim('}'), json.Delim(']'):
			depth--
		}
	}
}

func (r *reader) wrong(at int, path string, t reflect.Type, got string) {
	want := map[reflect.Kind]string{
		reflect.Struct: "a group { }", reflect.Slice: "a list [ ]", reflect.String: "a text", reflect.Int: "a whole number", reflect.Int64: "a whole number", reflect.Bool: "true or false",
	}[t.Kind()]
	r.add(at, path, "", fmt.Sprintf("%s is %s; it must be %s", path, got, want), again)
}

func (r *reader) list(t reflect.Type, path *trail) {
	var of reflect.Type
	if t != nil {
		of = t.Elem()
	}
	for i := 0; r.dec.More(); i++ {
		r.value(of, &trail{up: path, at: i})
	}
	r.next()
}

func (r *reader) object(t reflect.Type, path *trail, start int) {
	seen := make(map[string]bool, 8)
	known := keysOf(t)
	for r.dec.More() {
		tok, at := r.next()
		key, _ := tok.(string)
		below := &trail{up: path, key: key}
		f, ok := known[key]
		switch {
		case seen[key]:
			r.add(at, below.String(), "", fmt.Sprintf("the key %q is written twice", key), again)
		case t != nil && !ok:
			r.add(at, below.String(), "", fmt.Sprintf("unknown key %q", key), unknownHint(t, key, path.String()))
		}
		seen[key] = true
		if ok {
			r.value(f, below)
		} else {
			r.value(nil, below)
		}
	}
	r.next()
	if t == nil {
		return
	}
	for i := range t.NumField() {
		name, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		if !seen[name] && options == "" {
			what := "the plan"
			if path != nil {
				what = path.String()
			}
			r.add(start, path.String(), "", fmt.Sprintf("%s lacks %q", what, name), "a plan.json of this version of stallwright; plan the job again")
		}
	}
}

// keys are the fields of the document's structs by their keys; only a memory.
var keys sync.Map

// keysOf lists a struct's fields' types by their keys as written.
func keysOf(t reflect.Type) map[string]reflect.Type {
	if t == nil {
		return nil
	}
	if m, ok := keys.Load(t); ok {
		return m.(map[string]reflect.Type)
	}
	m := map[string]reflect.Type{}
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		m[name] = t.Field(i).Type
	}
	keys.Store(t, m)
	return m
}

// trail is the way to a value: a key, or a place in a list (where key is empty).
// The nil trail is the whole text.
type trail struct {
	up  *trail
	key string
	at  int
}

// String is the way as in bays[3].clear_nm.
func (t *trail) String() string {
	switch {
	case t == nil:
		return ""
	case t.key == "":
		return fmt.Sprintf("%s[%d]", t.up, t.at)
	case t.up == nil:
		return t.key
	}
	return t.up.String() + "." + t.key
}

// length says whether the way leads to a length.
func (t *trail) length() bool {
	for t != nil && t.key == "" {
		t = t.up
	}
	return t != nil && strings.HasSuffix(t.key, "_nm")
}

func unknownHint(t reflect.Type, key, path string) string {
	var names []string
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		names = append(names, name)
	}
	if near, ok := document.Nearest(key, names); ok {
		return "did you mean " + near + "?"
	}
	if path == "" {
		return "is this a plan.json, as stallwright plan writes it?"
	}
	return again
}

// unseen finds a character that a terminal would act on or hide: the controls
// of ISO 6429 and the marks that reorder or hide text. -1 for none.
func unseen(s string) rune {
	for _, c := range s {
		switch {
		case c < 0x20, 0x7f <= c && c <= 0x9f, 0x202a <= c && c <= 0x202e, 0x2066 <= c && c <= 0x2069, c == 0xfeff, 0x2028 <= c && c <= 0x2029:
			return c
		}
	}
	return -1
}
