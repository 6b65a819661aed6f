package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
)

// Actor is who does something, for the audit trail.
type Actor struct {
	Account string // the name
	Role    string
	Remote  string // the address it came from
}

// Head is a job without its text.
type Head struct {
	ID       string
	Title    string // what the office calls it
	Farm     string
	Revision int64 // the latest
	Sum      string
	Seq      int64  // of the latest event
	Created  string // times are RFC 3339 in UTC
	Changed  string // when it was last saved, deleted or brought back
	Deleted  string // since when; empty for not
}

// Job is a job with its latest text.
type Job struct {
	Head
	Text string
}

// Revision is one text of a job or a shelf file, as it was saved.
type Revision struct {
	Number  int64
	Text    string // empty in lists
	Sum     string
	Base    int64 // the revision it was made from; 0 for none
	At      string
	Account string
	Note    string
}

// Tag names a revision for If-Match: its number, and enough of its sum that the
// same number of another history is told apart.
func Tag(number int64, sum string) string { return fmt.Sprintf("%d-%.12s", number, sum) }

// Tag names the job's latest revision.
func (h *Head) Tag() string { return Tag(h.Revision, h.Sum) }

// Draft is a text to be saved.
type Draft struct {
	Text  string
	Title string // what the text says of itself
	Farm  string
	Note  string // why, in the writer's words
}

const headColumns = "j.id, j.title, j.farm, j.revision, v.sum, j.seq, j.created, j.changed, j.deleted"
const headFrom = " FROM job j JOIN revision v ON v.job = j.id AND v.number = j.revision"

func scanHead(scan func(...any) error) (h Head, err error) {
	err = scan(&h.ID, &h.Title, &h.Farm, &h.Revision, &h.Sum, &h.Seq, &h.Created, &h.Changed, &h.Deleted)
	return h, err
}

// Jobs lists the jobs, the one changed last first; the deleted ones where asked
// for, else the others.
func (s *Store) Jobs(ctx context.Context, deleted bool) ([]Head, error) {
	where := " WHERE j.deleted = ''"
	if deleted {
		where = " WHERE j.deleted <> ''"
	}
	return all(ctx, s, scanHead, "SELECT "+headColumns+headFrom+where+" ORDER BY j.changed DESC, j.id")
}

// Job is a job with its latest text, a deleted one too.
func (s *Store) Job(ctx context.Context, id string) (Job, error) {
	var j Job
	err := s.read.QueryRowContext(ctx, s.dialect.bind("SELECT "+headColumns+", v.text"+headFrom+" WHERE j.id = ?"), id).Scan(
		&j.ID, &j.Title, &j.Farm, &j.Revision, &j.Sum, &j.Seq, &j.Created, &j.Changed, &j.Deleted, &j.Text)
	return j, found(err)
}

// found makes a missing row an ErrNotFound.
func found(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNotFound
	}
	return err
}

// Create makes a job of an id that its maker chose. The same job made twice from
// the same text is made once; the id with another text is ErrExists.
func (s *Store) Create(ctx context.Context, who Actor, id string, d Draft) (Head, error) {
	err := s.change(ctx, func(t *tx) error {
		res, err := t.exec("INSERT INTO job (id, title, farm, revision, seq, created, changed) VALUES (?, ?, ?, 0, 0, ?, ?) ON CONFLICT (id) DO NOTHING", id, d.Title, d.Farm, t.at, t.at)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil || n == 0 {
			var sum string
			if err := t.row("SELECT sum FROM revision WHERE job = ? AND number = 1", id).Scan(&sum); err != nil {
				return found(err)
			}
			if sum == sumOf([]byte(d.Text)) {
				return nil
			}
			return ErrExists
		}
		if err := t.revise(who, id, 0, d); err != nil {
			return err
		}
		return t.audit(who, "job created", id, d.Title)
	})
	if err != nil {
		return Head{}, err
	}
	j, err := s.Job(ctx, id)
	return j.Head, err
}

