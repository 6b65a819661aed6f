package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"

	"stallwright/app/page"
	"stallwright/app/sawing"
	"stallwright/engine/job"
)

// answers are what the page's questions are answered with.
var answers = []any{page.Drawing{}, page.Choices{}, page.Walk{}, page.Verdict{}, page.Reason{}, sawing.SawMaterial{}, page.Steps{}, page.Planned{}, page.Offer{}, page.Checked{}, page.Screen{}, page.Summary{}, page.Part{}, page.Model{}}

// writeTypes writes the answers' Go types as TypeScript, so that the two cannot
// drift apart.
func writeTypes() error {
	m := maker{names: map[reflect.Type]string{}, taken: map[string]bool{}}
	for _, v := range answers {
		m.of(reflect.TypeOf(v))
	}
	out := "// Made from the Go types by the build; do not change.\n" + strings.Join(m.out, "")
	names, err := json.Marshal(job.StarterNames())
	if err != nil {
		return err
	}
	out += fmt.Sprintf("\nexport const starterNames: readonly string[] = %s;\n", names)
	path := home + "/src/made/answers.ts"
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, []byte(out), 0o644)
}

type maker struct {
	names map[reflect.Type]string
	taken map[string]bool
	out   []string
}

// of is the TypeScript type of a Go type.
func (m *maker) of(t reflect.Type) string {
	switch {
	case t == reflect.TypeFor[json.RawMessage]():
		return "unknown"
	case t == reflect.TypeFor[[]byte](): // in base 64
		return "string"
	case t.Implements(reflect.TypeFor[json.Marshaler]()), t.Implements(reflect.TypeFor[interface{ MarshalText() ([]byte, error) }]()):
		return "string"
	}
	switch t.Kind() {
	case reflect.Bool:
		return "boolean"
	case reflect.String:
		return "string"
	case reflect.Slice, reflect.Array:
		return m.of(t.Elem()) + "[]"
	case reflect.Map:
		return "Record<string, " + m.of(t.Elem()) + ">"
	case reflect.Pointer:
		return m.of(t.Elem())
	case reflect.Struct:
		return m.object(t)
	case reflect.Interface:
		return "unknown"
	default:
		return "number"
	}
}

func (m *maker) object(t reflect.Type) string {
	if name, ok := m.names[t]; ok {
		return name
	}
	name := strings.TrimSuffix(t.Name(), "Doc")
	if m.taken[name] {
		name = strings.ToUpper(filepath.Base(t.PkgPath())[:1]) + filepath.Base(t.PkgPath())[1:] + name
	}
	m.names[t], m.taken[name] = name, true
	var b strings.Builder
	fmt.Fprintf(&b, "\nexport interface %s {\n", name)
	for _, f := range reflect.VisibleFields(t) {
		tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if !f.IsExported() || tag == "-" || f.Anonymous {
			continue
		}
		if tag == "" {
			tag = f.Name
		}
		mark, null := "", ""
		if strings.Contains(f.Tag.Get("json"), ",omitempty") {
			mark = "?"
		} else if k := f.Type.Kind(); k == reflect.Slice || k == reflect.Map {
			null = " | null"
		}
		fmt.Fprintf(&b, "  %s%s: %s%s;\n", tag, mark, m.of(f.Type), null)
	}
	b.WriteString("}\n")
	m.out = append(m.out, b.String())
	return name
}
