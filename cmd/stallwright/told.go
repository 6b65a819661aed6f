package main

import (
	"io"

	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// readTold reads what an earlier plan, in a folder or a plan.json, told the saw:
// each board of its tickets.
func readTold(path string) ([]job.Told, error) {
	d, err := readPlan(path, io.Discard)
	if err != nil {
		return nil, err
	}
	var out []job.Told
	for i := range d.Cuts {
		c := &d.Cuts[i]
		for _, t := range c.Tickets {
			for b := range t.Boards {
				x := job.Told{Item: c.Item, Treated: c.Treated, Length: measure.Length(t.LengthNM)}
				for _, m := range t.Marks {
					if b < int64(len(m.Labels)) {
						x.Pieces = append(x.Pieces, m.Labels[b])
					}
				}
				if len(x.Pieces) == len(t.Marks) {
					out = append(out, x)
				}
			}
		}
	}
	return out, nil
}
