package web

import (
	"context"
	"errors"
	"net/http"
	"regexp"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/shop"
	"stallwright/app/store"
)

// shopName is what a file of the shop may be called: as on any disk.
var shopName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$`)

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

// OfKind names a kind of the shop's files that all of the staff may see.
type OfKind struct {
	Kind string `path:"kind" enum:"kits,yards"`
}

// OfAnyKind names a kind of the shop's files.
type OfAnyKind struct {
	Kind string `path:"kind" enum:"kits,prices,yards"`
}

// OfName names a file of the shop.
type OfName struct {
	Name string `path:"name" pattern:"^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$" maxLength:"60" doc:"of the file: ours.yaml, mill-lane.yaml"`
}

// OfShop names a file of a kind that all of the staff may see.
type OfShop struct {
	OfKind
	OfName
}

// OfAnyShop names a file of any kind.
type OfAnyShop struct {
	OfAnyKind
	OfName
}

type shopOut struct {
	ETag string `header:"ETag"`
	Body ShopHead
}

func shopAnswer(i *store.Item) *shopOut { return &shopOut{quoted(i.Tag()), shopHead(i)} }

type shopList struct {
	Body struct {
		Files []ShopHead `json:"files" nullable:"false"`
	}
}

type shopTextOut struct {
	ETag string `header:"ETag"`
	Body ShopText
}

type revisionOut struct{ Body RevisionText }

func (s *Server) handleShop() {
	op(s, "list-shop", func(ctx context.Context, in *OfKind) (*shopList, error) { return s.listShop(ctx, in.Kind) })
	op(s, "list-prices", func(ctx context.Context, _ *struct{}) (*shopList, error) { return s.listShop(ctx, prices) })
	op(s, "read-shop", func(ctx context.Context, in *OfShop) (*shopTextOut, error) { return s.readShop(ctx, in.Kind, in.Name) })
	op(s, "read-prices", func(ctx context.Context, in *OfName) (*shopTextOut, error) { return s.readShop(ctx, prices, in.Name) })
	op(s, "save-shop", s.saveShop, answers[Conflict](s, http.StatusPreconditionFailed, "Somebody saved meanwhile; nothing was overwritten"), answers[Mistakes](s, http.StatusUnprocessableEntity, "The text has mistakes"))
	op(s, "delete-shop", func(ctx context.Context, in *OfAnyShop) (*struct{}, error) {
		return nil, s.store.DeleteItem(ctx, asking(ctx).actor(), in.Kind, in.Name, true)
	}, status(http.StatusNoContent))
	op(s, "bring-back-shop", func(ctx context.Context, in *OfAnyShop) (*shopOut, error) {
		if err := s.store.DeleteItem(ctx, asking(ctx).actor(), in.Kind, in.Name, false); err != nil {
			return nil, err
		}
		i, err := s.store.Item(ctx, in.Kind, in.Name)
		return shopAnswer(&i), err
	})
	op(s, "download-shop", func(ctx context.Context, in *OfShop) (*FileOut, error) { return s.downloadShop(ctx, in.Kind, in.Name) }, file("application/yaml", "text/csv"))
	op(s, "download-prices", func(ctx context.Context, in *OfName) (*FileOut, error) { return s.downloadShop(ctx, prices, in.Name) }, file("application/yaml"))
	op(s, "list-shop-revisions", func(ctx context.Context, in *OfShop) (*revisionsOut, error) {
		return s.shopRevisions(ctx, in.Kind, in.Name)
	})
	op(s, "list-prices-revisions", func(ctx context.Context, in *OfName) (*revisionsOut, error) {
		return s.shopRevisions(ctx, prices, in.Name)
	})
	op(s, "read-shop-revision", func(ctx context.Context, in *struct {
		OfShop
		OfNumber
	}) (*revisionOut, error) {
		return s.shopRevision(ctx, in.Kind, in.Name, in.Number)
	})
	op(s, "read-prices-revision", func(ctx context.Context, in *struct {
		OfName
		OfNumber
	}) (*revisionOut, error) {
		return s.shopRevision(ctx, prices, in.Name, in.Number)
	})
}

// OfNumber names a revision.
type OfNumber struct {
	Number int64 `path:"number" minimum:"1" maximum:"1000000000"`
}

// prices is the kind of price books.
const prices = string(shop.Prices)

func (s *Server) listShop(ctx context.Context, kind string) (*shopList, error) {
	list, err := s.store.Items(ctx, kind)
	if err != nil {
		return nil, err
	}
	var out shopList
	out.Body.Files = make([]ShopHead, len(list))
	for i := range list {
		out.Body.Files[i] = shopHead(&list[i])
	}
	return &out, nil
}

func (s *Server) readShop(ctx context.Context, kind, name string) (*shopTextOut, error) {
	i, err := s.store.Item(ctx, kind, name)
	if err != nil {
		return nil, err
	}
	return &shopTextOut{quoted(i.Tag()), ShopText{shopHead(&i), i.Text}}, nil
}

func (s *Server) downloadShop(ctx context.Context, kind, name string) (*FileOut, error) {
	i, err := s.store.Item(ctx, kind, name)
	if err != nil {
		return nil, err
	}
	return &FileOut{shop.Media(name), disposition(i.Name), filePolicy, again, quoted(i.Tag()), []byte(i.Text)}, nil
}

func (s *Server) shopRevisions(ctx context.Context, kind, name string) (*revisionsOut, error) {
	list, err := s.store.ItemRevisions(ctx, kind, name)
	if err != nil {
		return nil, err
	}
	return revisionList(list), nil
}

func (s *Server) shopRevision(ctx context.Context, kind, name string, number int64) (*revisionOut, error) {
	r, err := s.store.ItemRevision(ctx, kind, name, number)
	if err != nil {
		return nil, err
	}
	return &revisionOut{revisionText(&r)}, nil
}

func (s *Server) saveShop(ctx context.Context, in *struct {
	OfAnyShop
	IfMatch     string `header:"If-Match" maxLength:"100" doc:"tag of the revision that the text was made from"`
	IfNoneMatch string `header:"If-None-Match" enum:"*" doc:"* to keep a file that is not there yet"`
	Body        struct {
		Text string `json:"text" minLength:"1" maxLength:"2097152" doc:"the file, as the command line reads it"`
		Note string `json:"note,omitempty" maxLength:"500" doc:"why, in the writer's words"`
	}
}) (*shopOut, error) {
	kind := shop.Kind(in.Kind)
	if in.IfMatch == "" && in.IfNoneMatch != "*" {
		return nil, huma.NewError(http.StatusPreconditionRequired, "say which revision the text was made from (If-Match), or that the file is new (If-None-Match: *)")
	}
	title, err := shop.Check(kind, in.Name, in.Body.Text)
	var name *shop.NameError
	if errors.As(err, &name) {
		return nil, bad("%v", name)
	}
	if err != nil {
		return nil, err
	}
	i, err := s.store.Put(ctx, asking(ctx).actor(), in.Kind, in.Name, unquoted(in.IfMatch), store.Draft{Text: in.Body.Text, Title: title, Note: tidy(in.Body.Note)})
	if err != nil {
		return nil, conflicted(err, in.Body.Text, func(text string) error { _, err := shop.Check(kind, in.Name, text); return err })
	}
	return shopAnswer(&i), nil
}
