package document_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stallwright/engine/document"
)

const fine = "name: A\nrooms: [{name: N, width: 12'}]\n"

// Texts that are refused, or accepted, as bytes and lines.
func TestReadBytes(t *testing.T) {
	for _, c := range []struct {
		name, src string
		want      []string
	}{
		{"byte order mark", "\ufeff" + fine, nil},
		{"byte order mark with a problem", "\ufeffnam: A\n" + fine, []string{"o.yaml:1:1: unknown key “nam” | did you mean “name”?"}},
		{"no line break at the end", strings.TrimSuffix(fine, "\n"), nil},
		{"document start and end", "---\n" + fine + "...\n", nil},
		{"tab before a comment and in an empty line", "name: A\t# c\n\t\nrooms: [{name: N, width: 12'}]\n", nil},
		{"Latin-1", "name: M\xfcller\n" + "notes: \xe9\n" + fine, []string{
			"o.yaml:1:8: the byte 0xFC (byte 8 of the line) is not UTF-8 | save the file with the encoding UTF-8",
			"o.yaml:2:8: the byte 0xE9 (byte 8 of the line) is not UTF-8 | save the file with the encoding UTF-8",
		}},
		{"not UTF-8 after wide characters", "name: é\xff\n", []string{
			"o.yaml:1:8: the byte 0xFF (byte 9 of the line) is not UTF-8 | save the file with the encoding UTF-8",
		}},
		{"surrogate half, not UTF-8 (RFC 3629, section 3)", "name: \xed\xa0\x80\n", []string{
			"o.yaml:1:7: the byte 0xED (byte 7 of the line) is not UTF-8 | save the file with the encoding UTF-8",
		}},
		{"UTF-16", "\xff\xfen\x00a\x00", []string{"o.yaml:1:1: the text is in UTF-16, not in UTF-8 | save the file with the encoding UTF-8"}},
		{"NUL", "name: a\x00b\n", []string{"o.yaml:1:8: an invisible control character (U+0000) stands here | delete it"}},
		{"escape, a terminal would obey it", "name: a\x1b[31m\n", []string{"o.yaml:1:8: an invisible control character (U+001B) stands here | delete it"}},
		{"text direction turned round", "name: a\u202eb\n", []string{"o.yaml:1:8: an invisible control character (U+202E) stands here | delete it"}},
		{"tabs for indentation", "name: A\nrooms:\n\t- name: N\n  \t  width: 12'\n", []string{
			"o.yaml:3:1: this line is indented with a tab | indent with spaces only, two for each level",
			"o.yaml:4:3: this line is indented with a tab | indent with spaces only, two for each level",
		}},
		{"nothing", "", []string{"o.yaml:1:1: the document is empty | write “key: value” lines; required are “name” and “rooms”"}},
		{"only a comment", "# to do\n", []string{"o.yaml:1:1: the document is empty | write “key: value” lines; required are “name” and “rooms”"}},
		{"only document marks", "---\n...\n", []string{"o.yaml:1:1: the document is empty | write “key: value” lines; required are “name” and “rooms”"}},
		{"many empty lines", "name: A\n" + strings.Repeat("\n", 51) + "rooms: []\n", []string{"o.yaml:52:1: more than 50 empty lines follow each other | delete the empty lines"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var o order
			if diff := cmp.Diff(c.want, told(document.Read("o.yaml", []byte(c.src), &o))); diff != "" {
				t.Errorf("-want +got\n%s", diff)
			}
		})
	}
}

