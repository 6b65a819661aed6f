package page

import (
	"strings"

	"stallwright/engine/plan"
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
	w, err := words.For(p.Job.Language, p.Job.Units)
	if err != nil {
		return nil, err
	}
	var cautions []string
	for _, c := range packet.Cautions(p) {
		cautions = append(cautions, w.Say(c))
	}
	return &Planned{packet.NewDocument(p), string(packet.Summary(p, w)), cautions}, nil
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

// Reason is one answer to a question why.
type Reason struct {
	Title string   `json:"title"`
	Lines []string `json:"lines"` // from the answer back to who measured or stated it
}

func why(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	topics, err := p.Why(a.About)
	if err != nil {
		return nil, err
	}
	return reasons(topics), nil
}

func reasons(topics []plan.Topic) []Reason {
	out := []Reason{}
	for _, t := range topics {
		out = append(out, Reason{t.Title, t.Why.Chain()})
	}
	return out
}