// Save adds a revision to a job. tag names the revision that the text was made
// from; where that is not the latest any more, nothing is saved and the error is a
// ConflictError. A text that is the latest one's already adds nothing.
func (s *Store) Save(ctx context.Context, who Actor, id, tag string, d Draft) (Head, error) {
	err := s.change(ctx, func(t *tx) error {
		now, err := t.latest(id)
		switch {
		case err != nil:
			return err
		case now.Text == d.Text:
			return nil
		case tag != Tag(now.Number, now.Sum):
			return t.conflict(id, now, tag)
		}
		if err := t.revise(who, id, now.Number, d); err != nil {
			return err
		}
		return t.audit(who, "job saved", id, fmt.Sprintf("revision %d", now.Number+1))
	})
	if err != nil {
		return Head{}, err
	}
	j, err := s.Job(ctx, id)
	return j.Head, err
}

// latest holds a job that is not deleted until the transaction ends, and gives its
// latest revision.
func (t *tx) latest(id string) (Revision, error) {
	var r Revision
	var deleted string
	if err := t.row("SELECT revision, deleted FROM job WHERE id = ?"+t.s.dialect.hold, id).Scan(&r.Number, &deleted); err != nil {
		return r, found(err)
	}
	if deleted != "" {
		return r, ErrNotFound
	}
	err := t.row("SELECT text, sum, base, at, account, note FROM revision WHERE job = ? AND number = ?", id, r.Number).Scan(&r.Text, &r.Sum, &r.Base, &r.At, &r.Account, &r.Note)
	return r, err
}

// conflict is the error of a text that was made from a revision which is not the
// latest.
func (t *tx) conflict(id string, now Revision, tag string) error {
	e := &ConflictError{Now: now}
	number, _, _ := strings.Cut(tag, "-")
	rows, err := t.QueryContext(t.ctx, t.s.dialect.bind("SELECT number, text, sum, base, at, account, note FROM revision WHERE job = ? AND CAST(number AS TEXT) = ?"), id, number)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var b Revision
		if err := rows.Scan(&b.Number, &b.Text, &b.Sum, &b.Base, &b.At, &b.Account, &b.Note); err != nil {
			return err
		}
		if Tag(b.Number, b.Sum) == tag {
			e.Base = &b
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	return e
}

// revise writes a job's next revision.
func (t *tx) revise(who Actor, id string, base int64, d Draft) error {
	n := base + 1
	_, err := t.exec("INSERT INTO revision (job, number, text, sum, base, at, account, note) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
		id, n, d.Text, sumOf([]byte(d.Text)), base, t.at, who.Account, d.Note)
	if err != nil {
		return err
	}
	if _, err := t.exec("UPDATE job SET revision = ?, title = ?, farm = ?, changed = ? WHERE id = ?", n, d.Title, d.Farm, t.at, id); err != nil {
		return err
	}
	_, err = t.event(who, id, "revision", fmt.Sprint(n))
	return err
}

// Revisions lists the revisions of a job without their texts, the latest first.
func (s *Store) Revisions(ctx context.Context, id string) ([]Revision, error) {
	list, err := all(ctx, s, func(scan func(...any) error) (r Revision, err error) {
		err = scan(&r.Number, &r.Sum, &r.Base, &r.At, &r.Account, &r.Note)
		return r, err
	}, "SELECT number, sum, base, at, account, note FROM revision WHERE job = ? ORDER BY number DESC", id)
	if err == nil && len(list) == 0 {
		err = ErrNotFound
	}
	return list, err
}

// Revision is one revision of a job with its text.
func (s *Store) Revision(ctx context.Context, id string, number int64) (Revision, error) {
	r := Revision{Number: number}
	err := s.read.QueryRowContext(ctx, s.dialect.bind("SELECT text, sum, base, at, account, note FROM revision WHERE job = ? AND number = ?"), id, number).Scan(&r.Text, &r.Sum, &r.Base, &r.At, &r.Account, &r.Note)
	return r, found(err)
}

// Delete marks a job as deleted, or takes the mark away.
func (s *Store) Delete(ctx context.Context, who Actor, id string, deleted bool) error {
	return s.change(ctx, func(t *tx) error {
		var was string
		if err := t.row("SELECT deleted FROM job WHERE id = ?"+t.s.dialect.hold, id).Scan(&was); err != nil {
			return found(err)
		}
		if deleted == (was != "") {
			return nil
		}
		mark, kind := "", "brought back"
		if deleted {
			mark, kind = t.at, "deleted"
		}
		if _, err := t.exec("UPDATE job SET deleted = ?, changed = ? WHERE id = ?", mark, t.at, id); err != nil {
			return err
		}
		if _, err := t.event(who, id, kind, ""); err != nil {
			return err
		}
		return t.audit(who, "job "+kind, id, "")
	})
}
