package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/store"
)

// Photo is a picture attached to a place of a job.
type Photo struct {
	ID      string `json:"id"`
	Place   string `json:"place" doc:"a bay, a post, a step"`
	Note    string `json:"note,omitempty"`
	Taken   string `json:"taken,omitempty" doc:"when, by the device's clock"`
	By      string `json:"by,omitempty"`
	Type    string `json:"type"`
	Width   int    `json:"width"`
	Height  int    `json:"height"`
	Bytes   int    `json:"bytes"`
	Seq     int64  `json:"seq" doc:"of its event"`
	Account string `json:"account"`
}

func photoOf(p *store.Photo) Photo {
	return Photo{p.ID, p.Place, p.Note, p.Taken, p.By, p.Type, p.Width, p.Height, p.Bytes, p.Seq, p.Account}
}

func photoList(list []store.Photo) []Photo {
	out := make([]Photo, len(list))
	for i := range list {
		out[i] = photoOf(&list[i])
	}
	return out
}

type OfPhoto struct {
	OfJob
	Photo string `path:"photo" pattern:"^[A-Za-z0-9_-]{1,40}$" maxLength:"40" doc:"made by the device, unlike any other"`
}

func (s *Server) handlePhotos() {
	op(s, "add-photo", s.addPhoto, takes("image/jpeg", "image/png", "image/webp"))
	op(s, "list-photos", func(ctx context.Context, in *OfJob) (*struct {
		Body struct {
			Photos []Photo `json:"photos" nullable:"false"`
		}
	}, error) {
		if _, err := s.store.Job(ctx, in.Job); err != nil {
			return nil, err
		}
		list, err := s.store.Photos(ctx, in.Job)
		if err != nil {
			return nil, err
		}
		var out struct {
			Body struct {
				Photos []Photo `json:"photos" nullable:"false"`
			}
		}
		out.Body.Photos = photoList(list)
		return &out, nil
	})
	op(s, "read-photo", s.readPhoto, file("image/jpeg"))
}

func (s *Server) addPhoto(ctx context.Context, in *struct {
	OfPhoto
	Place   string `query:"place" maxLength:"200" doc:"a bay, a post, a step"`
	Note    string `query:"note" maxLength:"1000"`
	Taken   string `query:"taken" maxLength:"40" doc:"when, RFC 3339"`
	By      string `query:"by" maxLength:"200" doc:"who"`
	RawBody []byte
}) (*struct{ Body Photo }, error) {
	if in.Taken != "" {
		if _, err := time.Parse(time.RFC3339, in.Taken); err != nil {
			return nil, bad("taken says when as %q; it should be like 2026-05-03T14:10:00+02:00", in.Taken)
		}
	}
	sum := sha256.Sum256(in.RawBody)
	sent := hex.EncodeToString(sum[:])
	if was, err := s.store.Photo(ctx, in.Job, in.Photo); err == nil && was.SentSum == sent {
		return &struct{ Body Photo }{photoOf(&was)}, nil // sent again: nothing to decode
	}
	select {
	case s.decode <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	data, w, h, err := picture(in.RawBody)
	<-s.decode
	var not errPicture
	if errors.As(err, &not) {
		return nil, huma.NewError(http.StatusUnsupportedMediaType, not.why)
	}
	if err != nil {
		return nil, err
	}
	p, err := s.store.AddPhoto(ctx, asking(ctx).actor(), in.Job, store.Photo{
		ID: in.Photo, Place: tidy(in.Place), Note: tidy(in.Note), Taken: in.Taken, By: tidy(in.By), SentSum: sent, Type: "image/jpeg", Width: w, Height: h, Data: data,
	})
	if err != nil {
		return nil, err
	}
	return &struct{ Body Photo }{photoOf(&p)}, nil
}

type FileOut struct {
	Type        string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Policy      string `header:"Content-Security-Policy"`
	Cache       string `header:"Cache-Control"`
	ETag        string `header:"ETag"`
	Body        []byte
}

// forever is for what never changes under its address; only its own reader may keep
// it.
const forever = "private, max-age=31536000, immutable"

func (s *Server) readPhoto(ctx context.Context, in *OfPhoto) (*FileOut, error) {
	p, err := s.store.Photo(ctx, in.Job, in.Photo)
	if err != nil {
		return nil, err
	}
	return &FileOut{p.Type, `inline; filename="` + p.ID + `.jpg"`, filePolicy, forever, quoted(p.SentSum[:16]), p.Data}, nil
}
