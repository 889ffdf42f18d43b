package graph

// queue is a heap of keys with what they stand for, four children a place; the
// least comes first, of equal keys the smaller number. What has become dearer
// since it was put in is left to the caller to skip.
type queue []uint64

func (q *queue) push(key, item uint32) {
	v := uint64(key)<<32 | uint64(item)
	h := append(*q, v)
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 4
		if h[up] <= v {
			break
		}
		h[i] = h[up]
		i = up
	}
	h[i] = v
	*q = h
}

func (q queue) least() uint32 { return uint32(q[0] >> 32) }

func (q *queue) pop() (key, item uint32) {
	h := *q
	top := h[0]
	n := len(h) - 1
	v := h[n]
	h = h[:n]
	i := 0
	for {
		child := 4*i + 1
		if child >= n {
			break
		}
		best := child
		for k := child + 1; k < min(child+4, n); k++ {
			if h[k] < h[best] {
				best = k
			}
		}
		if v <= h[best] {
			break
		}
		h[i] = h[best]
		i = best
	}
	if n > 0 {
		h[i] = v
	}
	*q = h
	return uint32(top >> 32), uint32(top)
}

// tick starts a new round in cells that remember in which they were written,
// so that nothing has to be cleared but once in four billion rounds.
func tick[T any](round *uint32, cells []T) {
	if *round++; *round == 0 {
		clear(cells)
		*round = 1
	}
}
