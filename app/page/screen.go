package page

import (
	"stallwright/engine/fit"
	"stallwright/engine/plan"
	"stallwright/paper/packet"
	"stallwright/paper/words"
)

// Screen is what stands beside the drawing at the desk. It is made again with
// every change, so it holds no more than that.
type Screen struct {
	// Sketch says that it was asked for at once: the cutting may still be had for
	// less, and the order of work has had no say yet.
	Sketch   bool             `json:"sketch"`
	Document *packet.Document `json:"document"` // an outline: see packet.Outline
	Boards   int              `json:"boards"`   // to fit
	Pieces   int              `json:"pieces"`   // of all kinds
	Ways     [][]string       `json:"ways"`     // of each finding, what its choices are called in no language: way.solid-boards
}

// sketched answers as soon as all is fitted.
func sketched(a *Asked) (any, error) {
	p, err := a.sketch()
	if err != nil {
		return nil, err
	}
	return screenOf(p), nil
}

// screen answers when the plan is whole.
func screen(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	return screenOf(p), nil
}

func screenOf(p *plan.Plan) *Screen {
	s := &Screen{Sketch: p.Build == nil, Document: packet.Outline(p), Pieces: len(p.Fit.Pieces)}
	for i := range p.Findings {
		keys := []string{}
		for _, c := range p.Findings[i].Choices {
			keys = append(keys, c.Key)
		}
		s.Ways = append(s.Ways, keys)
	}
	for i := range p.Fit.Pieces {
		if p.Fit.Pieces[i].Kind == fit.Board {
			s.Boards++
		}
	}
	return s
}

// Summary is what is read in words of a plan.
type Summary struct {
	Text     string   `json:"text"`
	Cautions []string `json:"cautions"`
}

func summary(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	return inWords(p)
}

// inWords tells a plan in its job's language.
func inWords(p *plan.Plan) (*Summary, error) {
	w, err := words.For(p.Job.Language, p.Job.Units)
	if err != nil {
		return nil, err
	}
	return &Summary{string(packet.Summary(p, w)), says(w, packet.Cautions(p))}, nil
}
