package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/making"
	"stallwright/app/merge"
	"stallwright/app/store"
	"stallwright/engine/document"
)

// Problem is one mistake in a text.
type Problem struct {
	File    string `json:"file,omitempty"`
	Line    int    `json:"line,omitempty" doc:"from 1; 0 for nowhere in particular"`
	Column  int    `json:"column,omitempty"`
	Path    string `json:"path,omitempty" doc:"which value, as structures[0].rooms[2].width"`
	Text    string `json:"text,omitempty" doc:"the text that is wrong"`
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty" doc:"what would be right"`
}

// Mistakes is the answer to a text with mistakes: all of them.
type Mistakes struct {
	Title    string    `json:"title"`
	Status   int       `json:"status"`
	Detail   string    `json:"detail"`
	Problems []Problem `json:"problems"`
}

func (m *Mistakes) Error() string             { return m.Detail }
func (m *Mistakes) GetStatus() int            { return m.Status }
func (m *Mistakes) ContentType(string) string { return problemType }

const problemType = "application/problem+json"

func mistakes(ps document.Problems) *Mistakes {
	m := &Mistakes{Title: "The text has mistakes", Status: http.StatusUnprocessableEntity, Detail: ps.Error(), Problems: []Problem{}}
	for _, p := range ps {
		m.Problems = append(m.Problems, Problem{p.Pos.File, p.Pos.Line, p.Pos.Column, p.Path, p.Text, p.Message, p.Hint})
	}
	return m
}

// Clash is a place where two edits do not go together.
type Clash struct {
	Line   int    `json:"line" doc:"of the revision both were made from, from 1"`
	Base   string `json:"base" doc:"what stood there"`
	Ours   string `json:"ours" doc:"what this save makes of it"`
	Theirs string `json:"theirs" doc:"what the other save made of it"`
}

// Conflict is the answer to a save of what somebody else changed meanwhile. Nothing
// was saved.
type Conflict struct {
	Title   string        `json:"title"`
	Status  int           `json:"status"`
	Detail  string        `json:"detail"`
	Now     RevisionText  `json:"now" doc:"what stands there"`
	Base    *RevisionText `json:"base,omitempty" doc:"what the refused text was made from, where it is known"`
	Merged  string        `json:"merged,omitempty" doc:"both edits in one text, where they go together and make a job without mistakes; look at it, then save it with the tag of now"`
	Clashes []Clash       `json:"clashes,omitempty" doc:"where they do not"`
}

func (c *Conflict) Error() string             { return c.Detail }
func (c *Conflict) GetStatus() int            { return c.Status }
func (c *Conflict) ContentType(string) string { return problemType }

// conflict makes the answer. ours is the text that was refused; check says whether a
// merged text is good.
func conflict(e *store.ConflictError, ours string, check func(string) error) *Conflict {
	c := &Conflict{Title: "Somebody saved meanwhile", Status: http.StatusPreconditionFailed, Now: revisionText(&e.Now),
		Detail: e.Error() + "; nothing was overwritten. Compare the two, then save again with the tag of what stands there now."}
	if e.Base == nil {
		return c
	}
	base := revisionText(e.Base)
	c.Base = &base
	text, clashes := merge.Texts(e.Base.Text, ours, e.Now.Text)
	for _, v := range clashes {
		c.Clashes = append(c.Clashes, Clash(v))
	}
	if len(clashes) == 0 && check(text) == nil {
		c.Merged = text
	}
	return c
}

// bad is an error that a person can mend.
func bad(format string, a ...any) error {
	return huma.Error422UnprocessableEntity(fmt.Sprintf(format, a...))
}

// told is an error as the client hears it. What went wrong inside is logged.
func (s *Server) told(ctx context.Context, name string, err error) error {
	var status huma.StatusError
	if errors.As(err, &status) {
		return err // with its headers
	}
	if ps, ok := making.ProblemsOf(err); ok {
		return mistakes(ps)
	}
	switch {
	case errors.Is(err, store.ErrNotFound):
		return huma.Error404NotFound("there is nothing of that name; it may have been deleted")
	case errors.Is(err, store.ErrExists):
		return huma.Error409Conflict("that name is taken by something else")
	case errors.Is(err, store.ErrLast):
		return huma.Error409Conflict(err.Error())
	case errors.Is(err, making.ErrPaper):
		return bad("%v", err)
	case ctx.Err() != nil:
		return huma.NewError(499, "the request was given up") // nobody reads it
	}
	s.log.Error("a request failed", "operation", name, "error", err)
	return huma.Error500InternalServerError("something went wrong here; it is in the server's log")
}

// refuse answers with a problem (RFC 9457), before any operation is asked.
func (s *Server) refuse(w http.ResponseWriter, status int, detail string) {
	w.Header().Set("Content-Type", problemType)
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(map[string]any{"title": http.StatusText(status), "status": status, "detail": detail}) // the client is gone, or hears it
}

// size writes a number of bytes for a person.
func size(n int64) string {
	if n >= 1<<20 {
		return fmt.Sprintf("%d MB", n>>20)
	}
	return fmt.Sprintf("%d KB", n>>10)
}
