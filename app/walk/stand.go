package walk

// Stand puts a question before the person, whatever stood before. It is false
// where the sheet holds no such question.
func (w *Walk) Stand(id string) bool {
	if w.find(id) == nil {
		return false
	}
	w.at, w.back, w.held = id, true, nil
	return true
}
