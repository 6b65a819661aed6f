package document

import (
	"encoding"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"stallwright/engine/measure"
)

type textUnmarshaler = encoding.TextUnmarshaler

// bareNumber is a number without a unit, as people write one: 12, 11.5, 7 5/8.
var bareNumber = regexp.MustCompile(`^[-+]?(\d+([.,]\d+)?|\.\d+|\d+/\d+|\d+[ -]\d+/\d+)$`)

// fromText gives the text of n to a type that reads itself.
func (d *decoder) fromText(n *node, path string, ru rules, read func(string) error) {
	text := n.text
	if ru.unit != "" && bareNumber.MatchString(text) {
		text += " " + ru.unit
	}
	err := read(text)
	if err == nil {
		return
	}
	var quantity *measure.ParseError
	if errors.As(err, &quantity) {
		d.quantity(n, path, quantity)
		return
	}
	var hinted interface{ Hint() string }
	hint := ""
	if errors.As(err, &hinted) {
		hint = hinted.Hint()
	}
	d.r.Add(n.pos, path, n.raw, err.Error(), hint)
}

// quantity reports a length, mass and so on that cannot be read, pointing at the
// character where the trouble starts if the text stands there as it was read.
func (d *decoder) quantity(n *node, path string, err *measure.ParseError) {
	at, text := n.pos, n.raw
	if n.plain && n.text == n.raw && err.Offset > 0 && err.Offset < len(n.raw) {
		at.Column += utf8.RuneCountInString(n.raw[:err.Offset])
		text = n.raw[err.Offset:]
	}
	d.r.Add(at, path, text, quote(n.text)+": "+err.Problem, lowerFirst(err.Hint))
}

// lowerFirst makes a sentence a clause, as hints are.
func lowerFirst(s string) string {
	if len(s) > 1 && 'A' <= s[0] && s[0] <= 'Z' && 'a' <= s[1] && s[1] <= 'z' {
		return string(s[0]+'a'-'A') + s[1:]
	}
	return s
}

// allowed checks the words of an Enum; any other type takes every text.
func (d *decoder) allowed(text string, n *node, t reflect.Type, path string) bool {
	words, ok := allowedOf(t)
	if !ok {
		return true
	}
	for _, w := range words {
		if text == w {
			return true
		}
	}
	hint := "write " + listed(words, "or")
	if near, ok := Nearest(text, words); ok {
		hint = "did you mean " + quote(near) + "? Allowed are " + listed(words, "and")
	}
	d.r.Add(n.pos, path, n.raw, quote(text)+" is not one of the allowed words", hint)
	return false
}

// allowedOf is the list of words of an Enum type.
func allowedOf(t reflect.Type) ([]string, bool) {
	if t.Kind() != reflect.String {
		return nil, false
	}
	e, ok := reflect.New(t).Interface().(Enum)
	if !ok {
		return nil, false
	}
	return e.Allowed(), true
}

func (d *decoder) boolean(n *node, v reflect.Value, path string) {
	if n.plain && (n.text == "true" || n.text == "false") {
		v.SetBool(n.text == "true")
		return
	}
	hint := "write true or false"
	switch strings.ToLower(n.text) {
	case "yes", "on", "y", "true":
		hint = "write true"
	case "no", "off", "n", "false":
		hint = "write false"
	}
	if !n.plain && hint != "write true or false" {
		hint += ", without quotation marks"
	}
	d.r.Add(n.pos, path, n.raw, quote(n.text)+" is neither true nor false", hint)
}

var wholeNumber = regexp.MustCompile(`^[-+]?\d+$`)

func (d *decoder) integer(n *node, v reflect.Value, path string, ru rules) {
	text := n.text
	plain := strings.TrimLeft(strings.TrimLeft(text, "+-"), "0")
	switch {
	case !wholeNumber.MatchString(text):
		d.r.Add(n.pos, path, n.raw, quote(text)+" is not a whole number", "write digits only, such as 12")
		return
	case !n.plain:
		d.r.Add(n.pos, path, n.raw, "a whole number is wanted here, not a text", "write "+text+" without quotation marks")
		return
	case len(plain) < len(strings.TrimLeft(text, "+-")) && plain != "", len(strings.TrimLeft(text, "+-")) > 1 && plain == "":
		if plain == "" {
			plain = "0"
		}
		d.r.Add(n.pos, path, n.raw, quote(text)+" starts with a zero, which some programs read as an octal number", "write "+plain)
		return
	}
	i, err := strconv.ParseInt(text, 10, v.Type().Bits())
	if err != nil {
		d.r.Add(n.pos, path, n.raw, quote(text)+" is too large a number", "check the digits")
		return
	}
	if (ru.min != nil && i < *ru.min) || (ru.max != nil && i > *ru.max) {
		d.r.Add(n.pos, path, n.raw, fmt.Sprintf("%d is out of range", i), ru.span())
		return
	}
	v.SetInt(i)
}

// span says the bounds in words.
func (ru rules) span() string {
	switch {
	case ru.min != nil && ru.max != nil:
		return fmt.Sprintf("write a whole number from %d to %d", *ru.min, *ru.max)
	case ru.min != nil:
		return fmt.Sprintf("write a whole number of at least %d", *ru.min)
	}
	return fmt.Sprintf("write a whole number of at most %d", *ru.max)
}

func (d *decoder) empty(n *node, path string) {
	message, hint := "there is no value here", "write a value, or leave the whole line out"
	if n.text != "" {
		message = quote(n.text) + " stands for no value"
		hint += "; the word itself goes in quotation marks"
	}
	d.r.Add(n.pos, path, n.raw, message, hint)
}

// want reports a value of the wrong kind.
func (d *decoder) want(n *node, k kind, t reflect.Type, path string) bool {
	if n.kind == k {
		return true
	}
	message, hint := "", ""
	switch k {
	case scalar:
		message, hint = "a single value is wanted here, but this is "+n.what(), "write one value after the colon"
	case list:
		message, hint = "a list is wanted here, but this is "+n.what(), "write each item on a line of its own after “- ”, or all in [ ] with commas"
	case mapping:
		message, hint = "a group of keys is wanted here, but this is "+n.what(), "write “key: value” lines, indented by two spaces"
		if t.Kind() == reflect.Struct {
			if names := d.record(t).names(false); len(names) > 0 {
				hint += "; known here: " + listed(names, "and")
			}
		}
	}
	text := n.raw
	d.r.Add(n.pos, path, text, message, hint)
	return false
}

// listed writes words with commas and a last "and" or "or".
func listed(words []string, last string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = quote(w)
	}
	if n := len(quoted); n > 1 {
		return strings.Join(quoted[:n-1], ", ") + " " + last + " " + quoted[n-1]
	}
	return strings.Join(quoted, "")
}

func counted(n int64) string {
	if n == 1 {
		return "1 item"
	}
	return fmt.Sprintf("%d items", n)
}
