package document_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"

	"stallwright/engine/document"
)

const schemaID = "https://stallwright.example/order.schema.json"

// compiled checks with github.com/santhosh-tekuri/jsonschema, which first checks
// the schema against the draft's own.
func compiled(t *testing.T, v any) *jsonschema.Schema {
	t.Helper()
	text, err := document.Schema(v, "Order", schemaID)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(schemaID, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(schemaID)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON is the document as an editor sees it: keys are texts, and values what
// another YAML reader (go.yaml.in/yaml) takes them for.
func asJSON(t fataler, src string) any {
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(src), &root); err != nil {
		t.Fatalf("%v\nreading\n%s", err, src)
	}
	j, err := json.Marshal(plainValue(t, root.Content[0]))
	if err != nil {
		t.Fatalf("%v\nreading\n%s", err, src)
	}
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(j))
	if err != nil {
		t.Fatalf("%v", err)
	}
	return out
}

func plainValue(t fataler, n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		eachKey(n, func(key, value *yaml.Node) { m[key.Value] = plainValue(t, value) })
		return m
	case yaml.SequenceNode:
		l := []any{}
		for _, item := range n.Content {
			l = append(l, plainValue(t, item))
		}
		return l
	}
	var v any
	if err := n.Decode(&v); err != nil {
		t.Fatalf("%v", err)
	}
	return v
}

type fataler interface{ Fatalf(string, ...any) }

// What Read accepts the schema accepts.
func TestSchemaAcceptsWhatReadAccepts(t *testing.T) {
	s := compiled(t, order{})
	rapid.Check(t, func(t *rapid.T) {
		w := writer{t: t}
		w.order(anyOrder(t))
		if err := s.Validate(asJSON(t, w.String())); err != nil {
			t.Fatalf("%v\nreading\n%s", err, w.String())
		}
	})
}

// Each kind of mistake the schema can know of is refused by both.
func TestSchemaRefuses(t *testing.T) {
	s := compiled(t, order{})
	for name, src := range map[string]string{
		"unknown key":            fine + "colour: red\n",
		"unknown key in a list":  "name: A\nrooms: [{name: N, width: 12', widht: 1'}]\n",
		"required key missing":   "name: A\n",
		"required in a list":     "name: A\nrooms: [{name: N}]\n",
		"value left out":         "name:\nrooms: [{name: N, width: 12'}]\n",
		"single value for list":  "name: A\nrooms: 3\n",
		"list for single value":  "name: [A]\nrooms: [{name: N, width: 12'}]\n",
		"group for a value":      "name: {a: b}\nrooms: [{name: N, width: 12'}]\n",
		"length without a unit":  "name: A\nrooms: [{name: N, width: 12}]\n",
		"word not allowed":       "name: A\nrooms: [{name: N, width: 12', kind: attic}]\n",
		"word as a key":          fine + "counts: {attic: 2}\n",
		"not a truth":            "name: A\nrooms: [{name: N, width: 12', lit: maybe}]\n",
		"not an integer":         "name: A\nrooms: [{name: N, width: 12', doors: 1.5}]\n",
		"integer as a text":      "name: A\nrooms: [{name: N, width: 12', doors: \"1\"}]\n",
		"integer out of range":   "name: A\nrooms: [{name: N, width: 12', doors: 4}]\n",
		"too few items":          "name: A\nrooms: []\n",
		"length in a union":      "name: A\nrooms: [{name: N, width: 12', spacing: [12]}]\n",
		"unknown key in a union": "name: A\nrooms: [{name: N, width: 12', left: {tip: 1'}}]\n",
		"list in a list":         "name: A\nrooms: [{name: N, width: 12', spacing: [[12']]}]\n",
		"pattern":                "name: A\nrooms: [{name: N, width: 12', plate: abcdefghijklmnopqrstuvwxyz}]\n",
	} {
		var o order
		if document.Read("o.yaml", []byte(src), &o) == nil {
			t.Errorf("%s: Read accepts\n%s", name, src)
		}
		if s.Validate(asJSON(t, src)) == nil {
			t.Errorf("%s: the schema accepts\n%s", name, src)
		}
	}
}

// Types of one name from different places are kept apart, and a type that
// contains itself ends.
func TestSchemaNames(t *testing.T) {
	type room struct {
		Inner []room `yaml:"inner"`
	}
	type both struct {
		A room  `yaml:"a"`
		B order `yaml:"b"`
	}
	s := compiled(t, both{})
	for src, ok := range map[string]bool{
		"{a: {inner: [{inner: []}]}}":                      true,
		"{b: {name: A, rooms: [{name: N, width: 12'}]}}":   true,
		"{b: {name: A, rooms: [{inner: []}]}}":             false,
		"{a: {name: N, width: 12'}}":                       false,
		"{a: {inner: [{inner: [{name: N, width: 12'}]}]}}": false,
	} {
		if err := s.Validate(asJSON(t, src)); (err == nil) != ok {
			t.Errorf("%s: %v", src, err)
		}
	}
}

func TestSchemaIsTheSameEachTime(t *testing.T) {
	first, err := document.Schema(&order{}, "Order", schemaID)
	if err != nil {
		t.Fatal(err)
	}
	for range 20 {
		again, err := document.Schema(order{}, "Order", schemaID)
		if err != nil || !bytes.Equal(first, again) {
			t.Fatal("differs", err)
		}
	}
}

func TestSchemaOfNoStruct(t *testing.T) {
	s := compiled(t, []string{})
	if s.Validate(asJSON(t, "[a, 1]")) != nil || s.Validate(asJSON(t, "{a: b}")) == nil {
		t.Error("a list is not a list")
	}
}
