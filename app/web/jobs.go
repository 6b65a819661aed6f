package web

import (
	"context"
	"encoding/json"
	"net/http"
	"regexp"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/making"
	"stallwright/app/record"
	"stallwright/app/shop"
	"stallwright/app/store"
)

// JobHead is a job without its text.
type JobHead struct {
	ID       string `json:"id"`
	Title    string `json:"title" doc:"what the office calls it"`
	Farm     string `json:"farm"`
	Revision int64  `json:"revision" doc:"the latest"`
	Tag      string `json:"tag" doc:"names the revision, for If-Match; the ETag without its quotation marks"`
	Seq      int64  `json:"seq" doc:"of the latest event"`
	Created  string `json:"created"`
	Changed  string `json:"changed"`
	Deleted  string `json:"deleted,omitempty" doc:"since when"`
}

func jobHead(h *store.Head) JobHead {
	return JobHead{h.ID, h.Title, h.Farm, h.Revision, h.Tag(), h.Seq, h.Created, h.Changed, h.Deleted}
}

// JobText is a job with its text.
type JobText struct {
	JobHead
	Text string `json:"text" doc:"the job document, exactly as it was saved"`
}

// OfJob names a job in the address. It is exported, as all that operations embed is:
// fields of what is not are left empty. A device makes the id itself, so that a job can
// be made without signal.
type OfJob struct {
	Job string `path:"job" pattern:"^[A-Za-z0-9_-]{1,40}$" maxLength:"40" doc:"made by whoever made the job, unlike any other"`
}

type headOut struct {
	ETag string `header:"ETag"`
	Body JobHead
}

func headAnswer(h *store.Head) *headOut { return &headOut{quoted(h.Tag()), jobHead(h)} }

func quoted(tag string) string { return `"` + tag + `"` }

// unquoted reads an If-Match of one tag. A proxy may have made it weak.
func unquoted(s string) string {
	s = strings.TrimPrefix(strings.TrimSpace(s), "W/")
	return strings.Trim(s, `"`)
}

type saveIn struct {
	OfJob
	IfMatch     string `header:"If-Match" maxLength:"100" doc:"tag of the revision that the text was made from"`
	IfNoneMatch string `header:"If-None-Match" enum:"*" doc:"* to make a job that is not there yet"`
	Body        struct {
		Text string `json:"text" minLength:"1" maxLength:"2097152" doc:"the job document, as the command line reads it (docs/job.md)"`
		Note string `json:"note,omitempty" maxLength:"500" doc:"why, in the writer's words"`
	}
}

func (s *Server) handleJobs() {
	op(s, "list-jobs", s.listJobs)
	op(s, "read-job", s.readJob)
	op(s, "save-job", s.saveJob, answers[Conflict](s, http.StatusPreconditionFailed, "Somebody saved meanwhile; nothing was overwritten"), answers[Mistakes](s, http.StatusUnprocessableEntity, "The text has mistakes"))
	op(s, "delete-job", func(ctx context.Context, in *OfJob) (*struct{}, error) {
		return nil, s.store.Delete(ctx, asking(ctx).actor(), in.Job, true)
	}, status(http.StatusNoContent))
	op(s, "bring-back-job", func(ctx context.Context, in *OfJob) (*headOut, error) {
		if err := s.store.Delete(ctx, asking(ctx).actor(), in.Job, false); err != nil {
			return nil, err
		}
		j, err := s.store.Job(ctx, in.Job)
		return headAnswer(&j.Head), err
	})
	op(s, "take-along", s.takeAlong)
	op(s, "export-job", s.exportJob, file("application/zip"))
	op(s, "import-job", s.importJob, takes("application/yaml", "application/zip"), answers[Mistakes](s, http.StatusUnprocessableEntity, "The text has mistakes"))
}

