package beam

// seenSet is a set of 64-bit numbers that empties in no time.
type seenSet struct {
	slots []seenSlot
	epoch uint32
	n     int
}

type seenSlot struct {
	num   uint64
	epoch uint32
}

func (t *seenSet) reset() {
	t.n = 0
	t.epoch++
	if t.epoch == 0 || t.slots == nil {
		t.epoch = 1
		t.slots = make([]seenSlot, max(1024, len(t.slots)))
	}
}

// add reports whether num is new.
func (t *seenSet) add(num uint64) bool {
	mask := uint64(len(t.slots) - 1)
	for i := num & mask; ; i = (i + 1) & mask {
		s := &t.slots[i]
		if s.epoch != t.epoch {
			*s = seenSlot{num, t.epoch}
			t.n++
			if 2*t.n > len(t.slots) {
				t.grow()
			}
			return true
		}
		if s.num == num {
			return false
		}
	}
}

func (t *seenSet) grow() {
	old := t.slots
	t.slots = make([]seenSlot, 2*len(old))
	mask := uint64(len(t.slots) - 1)
	for _, s := range old {
		if s.epoch != t.epoch {
			continue
		}
		i := s.num & mask
		for t.slots[i].epoch == t.epoch {
			i = (i + 1) & mask
		}
		t.slots[i] = s
	}
}

// chains groups the nodes of a level by the hash of their counts.
type chains struct {
	slots []chainSlot
	epoch uint32
	next  []int32 // for each node, an earlier node with the same hash, or -1
}

type chainSlot struct {
	hash  uint64
	epoch uint32
	head  int32
}

func (t *chains) reset(width int) {
	t.next = t.next[:0]
	t.epoch++
	size := 64
	for size < 2*width {
		size *= 2
	}
	if t.epoch == 0 || len(t.slots) < size {
		t.epoch = 1
		t.slots = make([]chainSlot, max(size, len(t.slots)))
	}
}

// find returns the slot of a hash, its head being -1 if there is no node yet.
func (t *chains) find(hash uint64) *chainSlot {
	mask := uint64(len(t.slots) - 1)
	for i := hash & mask; ; i = (i + 1) & mask {
		s := &t.slots[i]
		if s.epoch != t.epoch {
			*s = chainSlot{hash, t.epoch, -1}
			return s
		}
		if s.hash == hash {
			return s
		}
	}
}

// push puts a node, the next in number, at the head of a slot.
func (t *chains) push(s *chainSlot, node int32) {
	t.next = append(t.next, s.head)
	s.head = node
}
