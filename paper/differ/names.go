package differ

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// names knows what everything was called and is called now, so that a renamed
// room is told once and not again in every text that speaks of it.
type names struct {
	to      map[string]string // old name to new; identical where it stays; absent where it is gone
	known   map[string]bool   // every name of either plan
	lengths []int             // of the known names, longest first
	renamed bool
	gone    map[string]string // what is gone whose name something else has now: A4 to A4 (old)
	memo    map[string]string
	masks   map[string]masked
}

// masked is a text without its names, and the names.
type masked struct {
	text  string
	names []string
}

func newNames() *names {
	return &names{to: map[string]string{}, known: map[string]bool{}, memo: map[string]string{}, gone: map[string]string{}, masks: map[string]masked{}}
}

// set records what an old name became. The first to claim a name keeps it: a
// bay that is called like its run goes with the run.
func (n *names) set(old, new string) {
	if _, ok := n.to[old]; ok {
		return
	}
	n.to[old] = new
	n.renamed = n.renamed || old != new
}

// settle gathers the names' lengths once all are known.
func (n *names) settle() {
	var lengths []int
	for s := range n.known {
		lengths = append(lengths, len(s))
	}
	slices.Sort(lengths)
	slices.Reverse(lengths)
	n.lengths = slices.Compact(lengths)
}

// now is what an old name is called now; the same where it is gone or unknown,
// but for names that something else has taken over.
func (n *names) now(old string) string {
	if s, ok := n.to[old]; ok {
		return s
	}
	if s, ok := n.gone[old]; ok {
		return s
	}
	return old
}

// label is what a piece's old label is now: its place's new name and its code.
func (n *names) label(old string) string {
	if s, ok := n.to[old]; ok {
		return s
	}
	if place, code, ok := strings.Cut(old, "/"); ok {
		return n.now(place) + "/" + code
	}
	return n.now(old)
}

// text puts new names into an old text.
func (n *names) text(s string) string {
	if !n.renamed || s == "" {
		return s
	}
	if t, ok := n.memo[s]; ok {
		return t
	}
	t := n.each(s, n.now)
	n.memo[s] = t
	return t
}

// each replaces every known name that stands as a word of its own; the longest
// first, so that A1 is not found in A1-A2.
func (n *names) each(s string, by func(string) string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		found := ""
		if i == 0 || !inWord(before(s, i)) {
			for _, l := range n.lengths {
				if i+l <= len(s) && n.known[s[i:i+l]] && !goesOn(s[i+l:]) {
					found = s[i : i+l]
					break
				}
			}
		}
		if found != "" {
			b.WriteString(by(found))
			i += len(found)
			continue
		}
		_, w := utf8.DecodeRuneInString(s[i:])
		b.WriteString(s[i : i+w])
		i += w
	}
	return b.String()
}

func before(s string, i int) rune {
	c, _ := utf8.DecodeLastRuneInString(s[:i])
	return c
}

func inWord(c rune) bool {
	return unicode.IsLetter(c) || unicode.IsDigit(c) || c == '_' || c == '.' || c == '-'
}

// goesOn says whether a word goes on with rest: a full stop at its end does not.
func goesOn(rest string) bool {
	c, w := utf8.DecodeRuneInString(rest)
	if w == 0 || !inWord(c) {
		return false
	}
	if c != '.' && c != '-' {
		return true
	}
	c, w = utf8.DecodeRuneInString(rest[w:])
	return w > 0 && (unicode.IsLetter(c) || unicode.IsDigit(c))
}

// mask takes the names out of a text, so that the same thing said of many places
// reads the same; and gives the names.
func (n *names) mask(s string) (string, []string) {
	if m, ok := n.masks[s]; ok {
		return m.text, m.names
	}
	var found []string
	t := n.each(s, func(name string) string {
		found = append(found, name)
		return "…"
	})
	n.masks[s] = masked{t, found}
	return t, found
}

// A place in a text, as reasons give it: (line 12) or (farm.yaml:12:5) at the
// end, or farm.yaml:12:5 alone.
var (
	placeAtEnd  = regexp.MustCompile(`\s*\((?:line \d+|[^()]*:\d+:\d+)\)$`)
	placeInside = regexp.MustCompile(`\s*\([^()]*:\d+:\d+\)`)
	placeAlone  = regexp.MustCompile(`^[^()]*:\d+:\d+$`)
)

// said is what a message says wherever the job's lines stand.
func said(message string) string {
	if !strings.Contains(message, ":") {
		return message
	}
	return placeInside.ReplaceAllString(message, "")
}

// unplaced takes line numbers, file names and the job's own paths out of a source:
// what moved within a job is no change.
func unplaced(source string) string {
	if placeAlone.MatchString(source) || strings.HasPrefix(source, "job structures[") {
		return "job"
	}
	if !strings.HasSuffix(source, ")") {
		return source
	}
	return placeAtEnd.ReplaceAllString(source, "")
}
