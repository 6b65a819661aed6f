package store

import (
	"context"
	"encoding/json"
)

// Event is one thing that happened to a job. Kind is revision, record, photo,
// deleted or brought back; Ref is the revision's number or the photo's id. A
// record's event carries the record.
type Event struct {
	Seq     int64 // 1, 2, 3 … within the job
	Kind    string
	Ref     string
	At      string
	Account string
	Record  json.RawMessage // of records
}

// event writes a job's next event. It holds the job's row, so that nobody sees an
// event before those of lower numbers.
func (t *tx) event(who Actor, job, kind, ref string) (int64, error) {
	var seq int64
	if err := t.row("UPDATE job SET seq = seq + 1 WHERE id = ? RETURNING seq", job).Scan(&seq); err != nil {
		return 0, found(err)
	}
	_, err := t.exec("INSERT INTO event (job, seq, kind, ref, at, account) VALUES (?, ?, ?, ?, ?, ?)", job, seq, kind, ref, t.at, who.Account)
	t.touched[job] = true
	return seq, err
}

// Events lists at most limit events of a job behind one, in order.
func (s *Store) Events(ctx context.Context, job string, after int64, limit int) ([]Event, error) {
	return all(ctx, s, func(scan func(...any) error) (e Event, err error) {
		var line *string
		err = scan(&e.Seq, &e.Kind, &e.Ref, &e.At, &e.Account, &line)
		if line != nil {
			e.Record = json.RawMessage(*line)
		}
		return e, err
	}, "SELECT e.seq, e.kind, e.ref, e.at, e.account, r.line FROM event e LEFT JOIN record r ON r.job = e.job AND r.seq = e.seq WHERE e.job = ? AND e.seq > ? ORDER BY e.seq LIMIT ?", job, after, limit)
}
