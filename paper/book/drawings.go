package book

import (
	"stallwright/paper/draw"
	"stallwright/paper/views"
)

// drawings are the plans and elevations, each with a title block of its own.
func (b *binder) drawings() error {
	sheets := b.o.Drawings
	if sheets == nil {
		var err error
		if sheets, err = views.All(b.Plan, views.Options{Paper: b.o.Paper, Words: b.words}); err != nil {
			return err
		}
	}
	sec := section{part: Drawings, title: b.titleOf(Drawings), format: b.format}
	for i := range sheets {
		sec.pages = append(sec.pages, leaf{sheet: sheets[i].Sheet, state: b.stateOfSheet(&sheets[i]), own: true})
		sec.marks = append(sec.marks, mark{sheets[i].Title, i})
	}
	b.sections = append(b.sections, sec)
	return nil
}

// stateOfSheet is that of the bays a drawing shows: those whose names stand on
// it, or all where it names none, such as the plan of a whole barn.
func (b *binder) stateOfSheet(s *views.Sheet) State {
	v := State(0)
	for _, m := range s.Marks {
		t, ok := m.(draw.Text)
		if !ok {
			continue
		}
		if i, ok := b.Layout.Bay(t.Text); ok {
			v |= b.stateOf(i)
		}
	}
	if v == 0 && s.Page.Block.State != "" {
		return b.stateOfAll()
	}
	return v
}
