// Package packet turns a plan into the files that leave the computer: the plan
// as data (plan.json), a summary to read, lists for spreadsheets, and drawings.
// In goes a finished plan; out come files in memory, all of them or an error.
// The same plan gives the same bytes.
package packet

import (
	"stallwright/engine/plan"
)

// File is one file of a packet. Name uses / between folders.
type File struct {
	Name string
	Data []byte
}

// Files makes every file of a plan's packet.
func Files(p *plan.Plan, paper string) ([]File, error) {
	data, err := JSON(p)
	if err != nil {
		return nil, err
	}
	files := []File{
		{"plan.json", data},
		{"summary.txt", Summary(p)},
		{"setout.txt", Setout(p)},
	}
	lists, err := lists(p)
	if err != nil {
		return nil, err
	}
	files = append(files, lists...)
	drawings, err := drawings(p, paper)
	if err != nil {
		return nil, err
	}
	return append(files, drawings...), nil
}
