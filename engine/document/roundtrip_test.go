package document_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// An order written in any style of YAML reads back as the same order, and an
// independent YAML reader (go.yaml.in/yaml) finds the same values in the same
// places.
func TestReadBackAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := anyOrder(t)
		w := writer{t: t}
		w.order(want)
		src := w.String()
		var got order
		if err := document.Read("o.yaml", []byte(src), &got); err != nil {
			t.Fatalf("%v\nreading\n%s", err, src)
		}
		if diff := cmp.Diff(want, got, placeless, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("-want +got\n%s\nreading\n%s", diff, src)
		}
		samePlaces(t, src, got)
	})
}

// samePlaces compares places with those of the other reader.
func samePlaces(t *rapid.T, src string, o order) {
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(src), &root); err != nil {
		t.Fatalf("the other reader: %v\nreading\n%s", err, src)
	}
	compare := func(what string, ours document.Pos, theirs *yaml.Node) {
		if ours.Line != theirs.Line || ours.Column != theirs.Column {
			t.Fatalf("%s is at %v, and at %d:%d to the other reader, in\n%s", what, ours, theirs.Line, theirs.Column, src)
		}
	}
	eachKey(root.Content[0], func(key, value *yaml.Node) {
		compare(key.Value, o.KeyOf(key.Value), key)
		compare("the value of "+key.Value, o.Of(key.Value), value)
		switch key.Value {
		case "heights":
			eachKey(value, func(k, v *yaml.Node) {
				compare("heights."+k.Value, o.KeyOf("heights."+k.Value), k)
				compare("the value of heights."+k.Value, o.Of("heights."+k.Value), v)
			})
		case "rooms":
			for i, item := range value.Content {
				compare(fmt.Sprintf("rooms[%d]", i), o.Of(fmt.Sprintf("rooms[%d]", i)), item)
				eachKey(item, func(k, v *yaml.Node) {
					compare("a room's "+k.Value, o.Rooms[i].Of(k.Value), v)
					for j, length := range v.Content {
						if v.Kind == yaml.SequenceNode {
							at := fmt.Sprintf("%s[%d]", k.Value, j)
							compare("a room's "+at, o.Rooms[i].Of(at), length)
						}
					}
				})
			}
		}
	})
}

func eachKey(n *yaml.Node, do func(key, value *yaml.Node)) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		do(n.Content[i], n.Content[i+1])
	}
}

func anyOrder(t *rapid.T) order {
	o := order{Name: anyText(t, "name")}
	if rapid.Bool().Draw(t, "noted") {
		o.Notes = strings.Join(rapid.SliceOfN(rapid.StringMatching(`[a-z#:'"\-|>é🐴][a-z ,#:'"é]{0,8}[a-z:"]`), 1, 4).Draw(t, "notes"), "\n")
	}
	for range rapid.IntRange(1, 4).Draw(t, "rooms") {
		o.Rooms = append(o.Rooms, anyRoom(t))
	}
	if rapid.Bool().Draw(t, "high") {
		o.Heights = map[string]measure.Length{}
		for range rapid.IntRange(1, 3).Draw(t, "heights") {
			o.Heights[anyText(t, "height")] = anyLength(t)
		}
	}
	if rapid.Bool().Draw(t, "crewed") {
		o.Crew = &crew{People: rapid.IntRange(1, 1_000_000).Draw(t, "people")}
	}
	return o
}

func anyRoom(t *rapid.T) room {
	r := room{
		Name:  anyText(t, "room"),
		Width: anyLength(t) + 12*measure.Foot,
		Kind:  rapid.SampledFrom(append([]kindOfRoom{""}, "stall", "wash-bay", "tack-room")).Draw(t, "kind"),
		Doors: rapid.IntRange(0, 3).Draw(t, "doors"),
		Lit:   rapid.Bool().Draw(t, "lit"),
		Play:  measure.Length(rapid.IntRange(0, 400).Draw(t, "play")) * measure.Millimetre / 8,
		Plate: plate{rapid.SampledFrom([]string{"", "no", "012", "12:30", "1e3", `5/8"`, "~x", "- x", "a: b", "x #1", "'", `"`, "[", "{}", "&a", "*", "!x", "%", "@", "?", "true", "null"}).Draw(t, "plate")},
	}
	for range rapid.IntRange(0, 3).Draw(t, "lengths") {
		r.Spacing = append(r.Spacing, anyLength(t))
	}
	switch rapid.IntRange(0, 2).Draw(t, "left") {
	case 1:
		r.Left = tapes{Top: anyLength(t), Bottom: anyLength(t)}
	case 2:
		for range rapid.IntRange(1, 3).Draw(t, "tapes") {
			r.Left.all = append(r.Left.all, anyLength(t))
		}
	}
	return r
}

// anyLength is a whole number of sixteenths or millimetres.
func anyLength(t *rapid.T) measure.Length {
	step := rapid.SampledFrom([]measure.Length{measure.Inch / 16, measure.Millimetre}).Draw(t, "step")
	return step * measure.Length(rapid.IntRange(1, 4000).Draw(t, "steps"))
}

func anyText(t *rapid.T, label string) string {
	return rapid.StringMatching(`[A-Za-z0-9éß🐴'"#:,\[\]{}&*!|>%@?\-~]{1,3}( ?[A-Za-z0-9éß🐴'"#:,\[\]{}\-]{1,4}){0,3}`).Draw(t, label)
}

// writer writes YAML in styles it draws.
type writer struct {
	strings.Builder
	t *rapid.T
}

