package differ

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"stallwright/engine/measure"
)

// leaf is one value in a part of the document that is compared as a tree, at a
// path that names what it belongs to, not its place in a list.
type leaf struct {
	path   string
	text   string // what is shown
	exact  string // what is compared
	nm     *int64 // of lengths
	reason int
}

// keyed are the fields that tell the entries of a list apart, best first.
var keyed = []string{"id", "post", "label", "name", "title", "structure", "at", "from", "bay", "item", "kind", "what", "operation"}

// flat lists leaves; skip leaves out what lies at a path.
type flat struct {
	units measure.System
	skip  func(path string) bool
	out   []leaf
}

// value lists the leaves below a value.
func (f *flat) value(v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			f.value(v.Elem(), path)
		}
	case reflect.Struct:
		f.group(v, path)
	case reflect.Slice:
		f.list(v, path)
	case reflect.String:
		f.out = append(f.out, leaf{path: path, text: v.String(), exact: v.String(), reason: -1})
	default:
		text := fmt.Sprint(v.Interface())
		l := leaf{path: path, text: text, exact: text, reason: -1}
		if v.Kind() == reflect.Int64 && strings.HasSuffix(path, "_nm") {
			n := v.Int()
			l.nm = &n
		}
		f.out = append(f.out, l)
	}
}

// exactOf are the fields that hold the exact value of a measured thing, with the
// text that people read beside it.
var exactOf = map[string]string{"is_nm": "tape", "is_nd": "transit", "is_nl": "shown"}

func (f *flat) group(v reflect.Value, path string) {
	t := v.Type()
	by := map[string]int{}
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		by[name] = i
	}
	for exact, shown := range exactOf {
		i, ok := by[exact]
		if !ok {
			continue
		}
		n := v.Field(i).Int()
		l := leaf{path: path, text: v.Field(by[shown]).String(), exact: fmt.Sprint(n), reason: int(v.Field(by["reason"]).Int())}
		if exact == "is_nm" {
			l.nm = &n
		}
		f.out = append(f.out, l)
		return
	}
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		at := strings.TrimPrefix(path+"."+name, ".")
		if name == "reason" || exactBeside(t, i, name) || f.skip(at) || v.Field(i).IsZero() && v.Field(i).Kind() != reflect.Bool {
			continue
		}
		f.value(v.Field(i), at)
	}
}

func (f *flat) list(v reflect.Value, path string) {
	if v.Len() > 0 && reflect.Indirect(v.Index(0)).Kind() != reflect.Struct {
		var parts []string
		for i := range v.Len() {
			parts = append(parts, fmt.Sprint(v.Index(i).Interface()))
		}
		text := strings.Join(parts, ", ")
		f.out = append(f.out, leaf{path: path, text: text, exact: text, reason: -1})
		return
	}
	seen := map[string]int{}
	for i := range v.Len() {
		key := f.key(v.Index(i))
		if seen[key]++; seen[key] > 1 {
			key += fmt.Sprintf("#%d", seen[key])
		}
		f.value(v.Index(i), path+"["+key+"]")
	}
}

// key is what an entry of a list is known by: at most two fields, since one may be
// shared by several kinds; its length, where nothing else tells it.
func (f *flat) key(v reflect.Value) string {
	v = reflect.Indirect(v)
	t := v.Type()
	var keys []string
	for _, want := range keyed {
		for i := range t.NumField() {
			name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			if k := v.Field(i).Kind(); name == want && len(keys) < 2 && (k == reflect.String || k == reflect.Int) {
				keys = append(keys, fmt.Sprint(v.Field(i).Interface()))
			}
		}
	}
	for i := range t.NumField() {
		if name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ","); len(keys) == 0 && name == "length_nm" {
			keys = append(keys, measure.Length(v.Field(i).Int()).In(f.units))
		}
	}
	return strings.Join(keys, " ")
}

// trees compares two trees and gives their values that differ, in the new one's
// order, those that are gone last; and what is behind them.
func (c *comparer) trees(old, new any, skip func(path string) bool) (values []Value, causes []int) {
	if !c.m.names.renamed && reflect.DeepEqual(old, new) {
		return nil, nil
	}
	// Trees follow from what was compared before them: a cause that showed nowhere
	// else is a step on the way, and no news.
	known := len(c.causes.list)
	list := func(v any) []leaf {
		f := &flat{units: c.d.units, skip: skip}
		f.value(reflect.ValueOf(v), "")
		return f.out
	}
	a, b := list(old), list(new)
	was := make(map[string]leaf, len(a))
	for _, l := range a {
		l.path, l.text, l.exact = c.m.names.text(l.path), c.m.names.text(l.text), c.m.names.text(l.exact)
		was[l.path] = l
	}
	is := make(map[string]bool, len(b))
	add := func(o, n leaf) {
		path := n.path
		if path == "" {
			path = o.path
		}
		v := Value{Field: strings.TrimSuffix(path, "_nm"), Old: o.text, New: n.text, OldNM: o.nm, NewNM: n.nm}
		v.What = treeWords(v.Field)
		for _, side := range []struct {
			nm   *int64
			text *string
		}{{o.nm, &v.Old}, {n.nm, &v.New}} {
			if side.nm != nil && *side.text == fmt.Sprint(*side.nm) { // no tape has read it
				*side.text = measure.Length(*side.nm).In(c.d.units)
			}
		}
		values = append(values, v)
		if o.reason >= 0 && n.reason >= 0 && len(values) <= treeReasons {
			for _, cause := range c.between(o.reason, n.reason) {
				if cause < known {
					causes = union(causes, []int{cause})
				}
			}
		}
	}
	for _, n := range b {
		is[n.path] = true
		o, ok := was[n.path]
		switch {
		case !ok:
			add(leaf{reason: -1}, n)
		case o.exact != n.exact:
			add(o, n)
		}
	}
	for _, l := range a {
		if o := was[c.m.names.text(l.path)]; !is[o.path] {
			add(o, leaf{reason: -1})
		}
	}
	return values, causes
}

// treeReasons is how many changed values of a tree are traced to what is behind
// them; where many change, the first ones have the causes of all.
const treeReasons = 12

// treeWords is a path in words: bases.list[P.p3].depth is "P.p3 depth".
func treeWords(path string) string {
	var words []string
	for _, part := range strings.Split(strings.NewReplacer("[", ".[", "]", "]").Replace(path), ".[") {
		key, rest, keyed := strings.Cut(part, "]")
		if keyed {
			words = []string{key} // what goes before only says in which list
			part = strings.TrimPrefix(rest, ".")
		}
		for _, w := range strings.Split(part, ".") {
			if w != "" && !slices.Contains([]string{"pen", "grid", "list", "piers", "stakes", "bases"}, w) {
				words = append(words, strings.ReplaceAll(w, "_", " "))
			}
		}
	}
	for i, w := range words {
		if said, ok := treeWord[w]; ok && i > 0 {
			words[i] = said
		}
	}
	return strings.Join(words, " ")
}

// treeWord are words of a path that say little to a person.
var treeWord = map[string]string{
	"own": "from the post on its left", "from": "along the line", "between": "3-4-5", "x": "along the baseline", "y": "left of the baseline",
}

func nothing(string) bool { return false }
