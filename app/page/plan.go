package page

import (
	"slices"
	"strings"

	"stallwright/engine/frame"
	"stallwright/paper/packet"
	"stallwright/paper/views"
	"stallwright/paper/words"
)

// Planned is a job worked through, with the figures that stand beside the drawing.
type Planned struct {
	Document *packet.Document `json:"document"`
	Summary  string           `json:"summary"`
	Cautions []string         `json:"cautions"`
}

func planned(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	s, err := inWords(p)
	if err != nil {
		return nil, err
	}
	return &Planned{packet.NewDocument(p), s.Text, s.Cautions}, nil
}

// Drawing is one sheet.
type Drawing struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	SVG   string `json:"svg"`
}

// drawings draws the sheets whose name or title holds what was asked about; all
// of them where nothing was.
func drawings(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	w, err := words.For(p.Job.Language, p.Job.Units)
	if err != nil {
		return nil, err
	}
	sheets, err := views.All(p, views.Options{Words: w})
	if err != nil {
		return nil, err
	}
	out := []Drawing{}
	for i := range sheets {
		s := &sheets[i]
		if a.About != "" && !strings.Contains(s.Name, a.About) && !strings.Contains(s.Title, a.About) {
			continue
		}
		out = append(out, Drawing{s.Name, s.Title, s.SVG()})
	}
	return out, nil
}

// elevation draws the wall of a bay or run, as it is printed: its run alone, or all
// of the wall.
func elevation(a *Asked) (any, error) {
	p, err := a.sketch()
	if err != nil {
		return nil, err
	}
	run := -1
	if i, ok := p.Layout.Bay(a.About); ok {
		run = p.Layout.Bays[i].Run
	} else {
		run = slices.IndexFunc(p.Layout.Runs, func(r frame.Run) bool { return r.Name == a.About })
	}
	if run < 0 {
		return []Drawing{}, nil // it may be gone since it was chosen
	}
	w, err := words.For(p.Job.Language, p.Job.Units)
	if err != nil {
		return nil, err
	}
	sheets, err := views.Wall(p, views.Options{Words: w}, run, a.Whole)
	if err != nil {
		return nil, err
	}
	out := []Drawing{}
	for i := range sheets {
		out = append(out, Drawing{sheets[i].Name, sheets[i].Title, sheets[i].SVG()})
	}
	return out, nil
}
