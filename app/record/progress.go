package record

import "slices"

// StepState is how far a step has come.
type StepState struct {
	Step string `json:"step"`
	Done bool   `json:"done"`
	By   string `json:"by,omitempty"`
	At   string `json:"at"`
	Note string `json:"note,omitempty"`
}

// Open is a problem somebody wrote down, and whether a later record says that it
// is over.
type Open struct {
	ID     string   `json:"id"`
	Step   string   `json:"step,omitempty"`
	Place  string   `json:"place,omitempty"`
	Text   string   `json:"text"`
	Photos []string `json:"photos,omitempty"`
	By     string   `json:"by,omitempty"`
	At     string   `json:"at"`
	Solved bool     `json:"solved"`
}

// Progress is what follows from the ticks and problems of a job.
type Progress struct {
	Steps    []StepState `json:"steps"`    // by step
	Problems []Open      `json:"problems"` // in order of time
}

// ProgressOf works out how far the steps are: the latest tick of a step counts.
func ProgressOf(records []Record) Progress {
	p := Progress{Steps: []StepState{}, Problems: []Open{}}
	at := map[string]int{}
	for _, r := range InOrder(records) {
		switch r.Kind {
		case Step:
			s := StepState{r.Step.Step, r.Step.Done, r.By, r.At, r.Step.Note}
			i, ok := at[s.Step]
			if !ok {
				at[s.Step] = len(p.Steps)
				p.Steps = append(p.Steps, s)
				continue
			}
			p.Steps[i] = s
		case Problem:
			t := r.Problem
			if t.Solved {
				for i := range p.Problems {
					if o := &p.Problems[i]; o.Step == t.Step && o.Place == t.Place {
						o.Solved = true
					}
				}
			}
			if t.Text != "" || len(t.Photos) > 0 {
				p.Problems = append(p.Problems, Open{r.ID, t.Step, t.Place, t.Text, t.Photos, r.By, r.At, t.Solved})
			}
		}
	}
	slices.SortStableFunc(p.Steps, func(a, b StepState) int {
		if a.Step < b.Step {
			return -1
		}
		if a.Step > b.Step {
			return 1
		}
		return 0
	})
	return p
}
