package differ

import (
	"fmt"
	"reflect"
	"strings"
	"sync"

	"stallwright/paper/packet"
)

// Values are found by walking the document's own types, so that a field added to
// plan.json is compared from that day on, under its own name until words gives it
// a better one.

// skipped are fields that say what a thing is called or why, which the
// comparison of names and reasons tells.
var skipped = map[string]bool{"name": true, "label": true, "reason": true}

// follows are fields that follow from others beside them, which tell the change
// shorter: how each board of a tapered bay is held, and what either way costs, from
// the bay's widths by height, its lengths and its shims.
var follows = map[string]bool{"taper.courses": true, "taper.by_cut": true, "taper.by_shim": true}

// values compares two structs field by field.
func (c *comparer) values(old, new any) []Value {
	return c.fields("", reflect.Indirect(reflect.ValueOf(old)), reflect.Indirect(reflect.ValueOf(new)))
}

func (c *comparer) fields(path string, o, n reflect.Value) []Value {
	var out []Value
	for _, f := range fieldsOf(o.Type()) {
		if path == "" && skipped[f.name] || f.name == "reason" || same(o.Field(f.at), n.Field(f.at)) {
			continue
		}
		at := strings.TrimPrefix(path+"."+f.name, ".")
		if follows[at] {
			continue
		}
		out = append(out, c.field(at, o.Field(f.at), n.Field(f.at), f.optional)...)
	}
	return out
}

// same says quickly of a number or a truth that it did not change.
func same(o, n reflect.Value) bool {
	switch o.Kind() {
	case reflect.Int, reflect.Int64:
		return o.Int() == n.Int()
	case reflect.Bool:
		return o.Bool() == n.Bool()
	}
	return false
}

// compared is a field that is compared.
type compared struct {
	at       int // in its struct
	name     string
	optional bool
}

var fieldsKnown sync.Map // of a reflect.Type: its []compared; only a memory

// fieldsOf lists a struct's fields but for texts that have their exact value
// beside them.
func fieldsOf(t reflect.Type) []compared {
	if list, ok := fieldsKnown.Load(t); ok {
		return list.([]compared)
	}
	var list []compared
	for i := range t.NumField() {
		name, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		if !exactBeside(t, i, name) {
			list = append(list, compared{i, name, options != ""})
		}
	}
	fieldsKnown.Store(t, list)
	return list
}

// exactBeside says whether a text has its exact value beside it.
func exactBeside(t reflect.Type, i int, name string) bool {
	k := t.Field(i).Type.Kind()
	if k != reflect.String && k != reflect.Slice {
		return false
	}
	for j := range t.NumField() {
		beside, _, _ := strings.Cut(t.Field(j).Tag.Get("json"), ",")
		if beside == name+"_nm" || beside == name+"_ug" {
			return true
		}
	}
	return false
}

