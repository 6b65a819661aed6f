package document

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// field is one key a struct takes.
type field struct {
	name     string
	index    []int // for reflect.Value.FieldByIndex
	typ      reflect.Type
	required bool
	doc      string
	rules    rules
}

// rules apply to every value below a field, down to the next struct.
type rules struct {
	unit     string // of bare numbers
	min, max *int64 // of an integer, or of the number of items
}

// record is what reading and the schema need to know of a struct type.
type record struct {
	fields []field
	wheres [][]int // the embedded Where of the struct itself
}

var whereType = reflect.TypeFor[Where]()

// recordOf reads the tags of a struct type. It panics on tags that make no sense,
// which are mistakes in the program and not in a document.
func recordOf(t reflect.Type) record {
	var rec record
	rec.collect(t, t, nil)
	seen := make(map[string]bool, len(rec.fields))
	for _, f := range rec.fields {
		if seen[f.name] {
			panic(fmt.Sprintf("document: %v has two fields for the key %q", t, f.name))
		}
		seen[f.name] = true
	}
	return rec
}

func (rec *record) collect(top, t reflect.Type, above []int) {
	for i := range t.NumField() {
		sf := t.Field(i)
		index := append(append([]int(nil), above...), i)
		tag, tagged := sf.Tag.Lookup("yaml")
		name, options, _ := strings.Cut(tag, ",")
		switch {
		case sf.Anonymous && sf.Type == whereType:
			rec.wheres = append(rec.wheres, index)
		case sf.Anonymous && sf.Type.Kind() == reflect.Struct && name == "":
			rec.collect(top, sf.Type, index)
		case !tagged || name == "-" || name == "":
			continue
		case !sf.IsExported():
			panic(fmt.Sprintf("document: the field %v.%s has a yaml tag but is not exported", top, sf.Name))
		default:
			rec.fields = append(rec.fields, newField(top, sf, index, name, options))
		}
	}
}

func newField(top reflect.Type, sf reflect.StructField, index []int, name, options string) field {
	f := field{name: name, index: index, typ: sf.Type, doc: sf.Tag.Get("doc")}
	switch options {
	case "required":
		f.required = true
	case "":
	default:
		panic(fmt.Sprintf("document: unknown option %q in the yaml tag of %v.%s", options, top, sf.Name))
	}
	f.rules.unit = sf.Tag.Get("unit")
	for _, bound := range []struct {
		tag string
		to  **int64
	}{{"min", &f.rules.min}, {"max", &f.rules.max}} {
		text, ok := sf.Tag.Lookup(bound.tag)
		if !ok {
			continue
		}
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil {
			panic(fmt.Sprintf("document: %s of %v.%s is not a whole number", bound.tag, top, sf.Name))
		}
		*bound.to = &n
	}
	return f
}

// names lists the keys in the order of the struct, the required ones first when
// needed says so.
func (rec record) names(needed bool) []string {
	var must, may []string
	for _, f := range rec.fields {
		if f.required {
			must = append(must, f.name)
		} else {
			may = append(may, f.name)
		}
	}
	if needed {
		return must
	}
	return append(must, may...)
}

func (rec record) find(name string) (field, bool) {
	for _, f := range rec.fields {
		if f.name == name {
			return f, true
		}
	}
	return field{}, false
}
