package web

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"stallwright/app/store"
	"stallwright/app/store/storetest"
	"stallwright/engine/kit"
	"stallwright/engine/price"
)

var update = flag.Bool("update", false, "write docs/api/openapi.json anew")

const described = "../../docs/api/openapi.json"

// The description that is published is the one the server serves.
func TestDescriptionHasNotDrifted(t *testing.T) {
	a := start(t, sqlite(t), func(c *Config) { c.Version = "development" })
	got := a.call("GET", "/openapi.json", nil).want(200).Body
	if *update {
		if err := os.WriteFile(described, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(described)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("docs/api/openapi.json has drifted; write it anew with: go test ./app/web -run Description -update")
	}
}

// description is an OpenAPI 3.1 description, as far as the tests read it.
type description struct {
	OpenAPI string
	Paths   map[string]map[string]operation
	whole   map[string]any
}

type operation struct {
	OperationID string `json:"operationId"`
	Parameters  []struct {
		Name, In string
		Required bool
		Schema   map[string]any
	}
	RequestBody *struct {
		Content map[string]struct{ Schema map[string]any }
	}
	Responses map[string]struct {
		Content map[string]struct{ Schema map[string]any }
	}
}

func (a *app) described() *description {
	a.t.Helper()
	body := a.call("GET", "/openapi.json", nil).want(200).Body
	d := &description{}
	for _, into := range []any{d, &d.whole} {
		if err := json.Unmarshal(body, into); err != nil {
			a.t.Fatal(err)
		}
	}
	return d
}

// Every operation of the table that is part of the API is described, with who may
// use it, and nothing else is.
func TestAllOperationsAreDescribed(t *testing.T) {
	a := start(t, sqlite(t))
	d := a.described()
	if d.OpenAPI != "3.1.0" {
		t.Error(d.OpenAPI)
	}
	var got, want []string
	for path, methods := range d.Paths {
		for m, o := range methods {
			got = append(got, strings.ToUpper(m)+" "+path+" "+o.OperationID)
		}
	}
	for _, r := range Routes() {
		if strings.HasPrefix(r.Path, "/api/") {
			want = append(want, r.Method+" "+r.Path+" "+r.Name)
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("described: %q\nin the table: %q", got, want)
	}
}

// schemas compile the description's schemas once.
type schemas struct {
	compiler *jsonschema.Compiler
	made     map[string]*jsonschema.Schema
}

func newSchemas(t *testing.T, d *description) *schemas {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020) // OpenAPI 3.1.0, section 4.8.24: JSON Schema 2020-12
	if err := c.AddResource("openapi.json", d.whole); err != nil {
		t.Fatal(err)
	}
	return &schemas{c, map[string]*jsonschema.Schema{}}
}

// check holds an answer against the description. An answer of a status or type that
// is not described is wrong too.
func (s *schemas) check(path, method string, o *operation, r *reply) error {
	status := fmt.Sprint(r.Status)
	res, ok := o.Responses[status]
	if !ok {
		if res, ok = o.Responses["default"]; !ok {
			return fmt.Errorf("status %s is not described", status)
		}
		status = "default"
	}
	if len(res.Content) == 0 {
		if len(r.Body) > 0 {
			return fmt.Errorf("status %s is described as empty, and holds %.200s", status, r.Body)
		}
		return nil
	}
	kind, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";")
	if r.Status == http.StatusNotModified {
		return nil
	}
	if _, ok := res.Content[kind]; !ok {
		return fmt.Errorf("status %s: the type %q is not described, only %v", status, kind, slices.Sorted(maps.Keys(res.Content)))
	}
	if !strings.HasSuffix(kind, "json") || res.Content[kind].Schema["format"] == "binary" {
		return nil
	}
	esc := strings.NewReplacer("~", "~0", "/", "~1")
	at := "openapi.json#/paths/" + url.PathEscape(esc.Replace(path)) + "/" + method + "/responses/" + status + "/content/" + url.PathEscape(esc.Replace(kind)) + "/schema"
	if s.made[at] == nil {
		v, err := s.compiler.Compile(at)
		if err != nil {
			return err
		}
		s.made[at] = v
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(r.Body))
	if err != nil {
		return fmt.Errorf("%w in %.200s", err, r.Body)
	}
	return s.made[at].Validate(v)
}

