package document

// Named is the same memory of what was written, every place called by name alone:
// for a text that has no lines a person could look up, such as one entry among
// many.
func (w Where) Named(name string) Where {
	if w.at == nil {
		return w
	}
	at := &places{own: Pos{File: name}, keys: make([]place, len(w.at.keys))}
	for i, k := range w.at.keys {
		if !k.key.IsZero() {
			k.key = Pos{File: name}
		}
		k.value = Pos{File: name}
		at.keys[i] = k
	}
	return Where{at}
}
