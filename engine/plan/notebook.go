package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/phrase"
)

// Unused is an entry of a notebook that does not count: the job holds no such bay
// or post, or what was read cannot be read there.
type Unused struct {
	ID   string
	Why  string
	Hint string
}

// MakeWith works a job through with the entries of its notebook. An entry that the
// job has no place for does not stand in the way: it is told as a finding. The
// error is as Make's.
func MakeWith(j *job.Job, k *kit.Kit, entries []job.Entry) (*Plan, error) {
	noted, told, err := withNotes(j, k, entries)
	if err != nil {
		return nil, err
	}
	p, err := Make(noted, k)
	if err != nil {
		return nil, err
	}
	p.tell(told)
	return p, nil
}

// tell adds findings to those of the stages.
func (p *Plan) tell(more []finding.Finding) {
	if len(more) > 0 {
		p.Findings = append(p.Findings, more...)
		finding.Sort(p.Findings)
	}
}

// withNotes is a job with what its notebook says, and what is to be told of
// entries that do not count.
func withNotes(j *job.Job, k *kit.Kit, entries []job.Entry) (*job.Job, []finding.Finding, error) {
	if len(entries) == 0 {
		return j, nil, nil
	}
	noted, unused, err := Noted(j, k, entries)
	if err != nil {
		return nil, nil, err
	}
	var told []finding.Finding
	_, clashing := job.InOrder(entries)
	for _, id := range clashing {
		told = append(told, finding.Finding{Code: finding.NotebookEntry, Severity: finding.Warning, Place: j.Farm.Name,
			Message: fmt.Sprintf("the notebook holds two different entries called %s; one of them counts", id),
			Say:     phrase.Of("found.two-entries", called("id", id)), Choices: []phrase.Phrase{phrase.Of("way.look-at-both")}})
	}
	for _, u := range unused {
		why := u.Why
		if u.Hint != "" {
			why += "; " + u.Hint
		}
		told = append(told, finding.Finding{Code: finding.NotebookEntry, Severity: finding.Warning, Place: j.Farm.Name, Message: "notebook entry " + u.ID + " does not count: " + why,
			Say: phrase.Of("found.entry-unused", called("id", u.ID)), Choices: []phrase.Phrase{phrase.Of("way.look-at-entry")}})
	}
	return noted, told, nil
}

// Noted is a job with those of its notebook's entries that it has a place for, and
// the others. The error is document.Problems where the job itself is at fault.
func Noted(j *job.Job, k *kit.Kit, entries []job.Entry) (*job.Job, []Unused, error) {
	if _, err := frame.Build(j, k); err != nil {
		return nil, nil, err
	}
	var unused []Unused
	for {
		out := job.Apply(j, entries)
		_, err := frame.Build(out, k)
		if err == nil {
			return out, unused, nil
		}
		faults := atFault(err)
		left := slices.DeleteFunc(slices.Clone(entries), func(e job.Entry) bool {
			_, bad := faults[e.ID]
			return bad
		})
		if len(left) == len(entries) {
			return nil, nil, err
		}
		ordered, _ := job.InOrder(entries)
		for _, e := range ordered {
			if p, bad := faults[e.ID]; bad {
				unused = append(unused, Unused{e.ID, p.Message, p.Hint})
			}
		}
		entries = left
	}
}

// atFault is the first problem of each entry that an error is about, by id.
func atFault(err error) map[string]document.Problem {
	out := map[string]document.Problem{}
	var ps document.Problems
	if !errors.As(err, &ps) {
		return out
	}
	for _, p := range ps {
		if id, ok := strings.CutPrefix(p.Pos.File, job.EntryPlace); ok {
			if _, told := out[id]; !told {
				out[id] = p
			}
		}
	}
	return out
}
