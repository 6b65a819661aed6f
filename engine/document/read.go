package document

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Read reads the reporter's text into what into points at, usually a struct,
// adding every mistake to r. It says whether there was none. It panics if into is
// not a pointer, or has fields of types that cannot be read.
func (r *Reporter) Read(into any) bool {
	target := reflect.ValueOf(into)
	if target.Kind() != reflect.Pointer || target.IsNil() {
		panic(fmt.Sprintf("document: Read into %T, which is not a pointer to something", into))
	}
	before := r.Len()
	text, ok := r.guard()
	if !ok {
		return false
	}
	d := decoder{r: r, records: make(map[reflect.Type]record)}
	root, ok := r.parse(text)
	r.spots = nil
	if !ok {
		return false
	}
	if root == nil || root.isNull() {
		d.nothing(target.Type().Elem())
		return false
	}
	d.value(root, target.Elem(), "", rules{})
	return r.Len() == before
}

// nothing reports a document without content.
func (d *decoder) nothing(t reflect.Type) {
	hint := "write “key: value” lines"
	if t.Kind() == reflect.Struct {
		if names := d.record(t).names(true); len(names) > 0 {
			hint += "; required are " + listed(names, "and")
		}
	}
	d.r.Add(d.r.src.at(1, 1), "", "", "the document is empty", hint)
}

// decoder fills Go values from a tree.
type decoder struct {
	r       *Reporter
	records map[reflect.Type]record
}

func (d *decoder) record(t reflect.Type) record {
	rec, ok := d.records[t]
	if !ok {
		rec = recordOf(t)
		d.records[t] = rec
	}
	return rec
}

// oneOrList marks the instances of Several.
type oneOrList interface{ oneOrList() }

// value reads n into v, which is addressable. path says where for people.
func (d *decoder) value(n *node, v reflect.Value, path string, ru rules) {
	if d.r.full() {
		d.r.dropped = true // a hopeless text is not read to its end
		return
	}
	before := d.r.Len()
	d.any(n, v, path, ru)
	if d.r.Len() > before || n.kind == refused || v.Kind() == reflect.Pointer {
		return
	}
	if valid, ok := v.Addr().Interface().(Validator); ok {
		valid.Validate(d.r, path)
	}
}

// any chooses the way of reading by what the type can do and what was written.
func (d *decoder) any(n *node, v reflect.Value, path string, ru rules) {
	if n.kind == refused {
		return
	}
	if v.Kind() == reflect.Pointer {
		to := reflect.New(v.Type().Elem())
		d.value(n, to.Elem(), path, ru)
		v.Set(to)
		return
	}
	if n.isNull() {
		d.empty(n, path)
		return
	}
	self := v.Addr().Interface()
	if t, ok := self.(ScalarReader); ok && n.kind == scalar {
		d.fromText(n, path, ru, t.FromScalar)
		d.place(n, v)
		return
	}
	if t, ok := self.(ListReader); ok && n.kind == list {
		into := reflect.ValueOf(t.ListInto())
		if into.Kind() != reflect.Pointer || into.IsNil() {
			panic(fmt.Sprintf("document: ListInto of %v does not give a pointer", v.Type()))
		}
		d.value(n, into.Elem(), path, ru)
		d.place(n, v)
		return
	}
	if _, ok := self.(oneOrList); ok && n.kind != list {
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		d.value(n, v.Index(0), path, rules{unit: ru.unit})
		d.count(n, 1, path, ru)
		return
	}
	if t, ok := self.(textUnmarshaler); ok {
		if d.want(n, scalar, v.Type(), path) {
			d.fromText(n, path, ru, func(s string) error { return t.UnmarshalText([]byte(s)) })
		}
		return
	}
	d.byKind(n, v, path, ru)
}

func (d *decoder) byKind(n *node, v reflect.Value, path string, ru rules) {
	switch t := v.Type(); t.Kind() {
	case reflect.Struct:
		if d.want(n, mapping, t, path) {
			d.structure(n, v, path)
		}
	case reflect.Slice:
		if d.want(n, list, t, path) {
			d.slice(n, v, path, ru)
		}
	case reflect.Map:
		if d.want(n, mapping, t, path) {
			d.dictionary(n, v, path, ru)
		}
	case reflect.String:
		if d.want(n, scalar, t, path) && d.allowed(n.text, n, t, path) {
			v.SetString(n.text)
		}
	case reflect.Bool:
		if d.want(n, scalar, t, path) {
			d.boolean(n, v, path)
		}
	case reflect.Int, reflect.Int64:
		if d.want(n, scalar, t, path) {
			d.integer(n, v, path, ru)
		}
	default:
		panic(fmt.Sprintf("document: %s has the type %v, which cannot be read", path, t))
	}
}