// answers documents what else an operation may answer.
func answers[T any](s *Server, code int, what string) func(*huma.Operation) {
	return func(o *huma.Operation) {
		registry := s.api.OpenAPI().Components.Schemas
		o.Responses[itoa(code)] = &huma.Response{Description: what, Content: map[string]*huma.MediaType{
			problemType: {Schema: &huma.Schema{AnyOf: []*huma.Schema{
				registry.Schema(typeOf[T](), true, ""),
				registry.Schema(typeOf[huma.ErrorModel](), true, ""), // of the request itself
			}}},
		}}
	}
}

// status sets the status of a good answer.
func status(code int) func(*huma.Operation) {
	return func(o *huma.Operation) { o.DefaultStatus = code }
}

// file documents an answer that is a file.
func file(types ...string) func(*huma.Operation) {
	return func(o *huma.Operation) {
		content := map[string]*huma.MediaType{}
		for _, t := range types {
			content[t] = &huma.MediaType{Schema: &huma.Schema{Type: "string", Format: "binary"}}
		}
		o.Responses["200"] = &huma.Response{Description: "OK", Content: content}
	}
}

// takes documents a request that is a file.
func takes(types ...string) func(*huma.Operation) {
	return func(o *huma.Operation) {
		o.RequestBody = &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{}}
		for _, t := range types {
			o.RequestBody.Content[t] = &huma.MediaType{Schema: &huma.Schema{Type: "string", Format: "binary"}}
		}
	}
}

func (s *Server) listJobs(ctx context.Context, in *struct {
	Deleted bool `query:"deleted" doc:"the deleted ones instead"`
}) (*struct {
	Body struct {
		Jobs []JobHead `json:"jobs" nullable:"false"`
	}
}, error) {
	list, err := s.store.Jobs(ctx, in.Deleted)
	if err != nil {
		return nil, err
	}
	var out struct {
		Body struct {
			Jobs []JobHead `json:"jobs" nullable:"false"`
		}
	}
	out.Body.Jobs = make([]JobHead, len(list))
	for i := range list {
		out.Body.Jobs[i] = jobHead(&list[i])
	}
	return &out, nil
}

type jobOut struct {
	ETag string `header:"ETag"`
	Body JobText
}

func (s *Server) readJob(ctx context.Context, in *OfJob) (*jobOut, error) {
	j, err := s.store.Job(ctx, in.Job)
	if err != nil {
		return nil, err
	}
	return &jobOut{quoted(j.Tag()), JobText{jobHead(&j.Head), j.Text}}, nil
}

func (s *Server) saveJob(ctx context.Context, in *saveIn) (*headOut, error) {
	d, err := draftOf(in.Body.Text, in.Body.Note)
	if err != nil {
		return nil, err
	}
	who := asking(ctx).actor()
	var h store.Head
	switch {
	case in.IfMatch != "":
		h, err = s.store.Save(ctx, who, in.Job, unquoted(in.IfMatch), d)
	case in.IfNoneMatch == "*":
		h, err = s.store.Create(ctx, who, in.Job, d)
	default:
		return nil, huma.NewError(http.StatusPreconditionRequired, "say which revision the text was made from (If-Match), or that the job is new (If-None-Match: *)")
	}
	if err != nil {
		return nil, conflicted(err, in.Body.Text, goodJob)
	}
	return headAnswer(&h), nil
}

// draftOf reads a job's text as far as it says what it is; a text with mistakes is
// refused, its writer keeps it.
func draftOf(text, note string) (store.Draft, error) {
	title, farm, err := making.Check(text)
	if err != nil {
		return store.Draft{}, err
	}
	return store.Draft{Text: text, Title: title, Farm: farm, Note: tidy(note)}, nil
}

func goodJob(text string) error {
	_, _, err := making.Check(text)
	return err
}

// conflicted makes a conflict the answer to it, other errors stay.
func conflicted(err error, ours string, check func(string) error) error {
	if c, ok := asConflict(err); ok {
		return conflict(c, ours, check)
	}
	return err
}