// field compares one field. An optional one that is zero is none.
func (c *comparer) field(at string, o, n reflect.Value, optional bool) []Value {
	if o.Kind() == reflect.String && c.m.names.text(o.String()) == n.String() {
		return nil
	}
	v := Value{Field: strings.TrimSuffix(strings.TrimSuffix(at, "_nm"), "_ug")}
	v.What = what(v.Field)
	switch o.Kind() {
	case reflect.Int64:
		a, b := o.Int(), n.Int()
		if a == b {
			return nil
		}
		v.Old, v.New = c.d.mass(max(a, 0)), c.d.mass(max(b, 0))
		if strings.HasSuffix(at, "_nm") {
			v.Old, v.New, v.OldNM, v.NewNM = c.d.show(a), c.d.show(b), &a, &b
		}
		if optional && a == 0 {
			v.Old, v.OldNM = "", nil
		}
		if optional && b == 0 {
			v.New, v.NewNM = "", nil
		}
	case reflect.Int:
		v.Old, v.New = fmt.Sprint(o.Int()), fmt.Sprint(n.Int())
	case reflect.Bool:
		v.Old, v.New = yes(o.Bool()), yes(n.Bool())
	case reflect.String:
		v.Old, v.New = c.m.names.text(o.String()), n.String()
	case reflect.Pointer:
		return c.group(v, at, o, n)
	case reflect.Slice:
		return c.listed(v, at, o, n)
	}
	if v.Old == v.New && v.OldNM == nil && v.NewNM == nil {
		return nil
	}
	return []Value{v}
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// group compares what may be there or not: a grille, a door.
func (c *comparer) group(v Value, at string, o, n reflect.Value) []Value {
	switch {
	case o.IsNil() && n.IsNil():
		return nil
	case o.IsNil():
		v.New = c.called(n.Elem())
	case n.IsNil():
		v.Old = c.called(o.Elem())
	default:
		return c.fields(at, o.Elem(), n.Elem())
	}
	return []Value{v}
}

// called says in a word what a group is: its item, or that it is there.
func (c *comparer) called(v reflect.Value) string {
	if item := v.FieldByName("Item"); item.IsValid() && item.Kind() == reflect.String {
		return item.String()
	}
	if l := v.FieldByName("LengthNM"); l.IsValid() {
		return c.d.show(l.Int())
	}
	return "yes"
}

// listed compares lists as texts, and tells courses in words.
func (c *comparer) listed(v Value, at string, o, n reflect.Value) []Value {
	a, b := c.words(o, true), c.words(n, false)
	if a == b {
		return nil
	}
	v.Old, v.New = a, b
	if oc, ok := o.Interface().([]packet.CourseDoc); ok {
		nc := n.Interface().([]packet.CourseDoc)
		v.Old, v.New = courses(oc), courses(nc)
		if v.Old == v.New {
			v.Field, v.What = "courses.places", "heights of courses"
			v.Old, v.New = c.heights(oc), c.heights(nc)
		}
		if v.Old == v.New {
			v.Field, v.What = "courses.pieces", "boards in the courses"
			v.Old, v.New = a, b
		}
	}
	return []Value{v}
}

// words is a list as text, old names put into new ones.
func (c *comparer) words(list reflect.Value, old bool) string {
	var out []string
	for i := range list.Len() {
		v := list.Index(i)
		switch v.Kind() {
		case reflect.String:
			s := v.String()
			if old {
				s = c.m.names.label(s)
			}
			out = append(out, s)
		case reflect.Int64:
			out = append(out, c.exact(v.Int()))
		default:
			out = append(out, c.record(v, old))
		}
	}
	return strings.Join(repeats(out), ", ")
}

// repeats writes what stands several times in a row once, with how often.
func repeats(list []string) []string {
	var out []string
	for i := 0; i < len(list); {
		n := i + 1
		for n < len(list) && list[n] == list[i] {
			n++
		}
		if n-i > 1 {
			out = append(out, fmt.Sprintf("%d × %s", n-i, list[i]))
		} else {
			out = append(out, list[i])
		}
		i = n
	}
	return out
}

// record is a small struct as text: a course, a notch.
func (c *comparer) record(v reflect.Value, old bool) string {
	var out []string
	for i := range v.NumField() {
		f := v.Field(i)
		name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		switch {
		case f.Kind() == reflect.Int64:
			out = append(out, strings.TrimSuffix(name, "_nm")+" "+c.exact(f.Int()))
		case f.Kind() == reflect.Slice:
			out = append(out, c.words(f, old))
		default:
			out = append(out, fmt.Sprint(f.Interface()))
		}
	}
	return strings.Join(out, " ")
}

// exact is a length as shown, with its nanometres where that is rounded.
func (c *comparer) exact(nm int64) string {
	s := c.d.show(nm)
	if strings.HasPrefix(s, "≈") {
		return fmt.Sprintf("%s (%d nm)", s, nm)
	}
	return s
}

// courses tells courses from the bottom up: 5 full, 4 short, 2 closing.
func courses(list []packet.CourseDoc) string {
	var parts []string
	for k := 0; k < len(list); {
		n := k
		for n < len(list) && list[n].Kind == list[k].Kind {
			n++
		}
		parts = append(parts, fmt.Sprintf("%d %s", n-k, list[k].Kind))
		k = n
	}
	return strings.Join(parts, " + ")
}

func (c *comparer) heights(list []packet.CourseDoc) string {
	var parts []string
	for k := range list {
		parts = append(parts, fmt.Sprintf("%d at %s covers %s", list[k].No, c.exact(list[k].ZNM), c.exact(list[k].HeightNM)))
	}
	return strings.Join(parts, ", ")
}

// plainWords are the fields that read better by other words than their names.
var plainWords = map[string]string{
	"clear": "clear width", "drawn_clear": "drawn clear width", "hold_left": "hold on the left", "hold_right": "hold on the right",
	"stack.top": "top of the stack", "stack.slack": "left over above", "stack.packing": "packing strip", "stack.zone": "room for boards", "stack.clamp": "stack clamp",
	"grille.width": "grille, cut to", "grille.made": "grille, as made", "grille.trim_left": "grille, off the left", "grille.trim_right": "grille, off the right",
	"grille.cut_ends": "grille, cut ends", "grille.z": "grille stands at", "grille.item": "grille",
	"door.item": "door", "door.kind": "door", "door.leaf": "leaf", "door.leaves": "leaves", "door.track": "track", "window.item": "window", "feeder.item": "feeder", "feeder.hand": "feeder's side",
	"window.notch_top": "notch over the window", "window.notch_bottom": "notch under the window", "door.gap": "gap under the door", "door.gap_from": "least gap", "door.gap_to": "most gap", "door.stem": "roller stems out",
	"door.stem_from": "stems, least", "door.stem_to": "stems, most", "door.rise": "leaf can rise", "door.latch": "gap at the latch", "door.boards": "boards in the leaf",
	"door.boards_from_above": "boards from above", "door.boards_from_below": "boards from below", "door.lap": "leaf laps each jamb",
	"door.track.length": "track", "door.track.from": "track from", "door.track.to": "track to", "door.track.parks": "leaf parks",
	"door.track.parked_from": "parked leaf from", "door.track.parked_to": "parked leaf to",
	"x": "place, east", "y": "place, north", "z": "height in the bay", "kit_version": "kit version",
	"ring.sections": "sections", "ring.pin_circle": "pin circle", "ring.inside_flats": "inside flats", "ring.interior_angles": "angles at the pins",
	"feeder.short": "short boards", "feeder.short_courses": "short courses", "feeder.above_grille": "feeder's top over the grille's",
	"window.left": "boards left of the window", "window.right": "boards right of the window", "window.cut_courses": "cut courses",
	"coverage": "board coverage", "thickness": "board thickness", "tongue": "tongue", "nominal": "boards", "coverage_measured": "coverage measured",
	"from_below": "loaded from below", "made": "as made", "height": "height",
}

var plainly = strings.NewReplacer("_", " ", ".", ": ")

// what is a field in words.
func what(field string) string {
	if w, ok := plainWords[field]; ok {
		return w
	}
	return plainly.Replace(field)
}
