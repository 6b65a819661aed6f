package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/store"
	"stallwright/paper/differ"
	"stallwright/paper/packet"
)

// Revision is one save of a text.
type Revision struct {
	Number int64  `json:"number"`
	Tag    string `json:"tag"`
	Base   int64  `json:"base" doc:"the revision it was made from; 0 for none"`
	At     string `json:"at"`
	By     string `json:"by" doc:"whose account"`
	Note   string `json:"note,omitempty"`
}

// RevisionText is a revision with its text.
type RevisionText struct {
	Revision
	Text string `json:"text"`
}

func revisionOf(r *store.Revision) Revision {
	return Revision{r.Number, store.Tag(r.Number, r.Sum), r.Base, r.At, r.Account, r.Note}
}

func revisionText(r *store.Revision) RevisionText { return RevisionText{revisionOf(r), r.Text} }

type OfRevision struct {
	OfJob
	Number int64 `path:"number" minimum:"1" maximum:"1000000000"`
}

type revisionsOut struct {
	Body struct {
		Revisions []Revision `json:"revisions" nullable:"false"`
	}
}

func revisionList(list []store.Revision) *revisionsOut {
	out := &revisionsOut{}
	out.Body.Revisions = make([]Revision, len(list))
	for i := range list {
		out.Body.Revisions[i] = revisionOf(&list[i])
	}
	return out
}

// Compared is what differs between two revisions.
type Compared struct {
	From int64           `json:"from"`
	To   int64           `json:"to"`
	Text string          `json:"text" doc:"to read, as stallwright diff prints it"`
	Diff json.RawMessage `json:"diff" doc:"as stallwright diff --json writes it (docs/diff.md)"`
}

func (s *Server) handleRevisions() {
	op(s, "list-revisions", func(ctx context.Context, in *OfJob) (*revisionsOut, error) {
		list, err := s.store.Revisions(ctx, in.Job)
		if err != nil {
			return nil, err
		}
		return revisionList(list), nil
	})
	op(s, "read-revision", func(ctx context.Context, in *OfRevision) (*struct{ Body RevisionText }, error) {
		r, err := s.store.Revision(ctx, in.Job, in.Number)
		if err != nil {
			return nil, err
		}
		return &struct{ Body RevisionText }{revisionText(&r)}, nil
	})
	op(s, "restore-revision", s.restoreRevision, answers[Conflict](s, http.StatusPreconditionFailed, "Somebody saved meanwhile; nothing was overwritten"))
	op(s, "compare-revisions", s.compareRevisions, answers[Mistakes](s, http.StatusUnprocessableEntity, "One of the two cannot be planned"))
}

func (s *Server) restoreRevision(ctx context.Context, in *struct {
	OfRevision
	IfMatch string `header:"If-Match" maxLength:"100" doc:"tag of the latest revision, as last seen"`
}) (*headOut, error) {
	if in.IfMatch == "" {
		return nil, huma.NewError(http.StatusPreconditionRequired, "say which revision was the latest when this was decided (If-Match)")
	}
	r, err := s.store.Revision(ctx, in.Job, in.Number)
	if err != nil {
		return nil, err
	}
	d, err := draftOf(r.Text, fmt.Sprintf("revision %d again", in.Number))
	if err != nil {
		return nil, err
	}
	h, err := s.store.Save(ctx, asking(ctx).actor(), in.Job, unquoted(in.IfMatch), d)
	if err != nil {
		return nil, conflicted(err, r.Text, goodJob)
	}
	return headAnswer(&h), nil
}

func (s *Server) compareRevisions(ctx context.Context, in *struct {
	OfJob
	From int64 `query:"from" required:"true" minimum:"1" maximum:"1000000000"`
	To   int64 `query:"to" minimum:"0" maximum:"1000000000" doc:"the latest where left out"`
}) (*struct{ Body Compared }, error) {
	j, err := s.store.Job(ctx, in.Job)
	if err != nil {
		return nil, err
	}
	if in.To == 0 {
		in.To = j.Revision
	}
	var docs [2]*packet.Document
	for i, n := range []int64{in.From, in.To} {
		src, err := s.source(ctx, in.Job, n)
		if err != nil {
			return nil, err
		}
		made, err := s.maker.Make(ctx, src)
		if err != nil {
			return nil, err
		}
		docs[i] = packet.NewDocument(made.Plan)
	}
	d := differ.Compare(docs[0], docs[1])
	diff, err := d.JSON()
	if err != nil {
		return nil, err
	}
	return &struct{ Body Compared }{Compared{in.From, in.To, string(d.Text()), diff}}, nil
}