// structure reads the keys of n into the fields of v.
func (d *decoder) structure(n *node, v reflect.Value, path string) {
	rec := d.record(v.Type())
	d.missing(n, rec, path)
	first := make(map[string]Pos, len(n.entries))
	for _, e := range n.entries {
		if e.name == "" || d.twice(e, first, path) {
			continue
		}
		at := join(path, e.name)
		f, ok := rec.find(e.name)
		if !ok {
			d.unknown(e, at, rec)
			continue
		}
		d.value(e.value, v.FieldByIndex(f.index), at, f.rules)
	}
	d.place(n, v)
}

// twice reports a key that has been written before in the same group.
func (d *decoder) twice(e entry, first map[string]Pos, path string) bool {
	was, again := first[e.name]
	if again {
		d.r.Add(e.key, join(path, e.name), e.name,
			fmt.Sprintf("the key %s is written twice here, first on line %d", quote(e.name), was.Line), "keep one of them")
		return true
	}
	first[e.name] = e.key
	return false
}

func (d *decoder) unknown(e entry, path string, rec record) {
	known := rec.names(false)
	hint := "known here: " + listed(known, "and")
	if near, ok := Nearest(e.name, known); ok {
		hint = "did you mean " + quote(near) + "?"
	}
	d.r.Add(e.key, path, e.name, "unknown key "+quote(e.name), hint)
}

func (d *decoder) missing(n *node, rec record, path string) {
	var names, docs []string
	for _, f := range rec.fields {
		if f.required && !slices.ContainsFunc(n.entries, func(e entry) bool { return e.name == f.name }) {
			names = append(names, f.name)
			what := quote(f.name + ": ...")
			if f.doc != "" {
				what += " (" + f.doc + ")"
			}
			docs = append(docs, what)
		}
	}
	if len(names) == 0 {
		return
	}
	message := "the required key " + listed(names, "and") + " is missing here"
	if len(names) > 1 {
		message = "the required keys " + listed(names, "and") + " are missing here"
	}
	d.r.Add(n.pos, path, "", message, "add "+strings.Join(docs, ", "))
}

func (d *decoder) slice(n *node, v reflect.Value, path string, ru rules) {
	items := reflect.MakeSlice(v.Type(), len(n.items), len(n.items))
	inner := rules{unit: ru.unit}
	for i, item := range n.items {
		d.value(item, items.Index(i), fmt.Sprintf("%s[%d]", path, i), inner)
	}
	v.Set(items)
	d.count(n, int64(len(n.items)), path, ru)
}

// count checks how many items a list has.
func (d *decoder) count(n *node, have int64, path string, ru rules) {
	switch {
	case ru.min != nil && have < *ru.min:
		d.r.Add(n.pos, path, "", "this list has "+counted(have)+", too few", "write at least "+counted(*ru.min))
	case ru.max != nil && have > *ru.max:
		d.r.Add(n.pos, path, "", "this list has "+counted(have)+", too many", "write at most "+counted(*ru.max))
	}
}

func (d *decoder) dictionary(n *node, v reflect.Value, path string, ru rules) {
	t := v.Type()
	if t.Key().Kind() != reflect.String {
		panic(fmt.Sprintf("document: %s has the type %v, whose keys are not strings", path, t))
	}
	entries := reflect.MakeMapWithSize(t, len(n.entries))
	first := make(map[string]Pos, len(n.entries))
	for _, e := range n.entries {
		if e.name == "" || d.twice(e, first, path) {
			continue
		}
		at := join(path, e.name)
		key := reflect.New(t.Key()).Elem()
		if !d.allowed(e.name, &node{pos: e.key, raw: e.name}, t.Key(), at) {
			continue
		}
		key.SetString(e.name)
		value := reflect.New(t.Elem()).Elem()
		d.value(e.value, value, at, rules{unit: ru.unit})
		entries.SetMapIndex(key, value)
	}
	v.Set(entries)
}

// join writes the path of a key.
func join(path, key string) string {
	for i, c := range key {
		plain := c == '_' || c == '-' && i > 0 || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9'
		if !plain {
			return path + "[" + quote(key) + "]"
		}
	}
	if path == "" {
		return key
	}
	return path + "." + key
}
