package page

import "stallwright/paper/draw"

// Moved gives the marks of a finished sheet in painting order, all on the body's
// layer, with its lower left corner at a point: a picture among text.
func Moved(s *draw.Sheet, to draw.PaperPoint) []draw.Mark {
	out := make([]draw.Mark, 0, len(s.Marks))
	known := map[string]bool{}
	for _, layer := range s.Layers {
		known[layer] = true
		for _, m := range s.Marks {
			if m.OnLayer() == layer {
				out = append(out, moved(m, to))
			}
		}
	}
	for _, m := range s.Marks {
		if !known[m.OnLayer()] {
			out = append(out, moved(m, to))
		}
	}
	return out
}

func moved(m draw.Mark, to draw.PaperPoint) draw.Mark {
	at := func(p draw.PaperPoint) draw.PaperPoint { return draw.PaperPoint{X: p.X + to.X, Y: p.Y + to.Y} }
	switch m := m.(type) {
	case draw.Text:
		m.Layer, m.At = LayerBody, at(m.At)
		return m
	case draw.Curve:
		m.Layer, m.Centre = LayerBody, at(m.Centre)
		return m
	case draw.Stroke:
		m.Layer = LayerBody
		runs := make([][]draw.PaperPoint, len(m.Runs))
		for i, r := range m.Runs {
			runs[i] = make([]draw.PaperPoint, len(r))
			for k, p := range r {
				runs[i][k] = at(p)
			}
		}
		m.Runs = runs
		return m
	}
	return m
}
