package document

import "github.com/goccy/go-yaml/token"

// A Reporter gathers problems of one text and keeps the text to show them in.
//
// To read a document and go on checking it with the same snippets:
//
//	r := document.NewReporter(file, src)
//	if r.Read(&job) {
//		checkJob(r, &job)
//	}
//	return r.Err()
type Reporter struct {
	src      source
	spots    map[*token.Token]spot // while reading
	problems Problems
	dropped  bool
}

// mostKept bounds the memory a hopeless text can take up in problems.
const mostKept = 1000

// NewReporter returns a reporter for a text. src may be nil when the text is not
// at hand; the problems then have no snippets.
func NewReporter(file string, src []byte) *Reporter {
	return &Reporter{src: newSource(file, src)}
}

// Add notes a problem. pos and path say where it is, usually from [Where] and from
// the path Validate was given; text is what is wrong there, as written; hint is
// what would be right. All but message may be empty.
func (r *Reporter) Add(pos Pos, path, text, message, hint string) {
	if r.full() {
		r.dropped = true
		return
	}
	r.problems = append(r.problems, Problem{
		Pos: pos, Path: path, Text: text, Message: message, Hint: hint,
		line: r.src.lineAt(pos),
	})
}

// Rest takes over what a further check found in a text with mistakes, so that a
// person hears of everything at once: all but what stands on the line of a mistake
// told already, or at no line, since that only follows from it.
func (r *Reporter) Rest(of *Reporter) {
	told := map[int]bool{0: true}
	for i := range r.problems {
		told[r.problems[i].Pos.Line] = true
	}
	for _, p := range of.problems {
		if !told[p.Pos.Line] {
			r.Add(p.Pos, p.Path, p.Text, p.Message, p.Hint)
		}
	}
}

// full says that further problems are not kept.
func (r *Reporter) full() bool { return len(r.problems) >= mostKept }

// Len is how many problems have been noted so far. It stops growing at a number
// far above MaxProblems.
func (r *Reporter) Len() int { return len(r.problems) }

// Err returns the problems in order of place, at most [MaxProblems] and one line
// saying how many more there are; nil if there are none.
func (r *Reporter) Err() error {
	if len(r.problems) == 0 {
		return nil
	}
	return sorted(r.problems, r.dropped)
}
