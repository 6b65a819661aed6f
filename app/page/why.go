package page

import (
	"fmt"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/paper/words"
)

// Reason is one answer to a question why.
type Reason struct {
	Title string   `json:"title"`
	Lines []string `json:"lines"` // from the answer back to who measured or stated it
}

// orderLine begins what is asked about a line of the order: item, length in
// nanometres and whether it is treated follow.
const orderLine = "order:"

// why answers for anything that has a name in the plan, and for lines of the order.
func why(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	w, err := a.words(p)
	if err != nil {
		return nil, err
	}
	if line, ok := strings.CutPrefix(a.About, orderLine); ok {
		return whyOrdered(p, w, line)
	}
	ask := p.Why
	if a.About == "offer" || strings.HasPrefix(a.About, "offer/") {
		ask = func(about string) ([]plan.Topic, error) { return a.whyOffer(p, about) }
	}
	topics, err := ask(a.About)
	if err != nil {
		return nil, err
	}
	return reasons(topics, w), nil
}

func whyOrdered(p *plan.Plan, w *words.Words, line string) (any, error) {
	for i := range p.Takeoff.Lines {
		l := &p.Takeoff.Lines[i]
		if fmt.Sprintf("%s:%d:%t", l.Item, int64(l.Length), l.Treated) != line {
			continue
		}
		item := words.Item(p.Kit.Kit, l.Item, l.Name)
		if l.Length > 0 {
			item = phrase.Of("topic.item-length", phrase.With("item", item), phrase.With("length", phrase.Length(l.Length)))
		}
		title := phrase.Of("topic.to-order", phrase.With("item", item), phrase.With("n", phrase.Count(l.Order)))
		var places []string
		for _, v := range l.Places {
			places = append(places, w.Text("topic.takes", phrase.With("place", phrase.Name(v.Name)), phrase.With("count", phrase.Count(v.Count))))
		}
		out := reasons([]plan.Topic{{Title: title, Why: l.Why}}, w)
		return append(out, Reason{w.Text("topic.in-all", phrase.With("count", phrase.Count(l.Count))), places}), nil
	}
	return nil, fmt.Errorf("the order has no such line any more")
}

func reasons(topics []plan.Topic, w *words.Words) []Reason {
	out := []Reason{}
	for _, t := range topics {
		out = append(out, Reason{w.Say(t.Title), w.Chain(t.Why)})
	}
	return out
}

// Part is one piece of a bay, or of the frame around it.
type Part struct {
	Label  string `json:"label"`
	Kind   string `json:"kind"`
	Length string `json:"length,omitempty"`
	Course int    `json:"course,omitempty"`
	State  string `json:"state"`
	Work   string `json:"work,omitempty"` // what is done to it: ripped, notched
}

// parts answers with the pieces of a bay, run or post, so that each can be asked
// about.
func parts(a *Asked) (any, error) {
	p, err := a.sketch()
	if err != nil {
		return nil, err
	}
	out := []Part{}
	for i := range p.Fit.Pieces {
		v := &p.Fit.Pieces[i]
		if p.Place(v) != a.About && v.Label != a.About {
			continue
		}
		d := Part{Label: v.Label, Kind: string(v.Kind), Course: v.Course, State: string(v.State), Work: p.Work(v)}
		d.Length = shownOf(p, v)
		out = append(out, d)
	}
	return out, nil
}

// shownOf is a piece's length as the tape shows it; nothing where it is bought as
// it is.
func shownOf(p *plan.Plan, v *fit.Piece) string {
	if v.Length <= measure.Length(0) {
		return ""
	}
	return p.Show(v.Length)
}
