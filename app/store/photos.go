package store

import (
	"context"
)

// Photo is a picture that was attached to a place of a job.
type Photo struct {
	ID       string // made by the client
	Place    string // a bay, a post, a step
	Note     string
	Taken    string // when, by the client's clock
	By       string // who, in the client's words
	SentSum  string // SHA-256 of the bytes as they were sent
	Type     string // media type of Data
	Width    int
	Height   int
	Bytes    int
	Data     []byte // not in lists
	Seq      int64
	Received string
	Account  string
}

// AddPhoto keeps a photo. The same one sent twice is kept once; another one of the
// same id is ErrExists.
func (s *Store) AddPhoto(ctx context.Context, who Actor, job string, p Photo) (Photo, error) {
	err := s.change(ctx, func(t *tx) error {
		var held int64
		if err := t.row("SELECT seq FROM job WHERE id = ?"+t.s.dialect.hold, job).Scan(&held); err != nil {
			return found(err)
		}
		var sum string
		switch err := found(t.row("SELECT sent_sum FROM photo WHERE job = ? AND id = ?", job, p.ID).Scan(&sum)); {
		case err == nil && sum == p.SentSum:
			return nil
		case err == nil:
			return ErrExists
		case err != ErrNotFound:
			return err
		}
		seq, err := t.event(who, job, "photo", p.ID)
		if err != nil {
			return err
		}
		_, err = t.exec("INSERT INTO photo (job, id, seq, place, note, taken, writer, sent_sum, type, width, height, data, received, account) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
			job, p.ID, seq, p.Place, p.Note, p.Taken, p.By, p.SentSum, p.Type, p.Width, p.Height, p.Data, t.at, who.Account)
		if err != nil {
			return err
		}
		return t.audit(who, "photo added", job, p.ID)
	})
	if err != nil {
		return Photo{}, err
	}
	out, err := s.Photo(ctx, job, p.ID)
	out.Data = nil
	return out, err
}

const photoColumns = "id, place, note, taken, writer, sent_sum, type, width, height, length(data), seq, received, account"

func (p *Photo) columns() []any {
	return []any{&p.ID, &p.Place, &p.Note, &p.Taken, &p.By, &p.SentSum, &p.Type, &p.Width, &p.Height, &p.Bytes, &p.Seq, &p.Received, &p.Account}
}

// Photo is one photo with its bytes.
func (s *Store) Photo(ctx context.Context, job, id string) (Photo, error) {
	var p Photo
	err := s.read.QueryRowContext(ctx, s.dialect.bind("SELECT "+photoColumns+", data FROM photo WHERE job = ? AND id = ?"), job, id).Scan(append(p.columns(), &p.Data)...)
	return p, found(err)
}

// Photos lists the photos of a job without their bytes, in the order they came.
func (s *Store) Photos(ctx context.Context, job string) ([]Photo, error) {
	return all(ctx, s, func(scan func(...any) error) (p Photo, err error) {
		err = scan(p.columns()...)
		return p, err
	}, "SELECT "+photoColumns+" FROM photo WHERE job = ? ORDER BY seq", job)
}
