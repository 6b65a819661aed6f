// Package document reads a text a person wrote in YAML into Go structs.
//
// What comes in is the name of the text (only used in messages), its bytes, and
// a pointer to a struct whose fields are tagged `yaml:"name"`. What goes out is
// the filled struct and, if anything in the text is wrong, [Problems]: every
// mistake found, each with its file, line and column, and what would be right.
//
// What always holds:
//
//   - Reading is strict. A key the struct does not know, a key written twice, a
//     missing required key and a value of the wrong kind are all refused.
//   - Nothing is reinterpreted. A text-valued field gets the characters that were
//     written: 012, 12:30, no and 2024-05-01 arrive as they stand.
//   - Every struct that embeds [Where] knows where it and each of its keys stood,
//     so that a later stage can point at the line it disagrees with.
//   - What could be read in two ways is refused, and what the YAML scanner drops is
//     reported: inside [ ] within { } a colon between digits (12:30) needs quotation
//     marks, and so does a value that goes on after a quotation mark.
//   - Any bytes whatever give an answer in bounded time and memory, never a panic.
//
// # Tags
//
//	yaml:"name"            the key of the field; "-" or no tag: not read
//	yaml:"name,required"   the key has to be written
//	doc:"..."              one sentence for people, used in the schema
//	unit:"mm"              a bare number is allowed and means this unit
//	min:"1" max:"100"      bounds of an integer, or of the number of items in a list
//
// # Types
//
// A field may be a struct, a pointer, a slice, a map with string keys, a string,
// a bool, an int or int64, a type implementing [encoding.TextUnmarshaler], an
// [Enum], a [ScalarReader], a [ListReader] or [Several]. A type implementing
// [Validator] is asked for its own objections once it has been read cleanly.
package document

// Limits on what Read accepts. They are far above any document a person writes
// and low enough that no text can tie up the machine.
const (
	// MaxBytes is the largest accepted text, in bytes.
	MaxBytes = 2 << 20
	// MaxDepth is the deepest accepted nesting of mappings and lists, counting
	// the outermost mapping as 1.
	MaxDepth = 32
	// MaxKeys is how many keys one mapping may have.
	MaxKeys = 2000
	// MaxProblems is how many problems are told one by one. If there are more,
	// one further entry says how many.
	MaxProblems = 50
)

// An Enum is a string type that takes one of a few words. Allowed is called on
// the zero value and lists them in the order people should see them.
type Enum interface{ Allowed() []string }

// A ScalarReader takes a plain value, by the text as written, besides (or instead
// of) the mapping or list its Go type would take. An error may carry a remedy in
// a method Hint() string.
type ScalarReader interface{ FromScalar(text string) error }

// A ListReader takes a list besides what its Go type would take. ListInto returns
// a pointer, usually to a slice inside the receiver, that the list is read into.
type ListReader interface{ ListInto() any }

// Several takes either one item or a list of items; one item reads as a list of
// one.
type Several[T any] []T

func (Several[T]) oneOrList() {}

// A Validator has its own objections to what was read into it. Validate is called
// once the value, with everything in it, has been read without a problem; path is
// where the value stands, for [Reporter.Add].
type Validator interface {
	Validate(r *Reporter, path string)
}

// A Describer tells the schema about a type that reads itself from text.
type Describer interface{ Describe() Description }

// A Description says in the schema what a type's text looks like.
type Description struct {
	Doc      string   // one sentence for people
	Pattern  string   // ECMA 262 regular expression the whole text matches; "" for any
	Examples []string // texts that are accepted
}

// Read reads the text src into the struct that into points at. It returns nil or
// [Problems]. Fields whose keys are absent keep the value they had. file is used
// in positions only.
//
// After an error the struct holds what could be read; use it for nothing but
// further checking.
func Read(file string, src []byte, into any) error {
	r := NewReporter(file, src)
	r.Read(into)
	return r.Err()
}