// hostile texts would tie up a reader that follows aliases, recurses, or takes
// time in proportion to the square of the length. A reader that did would not get
// to the end of this test.
var hostile = []struct {
	name, src string
	want      string // the first problem
}{
	// Ten levels of nine aliases each: Klein, "Laughing in the face of XML bombs"
	// and the billion laughs of the same shape, in YAML. From memory.
	{"alias bomb", bomb(), "o.yaml:1:4: anchors (&name) are not used here"},
	{"10 MB", strings.Repeat("name: A\n", 10<<20/8), "o.yaml: the text is too long: 10.0 MiB, and at most 2.0 MiB can be read"},
	{"a byte too long", strings.Repeat("#", document.MaxBytes+1), "o.yaml: the text is too long: 2.1 MiB, and at most 2.0 MiB can be read"},
	{"20000 brackets", strings.Repeat("[", 20000), "o.yaml:1:33: this is nested deeper than 32 levels"},
	{"20000 closed brackets", strings.Repeat("[", 20000) + strings.Repeat("]", 20000), "o.yaml:1:33: this is nested deeper than 32 levels"},
	{"20000 braces", strings.Repeat("{a: ", 20000), "o.yaml:1:129: this is nested deeper than 32 levels"},
	{"20000 dashes", strings.Repeat("- ", 20000), "o.yaml:1:65: this is nested deeper than 32 levels"},
	{"1500 levels of indentation", staircase(1500), "o.yaml:33:34: this is nested deeper than 32 levels"},
	{"20000 tags", strings.Repeat("!a ", 20000), "o.yaml:1:100: this is nested deeper than 32 levels"},
	{"100000 keys", strings.Repeat("a: b\n", 100000), "o.yaml:2001:2: there are more than 2000 keys in one group"},
	{"100000 missing values", strings.Repeat("-\n", 100000), "o.yaml:1001:1: more than 1000 values are missing above this"},
	{"100000 missing values in braces", "{" + strings.Repeat("a, ", 100000) + "}", "o.yaml:1:3003: more than 1000 values are missing above this"},
	{"a million brackets side by side", "[" + strings.Repeat("[],", 500000) + "]", "o.yaml:1:1: the text is too long: more than 400000 lines and punctuation marks"},
	{"empty lines at the end of a long block", "name: |\n" + strings.Repeat("  a long block of text\n", 50000) + strings.Repeat("\n", 49) + "rooms: 1\n", "o.yaml:50051:8: a list is wanted here, but this is a single value"},
	{"100000 problems", "rooms:\n" + strings.Repeat("- a\n", 100000), "o.yaml:1:1: the required key “name” is missing here"},
}

func bomb() string {
	var b strings.Builder
	b.WriteString("a: &a [x, x, x, x, x, x, x, x, x]\n")
	for c := 'b'; c <= 'j'; c++ {
		b.WriteString(string(c) + ": &" + string(c) + " [" + strings.TrimSuffix(strings.Repeat("*"+string(c-1)+", ", 9), ", ") + "]\n")
	}
	return b.String()
}

func staircase(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

func TestReadOutlastsHostileTexts(t *testing.T) {
	for _, c := range hostile {
		t.Run(c.name, func(t *testing.T) {
			var o order
			err := document.Read("o.yaml", []byte(c.src), &o)
			if err == nil {
				t.Fatal("accepted")
			}
			got, _, _ := strings.Cut(told(err)[0], " | ")
			if got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// Brackets that are only text are not nesting.
func TestDepthCountsOnlyStructure(t *testing.T) {
	deep := strings.Repeat("[", 100)
	var o order
	src := "name: '" + deep + "' # " + deep + "\nnotes: |\n  " + deep + "\n  " + strings.Repeat("- ", 100) + "\nrooms: [{name: N, width: 12'}]\n"
	if err := document.Read("o.yaml", []byte(src), &o); err != nil {
		t.Error(err)
	}
}

func TestDepthLimitIsExact(t *testing.T) {
	type nest []nest
	for _, c := range []struct {
		depth int
		ok    bool
	}{{document.MaxDepth, true}, {document.MaxDepth + 1, false}} {
		var v nest
		src := strings.Repeat("[", c.depth) + strings.Repeat("]", c.depth)
		if err := document.Read("o.yaml", []byte(src), &v); (err == nil) != c.ok {
			t.Errorf("%d levels: %v", c.depth, err)
		}
		// The innermost dash has an item that takes no level.
		src = strings.Repeat("- ", c.depth) + "[]"
		if c.ok {
			src = strings.Repeat("- ", c.depth-1) + "[]"
		}
		if err := document.Read("o.yaml", []byte(src), &v); (err == nil) != c.ok {
			t.Errorf("%d levels: %v", c.depth, err)
		}
	}
}

func TestReadTellsHowManyMore(t *testing.T) {
	for _, c := range []struct {
		bad  int
		want string
	}{
		{document.MaxProblems, ""},
		{document.MaxProblems + 1, "1 more problem is not shown"},
		{document.MaxProblems + 7, "7 more problems are not shown"},
		{5000, "more than 950 more problems are not shown"},
	} {
		var o order
		src := "name: A\nrooms:\n" + strings.Repeat("- 1\n", c.bad)
		ps := document.Read("o.yaml", []byte(src), &o).(document.Problems)
		last := ps[len(ps)-1]
		if c.want == "" {
			if len(ps) != c.bad {
				t.Errorf("%d problems told of %d", len(ps), c.bad)
			}
			continue
		}
		if len(ps) != document.MaxProblems+1 || last.Message != c.want || !last.Pos.IsZero() {
			t.Errorf("%d bad items: %d entries, the last %q", c.bad, len(ps), last.Message)
		}
	}
}