// hostile are texts that have broken servers.
var hostile = []string{
	"", " ", "0", "-1", "null", "undefined", "true", "NaN", "1e999", "9223372036854775808", "../../../../etc/passwd", "..\\..\\x", "C:\\x", "file:///etc/passwd",
	"'", "\"", "`", "; DROP TABLE job; --", "' OR '1'='1", "%27", "%00", "%s%s%n", "${7*7}", "{{7*7}}", "<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>",
	"javascript:alert(1)", "\u202eevil", "\u0000", "\ufeff", "é", "e\u0301", "木", "🐴", "\r\nSet-Cookie: a=b", "a\nb", "\t", "*", "W/\"x\"", "\"1-000000000000\"",
	"https://evil.example/", "//evil.example", "A1-A2/c7", "farm", "ours.yaml", "1-", "-", "_", strings.Repeat("a", 300), strings.Repeat("é", 5000), strings.Repeat("[", 5000),
}

// fuzzer makes requests from the description.
type fuzzer struct {
	r    *rand.Rand
	d    *description
	seen []string // ids, tags and names that the server gave
}

func pick[T any](r *rand.Rand, list []T) T { return list[r.IntN(len(list))] }

// value draws a value for a schema: mostly what fits it, else anything.
func (f *fuzzer) value(schema map[string]any, depth int) any {
	if ref, ok := schema["$ref"].(string); ok {
		name := ref[strings.LastIndex(ref, "/")+1:]
		schema, _ = f.d.whole["components"].(map[string]any)["schemas"].(map[string]any)[name].(map[string]any)
	}
	if f.r.IntN(8) == 0 || depth > 5 {
		return pick(f.r, []any{nil, true, -1, 1.5, 1e300, "", []any{}, map[string]any{}, pick(f.r, hostile), map[string]any{"x": "y"}})
	}
	if list, ok := schema["enum"].([]any); ok && f.r.IntN(6) > 0 {
		return pick(f.r, list)
	}
	kind, _ := schema["type"].(string)
	if kinds, ok := schema["type"].([]any); ok {
		kind, _ = pick(f.r, kinds).(string)
	}
	switch kind {
	case "integer", "number":
		return pick(f.r, []any{0, 1, 2, 3, 100, -1, 1 << 40, 1e15, 0.5})
	case "boolean":
		return f.r.IntN(2) == 0
	case "array":
		items, _ := schema["items"].(map[string]any)
		out := []any{}
		for range f.r.IntN(4) {
			out = append(out, f.value(items, depth+1))
		}
		return out
	case "object":
		props, _ := schema["properties"].(map[string]any)
		out := map[string]any{}
		for _, name := range slices.Sorted(maps.Keys(props)) {
			if f.r.IntN(7) > 0 {
				sub, _ := props[name].(map[string]any)
				out[name] = f.value(sub, depth+1)
			}
		}
		if f.r.IntN(10) == 0 {
			out[pick(f.r, hostile)] = pick(f.r, hostile)
		}
		return out
	case "string":
		return f.word()
	}
	return pick(f.r, []any{json.RawMessage(note("n"+fmt.Sprint(f.r.IntN(5)), "L3-left", f.r.IntN(300))), json.RawMessage(cutLine("c1")), f.word(), nil})
}

func (f *fuzzer) word() string {
	if len(f.seen) > 0 && f.r.IntN(2) == 0 {
		return pick(f.r, f.seen)
	}
	return pick(f.r, hostile)
}

// learn keeps what the server said, so that later requests find something.
func (f *fuzzer) learn(r *reply) {
	if tag := r.Header.Get("ETag"); tag != "" && len(f.seen) < 200 {
		f.seen = append(f.seen, tag)
	}
	var v map[string]any
	if json.Unmarshal(r.Body, &v) != nil || len(f.seen) >= 200 {
		return
	}
	for _, k := range []string{"id", "name", "tag"} {
		if s, ok := v[k].(string); ok && s != "" {
			f.seen = append(f.seen, s)
		}
	}
}

// Every operation of the description is asked for with random and hostile values.
// Nothing panics, nothing answers 5xx, every answer is as described, and afterwards
// the server still works.
func TestFuzzedFromItsDescription(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		d := a.described()
		s := newSchemas(t, d)
		// At the door nothing is learned by trying names: without this it slows down.
		seed := uint64(20260504)
		f := &fuzzer{r: rand.New(rand.NewPCG(seed, 1)), d: d, seen: []string{"farm", "pen", "ours.yaml", "1", "kits", "yards"}}
		a.make("farm", exampleJob(t, "harrow-field-pen"))
		a.make("pen", exampleJob(t, "harrow-field-pen"))
		var paths []string
		for p := range d.Paths {
			paths = append(paths, p)
		}
		slices.Sort(paths)
		reached := map[string]int{}
		rounds := 34
		if testing.Short() {
			rounds = 10
		}
		for range rounds {
			for _, p := range paths {
				for _, m := range slices.Sorted(maps.Keys(d.Paths[p])) {
					o := d.Paths[p][m]
					if o.OperationID == "live" || o.OperationID == "add-account" || o.OperationID == "sign-in" {
						continue // one does not end, one closes the door, one is slow on purpose: each has its own tests
					}
					if heavy[o.OperationID] && f.r.IntN(6) > 0 {
						continue // makes a whole packet each time the job changed
					}
					r := a.send(f, p, m, &o)
					if r == nil {
						continue
					}
					if r.Status >= 500 {
						t.Fatalf("seed %d, %s: %d %s\n%s", seed, o.OperationID, r.Status, r.Body, a.log.last(3))
					}
					if r.Status != 405 && r.Status != 307 && r.Status != 404 && !(r.Status == 400 && strings.Contains(string(r.Body), "characters")) {
						if err := s.check(p, m, &o, r); err != nil {
							t.Fatalf("%s: %v", o.OperationID, err)
						}
					}
					if r.Status < 300 {
						reached[o.OperationID]++
					}
					f.learn(r)
				}
			}
		}
		if len(reached) < 30 && !testing.Short() {
			t.Errorf("only %d operations were ever answered well: %v", len(reached), slices.Sorted(maps.Keys(reached)))
		}
		a.call("GET", "/api/jobs", nil).want(200)
		a.call("GET", "/healthz", nil).want(200)
	})
}

