package document

import (
	"strings"

	"github.com/goccy/go-yaml/token"
)

// addSyntax says in plain words what the YAML scanner or parser objects to.
func (r *Reporter) addSyntax(message string, t *token.Token) {
	at, text := r.tokenPos(t), ""
	if t != nil {
		text = r.written(t)
	}
	if r.addLayout(message, at, text) {
		return
	}
	for _, s := range syntaxWords {
		if strings.Contains(message, s.theirs) {
			r.Add(at, "", text, s.ours, s.hint)
			return
		}
	}
	r.Add(at, "", text, "this cannot be read as YAML: "+message, "check the indentation, colons and brackets on this line and the one above")
}

// notAllowed is the parser's message for what is in the wrong place.
const notAllowed = "value is not allowed in this context"

const alignHint = "line it up with the keys or items it belongs to"

// addLayout explains the mistakes for which the parser has one message and people
// have several, by looking at the line and its neighbours.
func (r *Reporter) addLayout(message string, at Pos, text string) bool {
	placed := strings.Contains(message, notAllowed) || // covers the mapping value too
		strings.Contains(message, "map key-value is pre-defined") ||
		strings.Contains(message, "unexpected scalar value")
	if !placed || at.Line == 0 {
		return false
	}
	before, rest := r.src.before(at), r.src.from(at)
	lineStart := strings.Trim(before, " -") == ""
	switch {
	case rest == "" && before == "":
		return false
	case rest != "" && strings.ContainsRune("]}", rune(rest[0])):
		r.Add(at, "", rest[:1], "this "+rest[:1]+" closes nothing", "delete it, or open the list with [ or the group with {")
	case rest != "" && rest[0] == ',':
		r.Add(at, "", ",", "there is a comma too many here", "delete it")
	case strings.Contains(message, "mapping value is not allowed"):
		r.addColon(at, text, rest)
	case !lineStart && strings.ContainsAny(lastOf(before), `'"`):
		r.Add(at, "", text, "something stands after a value in quotation marks", `put all of it in quotation marks or none of it (12' 6" needs none); inside single quotation marks write '' for '`)
	case !lineStart:
		r.Add(at, "", text, "this does not belong to what stands before it on the line", "put it on a line of its own, or the whole value in quotation marks")
	case strings.Contains(message, "pre-defined") && indent(r.src.lineAt(at)) <= indent(r.src.above(at)):
		r.Add(at, "", text, notKeyValue, keyHint)
	default:
		r.Add(at, "", text, "this is not lined up with what is above it", alignHint)
	}
	return true
}

// addColon tells a second colon on a line from a line below that is indented as
// if it were part of the value.
func (r *Reporter) addColon(at Pos, text, rest string) {
	next := r.src.below(at)
	if strings.Contains(rest, ": ") && rest[0] != ':' || strings.Count(rest, ": ") > 1 || next == 0 ||
		indent(r.src.lines[next-1]) <= indent(r.src.lineAt(at)) {
		r.Add(at, "", text, "a second colon stands on this line", "put each key on a line of its own; a value with a colon and a space in it goes in quotation marks")
		return
	}
	r.addDeeper(next)
}

// addDeeper reports a line that is indented as if it were part of a value above.
func (r *Reporter) addDeeper(number int) {
	line := r.src.lines[number-1]
	r.Add(r.src.at(number, indent(line)+1), "", firstLine(strings.TrimSpace(line)),
		"this line is indented deeper than the key above it, which already has its value", "line it up with that key, or leave out the value of that key")
}

func lastOf(s string) string {
	s = strings.TrimRight(s, " ")
	if s == "" {
		return ""
	}
	return s[len(s)-1:]
}

const (
	notKeyValue = "this line is not of the form “key: value”"

	keyHint   = "write a colon and a space after the key, and line it up with the keys above"
	closeHint = `; a value with a comma in it, or that starts with a quotation mark, goes in single quotation marks as a whole`
)

// syntaxWords are tried in order. The first column is a part of a message of
// github.com/goccy/go-yaml 1.19.
var syntaxWords = []struct{ theirs, ours, hint string }{
	{"end character of single-quoted", "a single quotation mark (') is opened here and never closed", `close it; a length such as 12' 6" needs no quotation marks`},
	{"end character of double-quoted", `a double quotation mark (") is opened here and never closed`, `close it; a length such as 12' 6" needs no quotation marks`},
	{"unknown escape character", `a backslash (\) in double quotation marks starts an escape that does not exist`, `write \\ for a backslash, or use single quotation marks`},
	{"not enough length for escaped", `a \u or \U escape is too short`, `write \\ for a backslash, or use single quotation marks`},
	{"surrogate", `a \u escape is half of a pair`, "write the character itself"},
	{"tab character", "a tab stands where only spaces may", "use spaces only"},
	{`character '\t'`, "a tab stands where only spaces may", "use spaces only"},
	{"is a reserved character", "a value cannot start with this character", "put the whole value in quotation marks"},
	{"',' or '}' must be specified", "a comma or the closing } is missing before this", "separate the entries with commas and close with }" + closeHint},
	{"',' or ']' must be specified", "a comma or the closing ] is missing before this", "separate the items with commas and close with ]" + closeHint},
	{"flow mapping end token '}'", "this { is never closed", "close it with }"},
	{"sequence end token ']' not found", "this [ is never closed", "close it with ]"},
	{"character corresponding to ']'", "this ] closes nothing", "delete it, or open the list with ["},
	{"character corresponding to '}'", "this } closes nothing", "delete it, or open the group with {"},
	{"found ','", "there is a comma too many here", "delete it"},
	{"non-map value is specified", notKeyValue, keyHint},
	{"unexpected key name", notKeyValue, keyHint},
	{"implicit line break", notKeyValue, keyHint},
	{"block sequence entries are not allowed", "a list cannot start on the same line as its key", "put the first - on a line of its own"},
	{"invalid key for this map", "there is no key before this colon, or the key is not a single word or text", "write key: value"},
	{"undefined map key", "there is no key before this colon", "write key: value"},
	{"multi-line", "the block of text that | or > announces is missing or wrongly indented", "indent the lines of the text below it by two spaces"},
	{"indent", "the block of text is wrongly indented", "indent all its lines alike"},
	{"document separator", "--- stands inside a value", "put the whole value in quotation marks"},
}
