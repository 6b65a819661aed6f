package store

import (
	"context"
	"fmt"

	"stallwright/app/record"
)

// Kept is a record as it is kept.
type Kept struct {
	Seq     int64 // its event
	Account string
	Record  record.Record
}

// Outcome is what became of a record that was handed in.
type Outcome struct {
	ID  string
	Seq int64 // of its event
	New bool  // false where the very same was there already
}

// Append adds records to a job, a deleted one too: a phone that was out of reach
// must not lose what it holds. A record that is there already, alike in everything,
// is not added again. Two records of one id that are not alike both stay. All are
// added, or on an error none.
func (s *Store) Append(ctx context.Context, who Actor, job string, records []record.Record) ([]Outcome, error) {
	var out []Outcome
	err := s.change(ctx, func(t *tx) error {
		out = nil // a second try begins anew
		var seq int64
		if err := t.row("SELECT seq FROM job WHERE id = ?"+t.s.dialect.hold, job).Scan(&seq); err != nil {
			return found(err)
		}
		fresh := 0
		for i := range records {
			o, err := t.append(who, job, &records[i])
			if err != nil {
				return err
			}
			if o.New {
				fresh++
			}
			out = append(out, o)
		}
		if fresh == 0 {
			return nil
		}
		return t.audit(who, "records added", job, fmt.Sprint(fresh))
	})
	return out, err
}

func (t *tx) append(who Actor, job string, r *record.Record) (Outcome, error) {
	line, err := r.Line()
	if err != nil {
		return Outcome{}, err
	}
	o := Outcome{ID: r.ID}
	sum := sumOf(line)
	// The row of the job is held, so nobody adds the same one meanwhile.
	switch err := found(t.row("SELECT seq FROM record WHERE job = ? AND id = ? AND sum = ?", job, r.ID, sum).Scan(&o.Seq)); err {
	case nil:
		return o, nil
	case ErrNotFound:
	default:
		return o, err
	}
	if o.Seq, err = t.event(who, job, "record", r.ID); err != nil {
		return o, err
	}
	o.New = true
	_, err = t.exec("INSERT INTO record (job, seq, id, sum, kind, line, received, account) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
		job, o.Seq, r.ID, sum, string(r.Kind), string(line), t.at, who.Account)
	return o, err
}

// Records lists at most limit records of a job behind an event, in order of their
// events.
func (s *Store) Records(ctx context.Context, job string, after int64, limit int) ([]Kept, error) {
	return all(ctx, s, func(scan func(...any) error) (Kept, error) {
		var k Kept
		var line string
		if err := scan(&k.Seq, &k.Account, &line); err != nil {
			return k, err
		}
		var err error
		k.Record, err = record.Read([]byte(line))
		return k, err
	}, "SELECT seq, account, line FROM record WHERE job = ? AND seq > ? ORDER BY seq LIMIT ?", job, after, limit)
}

// MaxRecords is the most records of one job that AllRecords reads.
const MaxRecords = 200_000

// AllRecords are the records of a job.
func (s *Store) AllRecords(ctx context.Context, job string) ([]record.Record, error) {
	kept, err := s.Records(ctx, job, 0, MaxRecords)
	if err != nil {
		return nil, err
	}
	out := make([]record.Record, len(kept))
	for i := range kept {
		out[i] = kept[i].Record
	}
	return out, nil
}