// heavy are operations that may make a packet.
var heavy = map[string]bool{"list-files": true, "read-file": true, "read-packet": true}

// goodBody is a request that an operation takes; nil where drawn values do.
func (f *fuzzer) goodBody(a *app, operation, path string) []byte {
	switch {
	case operation == "add-photo":
		return jpegOf(a.t, halves(4, 4))
	case operation == "import-job":
		return []byte(exampleJob(a.t, "harrow-field-pen"))
	case operation == "save-shop" && strings.Contains(path, "yards"):
		return raw(text("length,price,available,material\n12',9.80,,pine\n"))
	case operation == "save-shop" && strings.Contains(path, "prices"):
		return raw(text(string(price.Starter())))
	case operation == "save-shop":
		_, own, _ := kit.Shipped("fernhollow")
		return raw(text(string(own)))
	case operation == "save-job":
		return raw(text(strings.Replace(exampleJob(a.t, "harrow-field-pen"), "Harrow Field", "Harrow "+fmt.Sprint(f.r.IntN(9)), 1)))
	}
	return nil
}

// shopFile is the name of a file of the kind that an address names.
func shopFile(path string) string {
	if strings.Contains(path, "yards") {
		return "mill.csv"
	}
	return "ours.yaml"
}

// send makes one request; nil where net/http itself does not let it out.
func (a *app) send(f *fuzzer, path, method string, o *operation) *reply {
	a.t.Helper()
	q := url.Values{}
	header := http.Header{}
	for _, p := range o.Parameters {
		v := fmt.Sprint(f.value(p.Schema, 0))
		switch p.In {
		case "path":
			if f.r.IntN(3) > 0 {
				v = map[string]string{"job": pick(f.r, []string{"farm", "pen"}), "kind": pick(f.r, []string{"kits", "prices", "yards"}), "number": "1", "name": shopFile(path), "photo": "p1"}[p.Name]
				if p.Name == "link" || p.Name == "account" {
					v = f.word()
				}
			}
			path = strings.ReplaceAll(path, "{"+p.Name+"}", url.PathEscape(v))
		case "query":
			if p.Required || f.r.IntN(2) == 0 {
				q.Set(p.Name, v)
			}
		case "header":
			if p.Required || f.r.IntN(3) > 0 {
				if strings.ContainsAny(v, "\r\n\x00") {
					continue // no client sends these
				}
				header.Set(p.Name, v)
			}
		}
	}
	var body []byte
	kind := ""
	if o.RequestBody != nil {
		kind = pick(f.r, slices.Sorted(maps.Keys(o.RequestBody.Content)))
		if strings.HasSuffix(kind, "json") {
			body, _ = json.Marshal(f.value(o.RequestBody.Content[kind].Schema, 0))
		} else {
			body = []byte(pick(f.r, append(hostile, exampleJob(a.t, "harrow-field-pen"), "PK\x03\x04", "\xff\xd8\xff")))
		}
		if good := f.goodBody(a, o.OperationID, path); good != nil && f.r.IntN(2) == 0 {
			body = good
		}
		if f.r.IntN(12) == 0 && len(body) > 0 {
			body = body[:f.r.IntN(len(body))]
		}
	}
	if q := q.Encode(); q != "" {
		path += "?" + q
	}
	if _, err := url.Parse(a.http.URL + path); err != nil {
		return nil
	}
	args := []string{}
	for k := range header {
		args = append(args, k, header.Get(k))
	}
	if kind != "" {
		return a.call(strings.ToUpper(method), path, body, append(args, "Content-Type", kind)...)
	}
	return a.call(strings.ToUpper(method), path, nil, args...)
}
