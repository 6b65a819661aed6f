package web

import (
	"context"
	"net/http"
	"time"

	"stallwright/app/account"
	"stallwright/app/notebook"
	"stallwright/app/store"
)

// Link opens one job's drawings to whoever holds its address.
type Link struct {
	ID      string `json:"id"`
	Label   string `json:"label" doc:"for whom"`
	By      string `json:"by"`
	Created string `json:"created"`
	Expires string `json:"expires"`
	Revoked string `json:"revoked,omitempty" doc:"since when it does not count"`
}

// NewLink is a link with its address, which is told once and kept nowhere.
type NewLink struct {
	Link
	Path string `json:"path" doc:"behind the server's own address"`
}

func linkOf(l *store.Link) Link {
	return Link{l.ID, l.Label, l.Account, l.Created, l.Expires, l.Revoked}
}

func (s *Server) handleLinks() {
	op(s, "list-links", func(ctx context.Context, in *OfJob) (*struct {
		Body struct {
			Links []Link `json:"links" nullable:"false"`
		}
	}, error) {
		list, err := s.store.Links(ctx, in.Job)
		if err != nil {
			return nil, err
		}
		var out struct {
			Body struct {
				Links []Link `json:"links" nullable:"false"`
			}
		}
		out.Body.Links = make([]Link, len(list))
		for i := range list {
			out.Body.Links[i] = linkOf(&list[i])
		}
		return &out, nil
	})
	op(s, "add-link", func(ctx context.Context, in *struct {
		OfJob
		Body struct {
			Label string `json:"label" maxLength:"100" doc:"for whom"`
			Days  int    `json:"days,omitempty" minimum:"1" maximum:"366" default:"30" doc:"how long it counts"`
		}
	}) (*struct{ Body NewLink }, error) {
		if in.Body.Days == 0 {
			in.Body.Days = 30
		}
		token := account.NewToken()
		l, err := s.store.AddLink(ctx, asking(ctx).actor(), notebook.NewID(), account.TokenSum(token), in.Job, tidy(in.Body.Label), time.Duration(in.Body.Days)*24*time.Hour)
		if err != nil {
			return nil, err
		}
		return &struct{ Body NewLink }{NewLink{linkOf(&l), "/share/" + token}}, nil
	}, status(http.StatusCreated))
	op(s, "revoke-link", func(ctx context.Context, in *struct {
		OfJob
		Link string `path:"link" maxLength:"40"`
	}) (*struct{}, error) {
		return nil, s.store.RevokeLink(ctx, asking(ctx).actor(), in.Job, in.Link)
	}, status(http.StatusNoContent))
}
