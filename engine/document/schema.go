//go:build !js

package document

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"

	"github.com/invopop/jsonschema"
	orderedmap "github.com/pb33f/ordered-map/v2"
)

// Schema returns a JSON Schema, draft 2020-12, of the documents Read accepts into
// a value of v's type, for editors that complete and check while one types. title
// and id (an absolute URI) name the schema. The same type always gives the same
// bytes. It panics on types that Read panics on.
//
// A schema sees values after YAML has read them and Read sees their text, so the
// schema is the wider of the two: texts that look like numbers are let through
// wherever a text is wanted, and what a type's own reader or Validate objects to
// is not known to it, except for a [Description]'s pattern.
func Schema(v any, title, id string) ([]byte, error) {
	t := reflect.TypeOf(v)
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	b := schemaBuilder{defs: jsonschema.Definitions{}, names: map[reflect.Type]string{}, taken: map[string]bool{}}
	top := b.of(t, rules{})
	root := &jsonschema.Schema{
		Version:     jsonschema.Version,
		ID:          jsonschema.ID(id),
		Title:       title,
		Ref:         top.Ref,
		Definitions: b.defs,
	}
	if top.Ref == "" {
		*root = *top
		root.Version, root.ID, root.Title, root.Definitions = jsonschema.Version, jsonschema.ID(id), title, b.defs
	}
	out, err := json.MarshalIndent(root, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("the schema of %v cannot be written: %w", t, err)
	}
	return append(out, '\n'), nil
}

// schemaBuilder walks the types Read walks, by the same tags. The reflector of
// the schema library cannot be used for that: it knows neither these tags nor
// types that take more than one kind of value.
type schemaBuilder struct {
	defs  jsonschema.Definitions
	names map[reflect.Type]string
	taken map[string]bool
}

// anyScalar is the type of what a plain text may look like once YAML has read it.
var anyScalar = []string{"string", "number", "boolean"}

// of is the schema of a value of type t.
func (b *schemaBuilder) of(t reflect.Type, ru rules) *jsonschema.Schema {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	self := reflect.New(t).Interface()
	_, fromScalar := self.(ScalarReader)
	lists, fromList := self.(ListReader)
	_, several := self.(oneOrList)
	var ways []*jsonschema.Schema
	if fromScalar {
		ways = append(ways, textSchema(self, t, ru))
	}
	if fromList {
		ways = append(ways, b.of(reflect.TypeOf(lists.ListInto()), ru))
	}
	if several && (ru.min == nil || *ru.min <= 1) {
		ways = append(ways, b.of(t.Elem(), rules{unit: ru.unit}))
	}
	if _, text := self.(textUnmarshaler); text && len(ways) == 0 {
		return textSchema(self, t, ru)
	}
	if own := b.byKind(t, ru, fromScalar || fromList); own != nil {
		ways = append(ways, own)
	}
	if len(ways) == 1 {
		return ways[0]
	}
	return &jsonschema.Schema{OneOf: ways}
}

// byKind is the schema of what a Go type takes by its kind alone. A union whose
// kind is one that reading from text or a list already covers, or that cannot be
// read, has no way of its own.
func (b *schemaBuilder) byKind(t reflect.Type, ru rules, union bool) *jsonschema.Schema {
	switch t.Kind() {
	case reflect.Struct:
		if union && len(recordOf(t).fields) == 0 {
			return nil
		}
		return b.structure(t)
	case reflect.Slice:
		if _, covered := reflect.New(t).Interface().(ListReader); covered {
			return nil
		}
		s := &jsonschema.Schema{Type: "array", Items: b.of(t.Elem(), rules{unit: ru.unit})}
		s.MinItems, s.MaxItems = unsigned(ru.min), unsigned(ru.max)
		return s
	case reflect.Map:
		s := &jsonschema.Schema{Type: "object", AdditionalProperties: b.of(t.Elem(), rules{unit: ru.unit})}
		if words, ok := allowedOf(t.Key()); ok {
			s.PropertyNames = &jsonschema.Schema{Enum: anys(words)}
		}
		return s
	}
	if union {
		return nil
	}
	switch t.Kind() {
	case reflect.String:
		if words, ok := allowedOf(t); ok {
			return &jsonschema.Schema{Type: "string", Enum: anys(words)}
		}
		return &jsonschema.Schema{Extras: map[string]any{"type": anyScalar}}
	case reflect.Bool:
		return &jsonschema.Schema{Type: "boolean"}
	case reflect.Int, reflect.Int64:
		return &jsonschema.Schema{Type: "integer", Minimum: number(ru.min), Maximum: number(ru.max)}
	}
	panic(fmt.Sprintf("document: %v cannot be read", t))
}

// structure is a reference to the definition of a struct type.
func (b *schemaBuilder) structure(t reflect.Type) *jsonschema.Schema {
	name, ok := b.names[t]
	if !ok {
		name = b.name(t)
		b.names[t] = name
		s := &jsonschema.Schema{Type: "object", AdditionalProperties: jsonschema.FalseSchema, Properties: orderedmap.New[string, *jsonschema.Schema]()}
		b.defs[name] = s
		s.Description = describe(reflect.New(t).Interface()).Doc
		for _, f := range recordOf(t).fields {
			value := b.of(f.typ, f.rules)
			if f.doc != "" {
				value.Description = withUnit(f.doc, f.rules)
			}
			s.Properties.Set(f.name, value)
			if f.required {
				s.Required = append(s.Required, f.name)
			}
		}
	}
	return &jsonschema.Schema{Ref: "#/$defs/" + name}
}

// name is the type's name, numbered if another package's type has it already.
func (b *schemaBuilder) name(t reflect.Type) string {
	base := t.Name()
	if base == "" {
		base = "Group"
	}
	name := base
	for i := 2; b.taken[name]; i++ {
		name = base + strconv.Itoa(i)
	}
	b.taken[name] = true
	return name
}

// withUnit adds to a description what a bare number means.
func withUnit(doc string, ru rules) string {
	switch {
	case ru.unit == "":
		return doc
	case doc == "":
		return "a number without a unit is in " + ru.unit
	}
	return doc + "; a number without a unit is in " + ru.unit
}

// textSchema is the schema of a type that reads itself from text.
func textSchema(self any, t reflect.Type, ru rules) *jsonschema.Schema {
	about := describe(self)
	s := &jsonschema.Schema{Description: about.Doc, Pattern: about.Pattern, Examples: anys(about.Examples)}
	if words, ok := allowedOf(t); ok {
		s.Type, s.Enum = "string", anys(words)
		return s
	}
	switch {
	case ru.unit != "":
		s.Extras = map[string]any{"type": []string{"string", "number"}}
		s.Description = withUnit(about.Doc, ru)
	case inUnits(t):
		s.Type = "string"
	default:
		s.Extras = map[string]any{"type": anyScalar}
	}
	return s
}

func anys(words []string) []any {
	var out []any
	for _, w := range words {
		out = append(out, w)
	}
	return out
}

func number(n *int64) json.Number {
	if n == nil {
		return ""
	}
	return json.Number(strconv.FormatInt(*n, 10))
}

func unsigned(n *int64) *uint64 {
	if n == nil || *n < 0 {
		return nil
	}
	u := uint64(*n)
	return &u
}