func (w *writer) yes(label string) bool { return rapid.Bool().Draw(w.t, label) }

// end ends a line, now and then with a comment or an empty line.
func (w *writer) end() {
	w.WriteString(rapid.SampledFrom([]string{"\n", "\n", "\n", "   \n", " # it's a \"note\": x\n", "\n\n", "\n# note\n", "\n   # 'note\n"}).Draw(w.t, "end"))
}

type pair struct{ key, value string } // value as YAML; in block style if it starts with a line end

func (w *writer) order(o order) {
	pairs := []pair{{"name", w.text(o.Name, false)}, {"rooms", w.rooms(o.Rooms)}}
	if o.Notes != "" {
		pairs = append(pairs, pair{"notes", w.notes(o.Notes)})
	}
	if len(o.Heights) > 0 {
		pairs = append(pairs, pair{"heights", w.heights(o.Heights)})
	}
	if o.Crew != nil {
		pairs = append(pairs, pair{"crew", fmt.Sprintf("{people: %d}", o.Crew.People)})
	}
	for _, p := range rapid.Permutation(pairs).Draw(w.t, "keys") {
		w.WriteString(p.key + ":" + gap(p.value) + p.value)
		if strings.HasPrefix(p.value, "|") {
			w.WriteString("\n") // anything more would be text
			continue
		}
		w.end()
	}
}

func gap(value string) string {
	if strings.HasPrefix(value, "\n") {
		return ""
	}
	return " "
}

func (w *writer) rooms(rooms []room) string {
	pad := strings.Repeat(" ", rapid.IntRange(0, 4).Draw(w.t, "indent"))
	var b strings.Builder
	for _, r := range rooms {
		pairs := w.room(r)
		if w.yes("flow") {
			b.WriteString("\n" + pad + "- " + flow(pairs))
			continue
		}
		for i, p := range pairs {
			lead := "\n" + pad + "  "
			if i == 0 {
				lead = "\n" + pad + "- "
			}
			b.WriteString(lead + p.key + ":" + gap(p.value) + strings.ReplaceAll(p.value, "\n", "\n"+pad+"  "))
		}
	}
	return b.String()
}

func flow(pairs []pair) string {
	var parts []string
	for _, p := range pairs {
		parts = append(parts, p.key+": "+p.value)
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// room gives values that may stand in brackets.
func (w *writer) room(r room) []pair {
	pairs := []pair{{"name", w.text(r.Name, true)}, {"width", w.text(r.Width.String(), true)}}
	if r.Kind != "" {
		pairs = append(pairs, pair{"kind", string(r.Kind)})
	}
	if r.Doors > 0 {
		pairs = append(pairs, pair{"doors", fmt.Sprint(r.Doors)})
	}
	if r.Lit {
		pairs = append(pairs, pair{"lit", "true"})
	}
	switch {
	case r.Play == 0:
	case r.Play%measure.Millimetre == 0 && w.yes("bare"):
		pairs = append(pairs, pair{"play", fmt.Sprint(int64(r.Play / measure.Millimetre))})
	default:
		pairs = append(pairs, pair{"play", w.text(r.Play.String(), true)})
	}
	if len(r.Spacing) > 0 {
		pairs = append(pairs, pair{"spacing", w.lengths(r.Spacing)})
	}
	if len(r.Left.all) > 0 {
		pairs = append(pairs, pair{"left", w.lengths(r.Left.all)})
	} else if r.Left.Top != 0 {
		pairs = append(pairs, pair{"left", flow([]pair{{"top", r.Left.Top.String()}, {"bottom", r.Left.Bottom.String()}})})
	}
	if r.Plate.text != "" {
		pairs = append(pairs, pair{"plate", w.text(r.Plate.text, true)})
	}
	return rapid.Permutation(pairs).Draw(w.t, "keys")
}

func (w *writer) lengths(ls []measure.Length) string {
	var parts []string
	for _, l := range ls {
		parts = append(parts, w.text(l.String(), true))
	}
	if len(ls) == 1 && w.yes("alone") {
		return parts[0]
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

func (w *writer) heights(hs map[string]measure.Length) string {
	var keys []string
	for k := range hs {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	var b strings.Builder
	for _, k := range keys {
		b.WriteString("\n  " + w.text(k, true) + ": " + w.text(hs[k].String(), false))
	}
	return b.String()
}

func (w *writer) notes(s string) string {
	if w.yes("block") {
		return "|-\n  " + strings.ReplaceAll(s, "\n", "\n  ")
	}
	return double(s)
}

func double(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(s) + `"`
}

// text writes s plain if YAML allows, or in either quotation marks.
func (w *writer) text(s string, inFlow bool) string {
	style := rapid.IntRange(0, 2).Draw(w.t, "style")
	if style == 0 && plainly(s, inFlow) {
		return s
	}
	if style == 1 {
		return double(s)
	}
	return "'" + strings.ReplaceAll(s, "'", "''") + "'"
}

// plainly says whether s can be a plain scalar (YAML 1.2.2, section 7.3.3), erring
// on the side of no.
func plainly(s string, inFlow bool) bool {
	switch s {
	case "", "~", "null":
		return false
	}
	if strings.ContainsAny(s[:1], "-?:,[]{}#&*!|>'\"%@` ~") || strings.Contains(s, ": ") || strings.Contains(s, " #") ||
		strings.HasSuffix(s, ":") || strings.HasSuffix(s, " ") {
		return false
	}
	return !inFlow || !strings.ContainsAny(s, ",[]{}:?") // the other reader stops at ?
}
