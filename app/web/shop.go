package web

import (
	"context"
	"net/http"
	"regexp"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/cutfile"
	"stallwright/app/store"
	"stallwright/engine/document"
	"stallwright/engine/kit"
)

// kindKit is the shop's kind of kits.
const kindKit = "kits"

// shopName is what a file of the shop may be called: as on any disk.
var shopName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$`)

// shopKind is a kind of file that the shop keeps.
type shopKind struct {
	ending string // of the file's name
	media  string
	// check reads a text as the command line does. The error is document.Problems.
	check func(name, text string) (title string, err error)
}

// shopKinds are the kinds, by the name in the address.
var shopKinds = map[string]shopKind{
	kindKit: {".yaml", "application/yaml", func(name, text string) (string, error) {
		k, err := kit.Read(name, []byte(text))
		if err != nil {
			return "", err
		}
		return k.Title, nil
	}},
	// What a lumber yard sells, as stallwright cut --stock reads it.
	"yards": {".csv", "text/csv; charset=utf-8", func(name, text string) (string, error) {
		var ps document.Problems
		for _, f := range cutfile.CheckStock(name, strings.NewReader(text)) {
			ps = append(ps, document.Problem{Pos: document.Pos{File: f.File, Line: f.Line, Column: f.Column}, Message: f.Text})
		}
		if len(ps) > 0 {
			return "", ps
		}
		return strings.TrimSuffix(name, ".csv"), nil
	}},
}

// ShopHead is a file of the shop without its text.
type ShopHead struct {
	Kind     string `json:"kind"`
	Name     string `json:"name" doc:"of the file, as jobs write it"`
	Title    string `json:"title"`
	Revision int64  `json:"revision"`
	Tag      string `json:"tag" doc:"for If-Match"`
	Changed  string `json:"changed"`
	Deleted  string `json:"deleted,omitempty" doc:"since when; jobs that name it can still be planned"`
}

// ShopText is a file of the shop with its text.
type ShopText struct {
	ShopHead
	Text string `json:"text"`
}

func shopHead(i *store.Item) ShopHead {
	return ShopHead{i.Kind, i.Name, i.Title, i.Revision, i.Tag(), i.Changed, i.Deleted}
}

type OfKind struct {
	Kind string `path:"kind" enum:"kits,yards"`
}

type OfShop struct {
	OfKind
	Name string `path:"name" pattern:"^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$" maxLength:"60" doc:"of the file: ours.yaml, millers-yard.csv"`
}

type shopOut struct {
	ETag string `header:"ETag"`
	Body ShopHead
}

func shopAnswer(i *store.Item) *shopOut { return &shopOut{quoted(i.Tag()), shopHead(i)} }

func (s *Server) handleShop() {
	op(s, "list-shop", func(ctx context.Context, in *OfKind) (*struct {
		Body struct {
			Files []ShopHead `json:"files" nullable:"false"`
		}
	}, error) {
		list, err := s.store.Items(ctx, in.Kind)
		if err != nil {
			return nil, err
		}
		var out struct {
			Body struct {
				Files []ShopHead `json:"files" nullable:"false"`
			}
		}
		out.Body.Files = make([]ShopHead, len(list))
		for i := range list {
			out.Body.Files[i] = shopHead(&list[i])
		}
		return &out, nil
	})
	op(s, "read-shop", func(ctx context.Context, in *OfShop) (*struct {
		ETag string `header:"ETag"`
		Body ShopText
	}, error) {
		i, err := s.store.Item(ctx, in.Kind, in.Name)
		if err != nil {
			return nil, err
		}
		return &struct {
			ETag string `header:"ETag"`
			Body ShopText
		}{quoted(i.Tag()), ShopText{shopHead(&i), i.Text}}, nil
	})
	op(s, "save-shop", s.saveShop, answers[Conflict](s, http.StatusPreconditionFailed, "Somebody saved meanwhile; nothing was overwritten"), answers[Mistakes](s, http.StatusUnprocessableEntity, "The text has mistakes"))
	op(s, "delete-shop", func(ctx context.Context, in *OfShop) (*struct{}, error) {
		return nil, s.store.DeleteItem(ctx, asking(ctx).actor(), in.Kind, in.Name, true)
	}, status(http.StatusNoContent))
	op(s, "bring-back-shop", func(ctx context.Context, in *OfShop) (*shopOut, error) {
		if err := s.store.DeleteItem(ctx, asking(ctx).actor(), in.Kind, in.Name, false); err != nil {
			return nil, err
		}
		i, err := s.store.Item(ctx, in.Kind, in.Name)
		return shopAnswer(&i), err
	})
	op(s, "download-shop", func(ctx context.Context, in *OfShop) (*FileOut, error) {
		i, err := s.store.Item(ctx, in.Kind, in.Name)
		if err != nil {
			return nil, err
		}
		return &FileOut{shopKinds[in.Kind].media, disposition(i.Name), filePolicy, again, quoted(i.Tag()), []byte(i.Text)}, nil
	}, file("application/yaml", "text/csv"))
	op(s, "list-shop-revisions", func(ctx context.Context, in *OfShop) (*revisionsOut, error) {
		list, err := s.store.ItemRevisions(ctx, in.Kind, in.Name)
		if err != nil {
			return nil, err
		}
		return revisionList(list), nil
	})
	op(s, "read-shop-revision", func(ctx context.Context, in *struct {
		OfShop
		Number int64 `path:"number" minimum:"1" maximum:"1000000000"`
	}) (*struct{ Body RevisionText }, error) {
		r, err := s.store.ItemRevision(ctx, in.Kind, in.Name, in.Number)
		if err != nil {
			return nil, err
		}
		return &struct{ Body RevisionText }{revisionText(&r)}, nil
	})
}

func (s *Server) saveShop(ctx context.Context, in *struct {
	OfShop
	IfMatch     string `header:"If-Match" maxLength:"100" doc:"tag of the revision that the text was made from"`
	IfNoneMatch string `header:"If-None-Match" enum:"*" doc:"* to keep a file that is not there yet"`
	Body        struct {
		Text string `json:"text" minLength:"1" maxLength:"2097152" doc:"the file, as the command line reads it"`
		Note string `json:"note,omitempty" maxLength:"500" doc:"why, in the writer's words"`
	}
}) (*shopOut, error) {
	k := shopKinds[in.Kind]
	if !strings.HasSuffix(in.Name, k.ending) {
		return nil, bad("a file of the %s ends in %s", in.Kind, k.ending)
	}
	if in.IfMatch == "" && in.IfNoneMatch != "*" {
		return nil, huma.NewError(http.StatusPreconditionRequired, "say which revision the text was made from (If-Match), or that the file is new (If-None-Match: *)")
	}
	title, err := k.check(in.Name, in.Body.Text)
	if err != nil {
		return nil, err
	}
	i, err := s.store.Put(ctx, asking(ctx).actor(), in.Kind, in.Name, unquoted(in.IfMatch), store.Draft{Text: in.Body.Text, Title: title, Note: tidy(in.Body.Note)})
	if err != nil {
		return nil, conflicted(err, in.Body.Text, func(text string) error { _, err := k.check(in.Name, text); return err })
	}
	return shopAnswer(&i), nil
}
