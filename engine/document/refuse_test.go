package document_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stallwright/engine/document"
)

func lines(s ...string) string { return strings.Join(s, "\n") + "\n" }

// Which of these are no YAML at all follows from YAML 1.2.2, chapters 6 to 9; the
// others are YAML that this package refuses.
var refusals = []struct {
	name string
	src  string
	want []string // place: message | hint
}{
	{"unknown key, with the nearest", lines(
		`name: A`,
		`rooms:`,
		`- name: N`,
		`  widht: 12'`,
		`  width: 12'`,
	), []string{
		`o.yaml:4:3: unknown key “widht” | did you mean “width”?`,
	}},
	{"unknown key unlike any", lines(
		`name: A`,
		`colour: red`,
		`rooms: [{name: N, width: 12'}]`,
	), []string{
		`o.yaml:2:1: unknown key “colour” | known here: “name”, “rooms”, “notes”, “heights”, “counts” and “crew”`,
	}},
	{"key written twice", lines(
		`name: A`,
		`rooms: [{name: N, width: 12'}]`,
		`name: B`,
	), []string{
		`o.yaml:3:1: the key “name” is written twice here, first on line 1 | keep one of them`,
	}},
	{"key written twice in brackets", lines(
		`name: A`,
		`rooms: [{name: N, width: 12', name: M}]`,
	), []string{
		`o.yaml:2:31: the key “name” is written twice here, first on line 2 | keep one of them`,
	}},
	{"required keys missing", lines(
		`notes: x`,
	), []string{
		`o.yaml:1:1: the required keys “name” and “rooms” are missing here | add “name: ...” (what the order is called), “rooms: ...” (what is built)`,
	}},
	{"required key missing in a list", lines(
		`name: A`,
		`rooms:`,
		`  - name: N`,
		`    width: 12'`,
		`  - width: 12'`,
	), []string{
		`o.yaml:5:5: the required key “name” is missing here | add “name: ...”`,
	}},
	{"value left out", lines(
		`name:`,
		`rooms: [{name: N, width: 12'}]`,
	), []string{
		`o.yaml:1:1: there is no value here | write a value, or leave the whole line out`,
	}},
	{"item left out", lines(
		`name: A`,
		`rooms:`,
		`  -`,
		`  - {name: N, width: 12'}`,
	), []string{
		`o.yaml:3:3: there is no value here | write a value, or leave the whole line out`,
	}},
	{"null written out", lines(
		`name: null`,
		`rooms: ~`,
	), []string{
		`o.yaml:1:7: “null” stands for no value | write a value, or leave the whole line out; the word itself goes in quotation marks`,
		`o.yaml:2:8: “~” stands for no value | write a value, or leave the whole line out; the word itself goes in quotation marks`,
	}},
	{"single value for a list", lines(
		`name: A`,
		`rooms: 3`,
	), []string{
		`o.yaml:2:8: a list is wanted here, but this is a single value | write each item on a line of its own after “- ”, or all in [ ] with commas`,
	}},
	{"single value for a group", lines(
		`name: A`,
		`rooms: [{name: N, width: 12'}]`,
		`crew: 3`,
	), []string{
		`o.yaml:3:7: a group of keys is wanted here, but this is a single value | write “key: value” lines, indented by two spaces; known here: “people”`,
	}},
	{"list for a single value", lines(
		`name: [A]`,
		`rooms: [{name: N, width: 12'}]`,
	), []string{
		`o.yaml:1:7: a single value is wanted here, but this is a list | write one value after the colon`,
	}},
	{"group for a single value", lines(
		`name: {first: A}`,
		`rooms: [{name: N, width: 12'}]`,
	), []string{
		`o.yaml:1:7: a single value is wanted here, but this is a group of keys | write one value after the colon`,
	}},
	{"list for the document", lines(
		`- name: A`,
	), []string{
		`o.yaml:1:1: a group of keys is wanted here, but this is a list | write “key: value” lines, indented by two spaces; known here: “name”, “rooms”, “notes”, “heights”, “counts” and “crew”`,
	}},
	{"text for the document", lines(
		`just some words`,
	), []string{
		`o.yaml:1:1: a group of keys is wanted here, but this is a single value | write “key: value” lines, indented by two spaces; known here: “name”, “rooms”, “notes”, “heights”, “counts” and “crew”`,
	}},
	{"length without a unit", lines(
		`name: A`,
		`rooms: [{name: N, width: 12}]`,
	), []string{
		`o.yaml:2:26: “12”: the unit is missing | write 12" for inches, 12' for feet or 12 mm`,
	}},
	{"length with a wrong unit", lines(
		`name: A`,
		`rooms: [{name: N, width: 12 yards}]`,
	), []string{
		`o.yaml:2:29: “12 yards”: “yards” is not a unit of length known here | write feet: a yard is 3 ft`,
	}},
	{"lengths in a list", lines(
		`name: A`,
		`rooms:`,
		`  - name: N`,
		`    width: 12'`,
		`    spacing: [12', 144, 11' 14"]`,
	), []string{
		`o.yaml:5:20: “144”: the unit is missing | write 144" for inches, 144' for feet or 144 mm`,
		`o.yaml:5:29: “11' 14"”: 14 inches after the feet is a foot or more | if that is the length write 12' 2"`,
	}},
	{"lengths in a map", lines(
		`name: A`,
		`rooms: [{name: N, width: 12'}]`,
		`heights: {left: 8', right: 8}`,
	), []string{
		`o.yaml:3:28: “8”: the unit is missing | write 8" for inches, 8' for feet or 8 mm`,
	}},
	{"length in a union", lines(
		`name: A`,
		`rooms: [{name: N, width: 12', left: x}, {name: M, width: 12', left: [12', y]}]`,
	), []string{
		`o.yaml:2:37: “x”: a number was expected here | write a number with its unit, such as 7 5/8" or 3540 mm`,
		`o.yaml:2:75: “y”: a number was expected here | write a number with its unit, such as 7 5/8" or 3540 mm`,
	}},
	{"word not allowed, nearest given", lines(
		`name: A`,
		`rooms: [{name: N, width: 12', kind: washbay}]`,
	), []string{
		`o.yaml:2:37: “washbay” is not one of the allowed words | did you mean “wash-bay”? Allowed are “stall”, “wash-bay” and “tack-room”`,
	}},
	{"word not allowed", lines(
		`name: A`,
		`rooms: [{name: N, width: 12', kind: aquarium}]`,
	), []string{
		`o.yaml:2:37: “aquarium” is not one of the allowed words | write “stall”, “wash-bay” or “tack-room”`,
	}},
	{"key of a map not allowed", lines(
		`name: A`,
		`rooms: [{name: N, width: 12'}]`,
		`counts: {stal: 2}`,
	), []string{
		`o.yaml:3:10: “stal” is not one of the allowed words | did you mean “stall”? Allowed are “stall”, “wash-bay” and “tack-room”`,
	}},
	{"yes for a bool", lines(
		`name: A`,
		`rooms: [{name: N, width: 12', lit: yes}, {name: M, width: 12', lit: "false"}]`,
	), []string{
		`o.yaml:2:36: “yes” is neither true nor false | write true`,
		`o.yaml:2:69: “false” is neither true nor false | write false, without quotation marks`,
	}},
	{"integers", lines(
		`name: A`,
		`rooms: [{name: N, width: 20', doors: 012}, {name: N, width: 20', doors: 1.0}, {name: N, width: 20', doors: "2"}, {name: N, width: 20', doors: 99999999999999999999}]`,
	), []string{
		`o.yaml:2:38: “012” starts with a zero, which some programs read as an octal number | write 12`,
		`o.yaml:2:73: “1.0” is not a whole number | write digits only, such as 12`,
		`o.yaml:2:108: a whole number is wanted here, not a text | write 2 without quotation marks`,
		`o.yaml:2:143: “99999999999999999999” is too large a number | check the digits`,
	}},
	{"integer out of range", lines(
		`name: A`,
		`rooms: [{name: N, width: 20', doors: 4}, {name: N, width: 20', doors: -1}]`,
		`crew: {people: 0}`,
	), []string{
		`o.yaml:2:38: 4 is out of range | write a whole number from 0 to 3`,
		`o.yaml:2:71: -1 is out of range | write a whole number from 0 to 3`,
		`o.yaml:3:16: 0 is out of range | write a whole number of at least 1`,
	}},
	{"too few items", lines(
		`name: A`,
		`rooms: []`,
	), []string{
		`o.yaml:2:8: this list has 0 items, too few | write at least 1 item`,
	}},
	{"error with a hint of its own", lines(
		`name: A`,
		`rooms: [{name: N, width: 20', plate: abcdefghijklmnopqrstuvwxyz}]`,
	), []string{
		`o.yaml:2:38: 26 characters do not fit on the plate | use at most 20`,
	}},
	{"objection of Validate", lines(
		`name: A`,
		`rooms:`,
		`  - name: N`,
		`    width: 7'`,
		`    doors: 2`,
	), []string{
		`o.yaml:5:12: 2 doors do not fit into 7' 0" | make the room wider, or leave doors out`,
	}},
	{"no Validate after problems", lines(
		`name: A`,
		`rooms:`,
		`  - name: N`,
		`    width: 7'`,
		`    doors: 2`,
		`    kind: x`,
	), []string{
		`o.yaml:6:11: “x” is not one of the allowed words | write “stall”, “wash-bay” or “tack-room”`,
	}},
	{"anchor and alias", lines(
		`name: &a A`,
		`notes: *a`,
		`rooms: [{name: N, width: 12'}]`,
	), []string{
		`o.yaml:1:7: anchors (&name) are not used here | write the value out where it is needed`,
		`o.yaml:2:8: aliases (*name) are not used here | write the value out; a text that starts with * goes in quotation marks`,
	}},
	{"merge key", lines(
		`name: A`,
		`rooms:`,
		`  - &r {name: N, width: 12'}`,
		`  - <<: *r`,
		`    name: M`,
		`    width: 10'`,
	), []string{
		`o.yaml:3:5: anchors (&name) are not used here | write the value out where it is needed`,
		`o.yaml:4:5: merge keys (<<) are not used here | write the keys out`,
		`o.yaml:4:9: aliases (*name) are not used here | write the value out; a text that starts with * goes in quotation marks`,
	}},
	{"tag", lines(
		`name: !!str 5`,
		`rooms: !list [{name: N, width: 12'}]`,
	), []string{
		`o.yaml:1:7: tags (!name) are not used here | leave the tag out; a text that starts with ! goes in quotation marks`,
		`o.yaml:2:8: tags (!name) are not used here | leave the tag out; a text that starts with ! goes in quotation marks`,
	}},
	{"question mark key", lines(
		`? name`,
		`: A`,
	), []string{
		`o.yaml:1:1: keys marked with ? are not used here | write key: value; a value that starts with ? goes in quotation marks`,
	}},
	{"directive", lines(
		`%YAML 1.2`,
		`---`,
		`name: A`,
	), []string{
		`o.yaml:1:1: directives (%...) are not used here | leave the line out`,
	}},
	{"second document", lines(
		`name: A`,
		`---`,
		`name: B`,
	), []string{
		`o.yaml:2:1: a second document starts here | put each document in a file of its own`,
	}},
	{"text after the end", lines(
		`name: A`,
		`...`,
		`more`,
	), []string{
		`o.yaml:3:1: there is more text after the end of the document (...) | put each document in a file of its own`,
	}},
	{"key in brackets", lines(
		`name: A`,
		`[a, b]: c`,
	), []string{
		`o.yaml:2:7: there is no key before this colon, or the key is not a single word or text | write key: value`,
	}},
	{"empty key", lines(
		`"": 3`,
		`rooms: [{name: N, width: 12'}]`,
	), []string{
		`o.yaml:1:1: a key has to be a single word or text, but this is empty | write key: value`,
		`o.yaml:1:1: the required key “name” is missing here | add “name: ...” (what the order is called)`,
	}},
	{"no key", lines(
		`: 3`,
	), []string{
		`o.yaml:1:1: this line is not of the form “key: value” | write a colon and a space after the key, and line it up with the keys above`,
	}},
	{"quotation mark never closed", lines(
		`name: "A`,
		`rooms: []`,
	), []string{
		`o.yaml:1:7: a double quotation mark (") is opened here and never closed | close it; a length such as 12' 6" needs no quotation marks`,
	}},
	{"inch mark that closes too early", lines(
		`name: A`,
		`rooms: [{name: N, width: "12' 6""}]`,
	), []string{
		`o.yaml:2:33: a double quotation mark (") is opened here and never closed | close it; a length such as 12' 6" needs no quotation marks`,
	}},
	{"text after a quotation", lines(
		`name: "A" and "B"`,
		`rooms: []`,
	), []string{
		`o.yaml:1:11: something stands after a value in quotation marks | put all of it in quotation marks or none of it (12' 6" needs none); inside single quotation marks write '' for '`,
	}},
	{"apostrophe in single quotation marks", lines(
		`name: 'Tom's barn'`,
		`rooms: []`,
	), []string{
		`o.yaml:1:12: something stands after a value in quotation marks | put all of it in quotation marks or none of it (12' 6" needs none); inside single quotation marks write '' for '`,
	}},
	{"unknown escape", lines(
		`name: "C:\Farm"`,
	), []string{
		`o.yaml:1:7: a backslash (\) in double quotation marks starts an escape that does not exist | write \\ for a backslash, or use single quotation marks`,
	}},
	{"bracket never closed", lines(
		`name: A`,
		`rooms: [{name: N, width: 12'}`,
		`notes: x`,
	), []string{
		`o.yaml:3:1: a comma or the closing ] is missing before this | separate the items with commas and close with ]; a value with a comma in it, or that starts with a quotation mark, goes in single quotation marks as a whole`,
	}},
	{"bracket never closed at the end", lines(
		`name: A`,
		`rooms: [{name: N, width: 12'`,
	), []string{
		`o.yaml:2:9: this { is never closed | close it with }`,
	}},
	{"bracket closed twice", lines(
		`name: A`,
		`rooms: []]`,
	), []string{
		`o.yaml:2:10: this ] closes nothing | delete it, or open the list with [ or the group with {`,
	}},
	{"comma too many", lines(
		`name: A`,
		`rooms: [{name: N, width: 12'}, , ]`,
	), []string{
		`o.yaml:2:32: there is a comma too many here | delete it`,
	}},
	{"two values without a comma", lines(
		`name: A`,
		`rooms: [{name: N, width: "12'" kind: stall}]`,
	), []string{
		`o.yaml:2:32: a comma or the closing } is missing before this | separate the entries with commas and close with }; a value with a comma in it, or that starts with a quotation mark, goes in single quotation marks as a whole`,
	}},
	{"colon forgotten", lines(
		`name: A`,
		`rooms`,
		`  - name: N`,
	), []string{
		`o.yaml:2:1: this line is not of the form “key: value” | write a colon and a space after the key, and line it up with the keys above`,
	}},
	{"space forgotten after the colon", lines(
		`name: A`,
		`rooms:`,
		`  - name:N`,
		`    width: 12'`,
	), []string{
		`o.yaml:3:5: this line is not of the form “key: value” | write a colon and a space after the key, and line it up with the keys above`,
	}},
	{"space forgotten after the colon in brackets", lines(
		`name: A`,
		`rooms: [{name:N, width:12'}]`,
	), []string{
		`o.yaml:2:14: there is no space after this colon | write a space after it; a value with a colon in it goes in quotation marks`,
		`o.yaml:2:23: there is no space after this colon | write a space after it; a value with a colon in it goes in quotation marks`,
	}},
	{"second colon on a line", lines(
		`name: barn: north`,
		`rooms: []`,
	), []string{
		`o.yaml:1:7: a second colon stands on this line | put each key on a line of its own; a value with a colon and a space in it goes in quotation marks`,
	}},
	{"indented too far", lines(
		`name: A`,
		`  notes: x`,
		`rooms: []`,
	), []string{
		`o.yaml:2:3: this line is indented deeper than the key above it, which already has its value | line it up with that key, or leave out the value of that key`,
	}},
	{"indented too little", lines(
		`name: A`,
		`rooms:`,
		`  - name: N`,
		`   width: 12'`,
	), []string{
		`o.yaml:4:4: this is not lined up with what is above it | line it up with the keys or items it belongs to`,
	}},
	{"outdented", lines(
		`name: A`,
		`rooms:`,
		`    - name: N`,
		`      width: 12'`,
		`  - name: M`,
	), []string{
		`o.yaml:5:3: this is not lined up with what is above it | line it up with the keys or items it belongs to`,
	}},
	{"value outdented", lines(
		`name: A`,
		`rooms:`,
		`  - name: N`,
		`    plate:`,
		`  x`,
	), []string{
		`o.yaml:5:3: this is not lined up with what is above it | line it up with the keys or items it belongs to`,
	}},
	{"list on the line of its key", lines(
		`name: A`,
		`rooms: - name: N`,
	), []string{
		`o.yaml:2:8: a list cannot start on the same line as its key | put the first - on a line of its own`,
	}},
	{"reserved character", lines(
		`name: @home`,
	), []string{
		`o.yaml:1:7: a value cannot start with this character | put the whole value in quotation marks`,
	}},
	{"percent sign", lines(
		`name: %5`,
	), []string{
		`o.yaml:1:7: a value cannot start with this character | put the whole value in quotation marks`,
	}},
	{"colon on the next line", lines(
		`name`,
		`: A`,
	), []string{
		`o.yaml:2:1: this colon does not stand on the line of its key | write key: value`,
	}},
	{"path of a map key with a space", lines(
		`name: A`,
		`rooms: [{name: N, width: 12'}]`,
		`heights: {left post: 8 m, "right post": x}`,
	), []string{
		`o.yaml:3:41: “x”: a number was expected here | write a number with its unit, such as 7 5/8" or 3540 mm`,
	}},
	{"characters, not bytes", lines(
		`name: Ærø 🐎 x`,
		`rooms: [{name: "🐎é", width: 12', kind: stål}]`,
	), []string{
		`o.yaml:2:40: “stål” is not one of the allowed words | write “stall”, “wash-bay” or “tack-room”`,
	}},
}

