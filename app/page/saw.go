package page

import (
	"fmt"

	"stallwright/app/record"
	"stallwright/app/sawing"
	"stallwright/paper/words"
)

// records reads what was written down; one that cannot be read is named.
func (a *Asked) records() ([]record.Record, error) {
	var out []record.Record
	for i, line := range a.Records {
		r, err := record.Read(line)
		if err != nil {
			return nil, fmt.Errorf("record %d cannot be read: %w", i+1, err)
		}
		out = append(out, r)
	}
	return record.InOrder(out), nil
}

// saw answers what is left to cut.
func saw(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	records, err := a.records()
	if err != nil {
		return nil, err
	}
	out := []sawing.SawMaterial{}
	w, err := a.words(p)
	if err != nil {
		return nil, err
	}
	for _, m := range sawing.Remaining(p.Takeoff.Cuts, records) {
		v := m.Shown(p.Show)
		v.Name = w.Say(words.Item(p.Kit.Kit, m.Item, m.Name))
		out = append(out, v)
	}
	return out, nil
}
