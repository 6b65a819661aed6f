package document

import (
	"cmp"
	"reflect"
	"slices"
	"strconv"
)

// place fills the Where of a struct with the places of n and of what is directly
// in it.
func (d *decoder) place(n *node, v reflect.Value) {
	if v.Kind() != reflect.Struct {
		return
	}
	rec := d.record(v.Type())
	if len(rec.wheres) == 0 {
		return
	}
	at := &places{own: n.pos}
	switch n.kind {
	case list:
		at.below(n, "", nil)
	case mapping:
		for _, e := range n.entries {
			if f, ok := rec.find(e.name); ok {
				at.keys = append(at.keys, place{name: e.name, key: e.key, value: e.value.pos})
				at.below(e.value, e.name, f.typ)
			}
		}
	}
	// Of a key written twice the first one counts.
	slices.SortStableFunc(at.keys, func(a, b place) int { return cmp.Compare(a.name, b.name) })
	at.keys = slices.CompactFunc(at.keys, func(a, b place) bool { return a.name == b.name })
	for _, index := range rec.wheres {
		v.FieldByIndex(index).Set(reflect.ValueOf(Where{at}))
	}
}

// below adds the places of list items and of the entries of a Go map. The keys of
// a struct are left to its own Where.
func (at *places) below(n *node, name string, t reflect.Type) {
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	var elem reflect.Type
	if t != nil && (t.Kind() == reflect.Slice || t.Kind() == reflect.Map) {
		elem = t.Elem()
	}
	switch {
	case n.kind == list:
		for i, item := range n.items {
			inner := name + "[" + strconv.Itoa(i) + "]"
			at.keys = append(at.keys, place{name: inner, value: item.pos})
			at.below(item, inner, elem)
		}
	case n.kind == mapping && t != nil && t.Kind() == reflect.Map:
		for _, e := range n.entries {
			inner := name + "." + e.name
			at.keys = append(at.keys, place{name: inner, entry: e.name, key: e.key, value: e.value.pos})
			at.below(e.value, inner, elem)
		}
	}
}
