package web

import (
	"context"
	"encoding/json"
	"net/http"

	"stallwright/app/account"
	"stallwright/app/record"
)

// Handed is what became of one record.
type Handed struct {
	ID      string `json:"id,omitempty"`
	Seq     int64  `json:"seq,omitempty" doc:"of its event"`
	New     bool   `json:"new" doc:"false where the very same was there already"`
	Refused string `json:"refused,omitempty" doc:"why it was not taken; it is wrong in itself and need not be sent again"`
}

// Kept is a record with its event.
type Kept struct {
	Seq     int64         `json:"seq"`
	Account string        `json:"account" doc:"whose account handed it in"`
	Record  record.Record `json:"record"`
}

func (s *Server) handleRecords() {
	op(s, "add-records", s.addRecords, status(http.StatusOK))
	op(s, "list-records", s.listRecords)
	op(s, "read-progress", func(ctx context.Context, in *OfJob) (*struct{ Body record.Progress }, error) {
		if _, err := s.store.Job(ctx, in.Job); err != nil {
			return nil, err
		}
		all, err := s.store.AllRecords(ctx, in.Job)
		if err != nil {
			return nil, err
		}
		return &struct{ Body record.Progress }{record.ProgressOf(all)}, nil
	})
}

// addRecords takes what is right and says of each of the others what is wrong: one
// bad record must not hold up a phone's whole day.
func (s *Server) addRecords(ctx context.Context, in *struct {
	OfJob
	Body struct {
		Records []json.RawMessage `json:"records" maxItems:"1000" nullable:"false" doc:"each as in list-records; in any order, again and again: each counts once"`
	}
}) (*struct {
	Body struct {
		Results []Handed `json:"results" nullable:"false" doc:"in the order of the records"`
	}
}, error) {
	var out struct {
		Body struct {
			Results []Handed `json:"results" nullable:"false" doc:"in the order of the records"`
		}
	}
	out.Body.Results = make([]Handed, len(in.Body.Records))
	role := asking(ctx).Role
	var good []record.Record
	var at []int
	for i, line := range in.Body.Records {
		r, err := record.Read(line)
		if err == nil && !mayWrite(role, r.Kind) {
			err = errRole(role, r.Kind)
		}
		if err != nil {
			out.Body.Results[i] = Handed{ID: r.ID, Refused: err.Error()}
			continue
		}
		good, at = append(good, r), append(at, i)
	}
	done, err := s.store.Append(ctx, asking(ctx).actor(), in.Job, good)
	if err != nil {
		return nil, err
	}
	for i, o := range done {
		out.Body.Results[at[i]] = Handed{ID: o.ID, Seq: o.Seq, New: o.New}
	}
	return &out, nil
}

// mayWrite says which records a role writes: who only saws does not measure.
func mayWrite(role account.Role, kind record.Kind) bool {
	return role != account.Saw || kind == record.Cut || kind == record.Problem || kind == record.Void
}

type roleError struct {
	role account.Role
	kind record.Kind
}

func errRole(role account.Role, kind record.Kind) error { return roleError{role, kind} }

func (e roleError) Error() string {
	return "the role " + string(e.role) + " does not write a " + string(e.kind)
}

func (s *Server) listRecords(ctx context.Context, in *struct {
	OfJob
	After int64 `query:"after" minimum:"0" maximum:"9007199254740991" doc:"records of events behind this one; all where left out"`
	Limit int   `query:"limit" minimum:"1" maximum:"1000" default:"1000"`
}) (*struct {
	Body struct {
		Records []Kept `json:"records" nullable:"false"`
		More    bool   `json:"more" doc:"there are more behind the last one"`
		Seq     int64  `json:"seq" doc:"of the job's latest event when this was read"`
	}
}, error) {
	j, err := s.store.Job(ctx, in.Job)
	if err != nil {
		return nil, err
	}
	list, err := s.store.Records(ctx, in.Job, in.After, in.Limit+1)
	if err != nil {
		return nil, err
	}
	var out struct {
		Body struct {
			Records []Kept `json:"records" nullable:"false"`
			More    bool   `json:"more" doc:"there are more behind the last one"`
			Seq     int64  `json:"seq" doc:"of the job's latest event when this was read"`
		}
	}
	out.Body.Seq, out.Body.More = j.Seq, len(list) > in.Limit
	out.Body.Records = []Kept{}
	for _, k := range list[:min(len(list), in.Limit)] {
		out.Body.Records = append(out.Body.Records, Kept{k.Seq, k.Account, k.Record})
	}
	return &out, nil
}
