package solid

// Within is the box round a solid in the axes of a frame.
func (s *Solid) Within(f Frame) Box {
	b := emptyBox()
	for i := range s.Parts {
		p := &s.Parts[i]
		for _, far := range [2]bool{false, true} {
			for _, q := range p.Outline[0] {
				b = b.With(f.Back(p.place(q, far)))
			}
		}
	}
	return b
}