func TestReadRefuses(t *testing.T) {
	for _, c := range refusals {
		t.Run(c.name, func(t *testing.T) {
			var o order
			if diff := cmp.Diff(c.want, told(document.Read("o.yaml", []byte(c.src), &o))); diff != "" {
				t.Errorf("-want +got\n%s\nreading\n%s", diff, c.src)
			}
		})
	}
}

// The same refusals hold whatever the line ends are, and the places stay the same.
func TestReadRefusesWithAnyLineEnds(t *testing.T) {
	for _, ends := range []string{"\r\n", "\r"} {
		for _, c := range refusals {
			var o order
			src := strings.ReplaceAll(c.src, "\n", ends)
			if diff := cmp.Diff(c.want, told(document.Read("o.yaml", []byte(src), &o))); diff != "" {
				t.Errorf("%s, line ends %q: -want +got\n%s", c.name, ends, diff)
			}
		}
	}
}

// told writes problems one a line.
func told(err error) []string {
	if err == nil {
		return nil
	}
	var out []string
	for _, p := range err.(document.Problems) {
		out = append(out, fmt.Sprintf("%v: %s | %s", p.Pos, p.Message, p.Hint))
	}
	return out
}

func TestProblemsSayWhichValueAndText(t *testing.T) {
	src := lines(
		`name: A`,
		`rooms:`,
		`  - {name: N, width: 12'}`,
		`  - name: M`,
		`    width: 11' 14"`,
		`    spacing: [8', x]`,
		`    dors: 1`,
		`heights: {left post: 5}`,
	)
	want := [][2]string{
		{"rooms[1].width", `14"`},
		{"rooms[1].spacing[1]", "x"},
		{"rooms[1].dors", "dors"},
		{"heights[“left post”]", "5"},
	}
	var o order
	var got [][2]string
	for _, p := range document.Read("o.yaml", []byte(src), &o).(document.Problems) {
		got = append(got, [2]string{p.Path, p.Text})
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}