// TakeAlong is all of a job that a device needs without signal.
type TakeAlong struct {
	Job     JobText         `json:"job"`
	Kit     *KitText        `json:"kit,omitempty" doc:"the shop's kit that the job names; a shipped one is in the page already"`
	Yard    *KitText        `json:"yard,omitempty" doc:"the shop's yard that the job names"`
	Prices  *KitText        `json:"prices,omitempty" doc:"the shop's price book that the job names; for the office only"`
	Records []record.Record `json:"records" nullable:"false"`
	Photos  []Photo         `json:"photos" nullable:"false"`
	Seq     int64           `json:"seq" doc:"events behind this one are not in it"`
}

// KitText is a file of the shop.
type KitText struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

func (s *Server) takeAlong(ctx context.Context, in *OfJob) (*struct{ Body TakeAlong }, error) {
	// The job is read first: what is written meanwhile has a later event, and is
	// asked for by it.
	j, err := s.store.Job(ctx, in.Job)
	if err != nil {
		return nil, err
	}
	out := TakeAlong{Job: JobText{jobHead(&j.Head), j.Text}, Seq: j.Seq}
	if out.Records, err = s.store.AllRecords(ctx, in.Job); err != nil {
		return nil, err
	}
	photos, err := s.store.Photos(ctx, in.Job)
	if err != nil {
		return nil, err
	}
	out.Photos = photoList(photos)
	if err := s.shopOf(ctx, j.Text, &out); err != nil {
		return nil, err
	}
	return &struct{ Body TakeAlong }{out}, nil
}

// shopOf adds the files of the shop that a job names, as far as it can be read.
func (s *Server) shopOf(ctx context.Context, text string, out *TakeAlong) error {
	named, err := making.Named(text)
	if err != nil {
		return nil // the text has mistakes; the device shows them
	}
	for _, f := range []struct {
		kind shop.Kind
		name string
		to   **KitText
	}{{shop.Kits, named.Kit, &out.Kit}, {shop.Yards, named.Yard, &out.Yard}, {shop.Prices, named.Prices, &out.Prices}} {
		if f.name == "" || f.kind == shop.Prices && !asking(ctx).office() {
			continue
		}
		text, ok, err := s.shelf(ctx)(f.kind, f.name)
		if err != nil {
			return err
		}
		if ok {
			*f.to = &KitText{f.name, text}
		}
	}
	return nil
}

// shelf finds the shop's files; deleted ones too, since jobs may still name them.
func (s *Server) shelf(ctx context.Context) making.Shelf {
	return func(kind shop.Kind, name string) (string, bool, error) {
		if !shopName.MatchString(name) {
			return "", false, nil
		}
		i, err := s.store.Item(ctx, string(kind), name)
		switch {
		case err == nil:
			return i.Text, true, nil
		case isMissing(err):
			return "", false, nil
		}
		return "", false, err
	}
}

// source reads all that a job's plan depends on, at a revision (0: the latest).
func (s *Server) source(ctx context.Context, id string, revision int64) (*making.Source, error) {
	j, err := s.store.Job(ctx, id)
	if err != nil {
		return nil, err
	}
	text := j.Text
	if revision != 0 && revision != j.Revision {
		r, err := s.store.Revision(ctx, id, revision)
		if err != nil {
			return nil, err
		}
		text = r.Text
	}
	records, err := s.store.AllRecords(ctx, id)
	if err != nil {
		return nil, err
	}
	return making.Read(text, records, s.shelf(ctx))
}

var control = regexp.MustCompile(`[\x00-\x1f\x7f]+`)

// tidy makes one line of a person's words.
func tidy(s string) string { return strings.TrimSpace(control.ReplaceAllString(s, " ")) }

// raw makes JSON of a value that is known to have some.
func raw(v any) json.RawMessage {
	out, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return out
}
