package schedule

// heapOf is a binary heap.
type heapOf[T any] struct {
	less func(a, b T) bool
	item []T
}

func (h *heapOf[T]) push(v T) {
	h.item = append(h.item, v)
	for i := len(h.item) - 1; i > 0; {
		up := (i - 1) / 2
		if !h.less(h.item[i], h.item[up]) {
			break
		}
		h.item[i], h.item[up] = h.item[up], h.item[i]
		i = up
	}
}

func (h *heapOf[T]) pop() T {
	v := h.item[0]
	last := len(h.item) - 1
	h.item[0] = h.item[last]
	h.item = h.item[:last]
	for i := 0; ; {
		k := 2*i + 1
		if k >= last {
			break
		}
		if k+1 < last && h.less(h.item[k+1], h.item[k]) {
			k++
		}
		if !h.less(h.item[k], h.item[i]) {
			break
		}
		h.item[i], h.item[k] = h.item[k], h.item[i]
		i = k
	}
	return v
}
