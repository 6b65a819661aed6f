package store

import (
	"context"
	"fmt"
)

// Item is a file of the shop that jobs use: a kit, a price book, a yard's list.
type Item struct {
	Kind     string
	Name     string // the file's name, as jobs write it
	Title    string
	Revision int64
	Sum      string
	Changed  string
	Deleted  string
	Text     string // empty in lists
}

// Tag names the file's latest revision.
func (i *Item) Tag() string { return Tag(i.Revision, i.Sum) }

const itemColumns = "s.kind, s.name, s.title, s.revision, v.sum, s.changed, s.deleted"
const itemFrom = " FROM shelf s JOIN shelf_revision v ON v.kind = s.kind AND v.name = s.name AND v.number = s.revision"

func (i *Item) columns() []any {
	return []any{&i.Kind, &i.Name, &i.Title, &i.Revision, &i.Sum, &i.Changed, &i.Deleted}
}

// Items lists the files of a kind by name, deleted ones too.
func (s *Store) Items(ctx context.Context, kind string) ([]Item, error) {
	return all(ctx, s, func(scan func(...any) error) (i Item, err error) {
		err = scan(i.columns()...)
		return i, err
	}, "SELECT "+itemColumns+itemFrom+" WHERE s.kind = ? ORDER BY s.name", kind)
}

// Item is a file with its latest text, a deleted one too.
func (s *Store) Item(ctx context.Context, kind, name string) (Item, error) {
	var i Item
	err := s.read.QueryRowContext(ctx, s.dialect.bind("SELECT "+itemColumns+", v.text"+itemFrom+" WHERE s.kind = ? AND s.name = ?"), kind, name).Scan(append(i.columns(), &i.Text)...)
	return i, found(err)
}

// Put adds a revision to a file, or makes it where tag is empty. tag names the
// revision that the text was made from; where that is not the latest any more the
// error is a ConflictError. A deleted file comes back with it.
func (s *Store) Put(ctx context.Context, who Actor, kind, name, tag string, d Draft) (Item, error) {
	err := s.change(ctx, func(t *tx) error {
		if _, err := t.exec("INSERT INTO shelf (kind, name, title, revision, changed) VALUES (?, ?, '', 0, ?) ON CONFLICT (kind, name) DO NOTHING", kind, name, t.at); err != nil {
			return err
		}
		var now Revision
		var deleted string
		if err := t.row("SELECT revision, deleted FROM shelf WHERE kind = ? AND name = ?"+t.s.dialect.hold, kind, name).Scan(&now.Number, &deleted); err != nil {
			return found(err)
		}
		if now.Number > 0 {
			if err := t.row("SELECT text, sum, base, at, account, note FROM shelf_revision WHERE kind = ? AND name = ? AND number = ?", kind, name, now.Number).Scan(&now.Text, &now.Sum, &now.Base, &now.At, &now.Account, &now.Note); err != nil {
				return err
			}
			if now.Text == d.Text && deleted == "" {
				return nil
			}
			if tag != Tag(now.Number, now.Sum) {
				return &ConflictError{Now: now}
			}
		} else if tag != "" {
			return ErrNotFound
		}
		if _, err := t.exec("INSERT INTO shelf_revision (kind, name, number, text, sum, base, at, account, note) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
			kind, name, now.Number+1, d.Text, sumOf([]byte(d.Text)), now.Number, t.at, who.Account, d.Note); err != nil {
			return err
		}
		if _, err := t.exec("UPDATE shelf SET title = ?, revision = ?, changed = ?, deleted = '' WHERE kind = ? AND name = ?", d.Title, now.Number+1, t.at, kind, name); err != nil {
			return err
		}
		return t.audit(who, kind+" saved", name, fmt.Sprintf("revision %d", now.Number+1))
	})
	if err != nil {
		return Item{}, err
	}
	return s.Item(ctx, kind, name)
}

// DeleteItem marks a file as deleted, or takes the mark away.
func (s *Store) DeleteItem(ctx context.Context, who Actor, kind, name string, deleted bool) error {
	return s.change(ctx, func(t *tx) error {
		mark, what := "", " brought back"
		if deleted {
			mark, what = t.at, " deleted"
		}
		res, err := t.exec("UPDATE shelf SET deleted = ?, changed = ? WHERE kind = ? AND name = ? AND revision > 0", mark, t.at, kind, name)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil || n == 0 {
			return ErrNotFound
		}
		return t.audit(who, kind+what, name, "")
	})
}

// ItemRevisions lists a file's revisions without their texts, the latest first.
func (s *Store) ItemRevisions(ctx context.Context, kind, name string) ([]Revision, error) {
	list, err := all(ctx, s, func(scan func(...any) error) (r Revision, err error) {
		err = scan(&r.Number, &r.Sum, &r.Base, &r.At, &r.Account, &r.Note)
		return r, err
	}, "SELECT number, sum, base, at, account, note FROM shelf_revision WHERE kind = ? AND name = ? ORDER BY number DESC", kind, name)
	if err == nil && len(list) == 0 {
		err = ErrNotFound
	}
	return list, err
}

// ItemRevision is one revision of a file with its text.
func (s *Store) ItemRevision(ctx context.Context, kind, name string, number int64) (Revision, error) {
	r := Revision{Number: number}
	err := s.read.QueryRowContext(ctx, s.dialect.bind("SELECT text, sum, base, at, account, note FROM shelf_revision WHERE kind = ? AND name = ? AND number = ?"), kind, name, number).Scan(&r.Text, &r.Sum, &r.Base, &r.At, &r.Account, &r.Note)
	return r, found(err)
}
