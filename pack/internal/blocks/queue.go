package blocks

// push and pop keep the sizes that wait in a heap, the narrowest first, then
// the lowest: everything a size is made of comes before it.
func (e *enumeration) push(key uint64) {
	q := append(e.queue, key)
	i := len(q) - 1
	for i > 0 && q[(i-1)/2] > key {
		q[i] = q[(i-1)/2]
		i = (i - 1) / 2
	}
	q[i] = key
	e.queue = q
}

func (e *enumeration) pop() uint64 {
	q := e.queue
	top, last := q[0], q[len(q)-1]
	q = q[:len(q)-1]
	for i := 0; len(q) > 0; {
		c := 2*i + 1
		if c+1 < len(q) && q[c+1] < q[c] {
			c++
		}
		if c >= len(q) || q[c] >= last {
			q[i] = last
			break
		}
		q[i] = q[c]
		i = c
	}
	e.queue = q
	e.steps += 10
	return top
}
