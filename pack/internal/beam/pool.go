package beam

import (
	"cmp"
	"math"
	"slices"
)

// key orders candidates: by guide, then by tie.
type key struct {
	guide float64
	tie   uint32
	slot  int32
}

func compareKeys(a, b key) int {
	if c := cmp.Compare(a.guide, b.guide); c != 0 {
		return c
	}
	if c := cmp.Compare(a.tie, b.tie); c != 0 {
		return c
	}
	return cmp.Compare(a.slot, b.slot)
}

// pool collects candidates and keeps the best of them: it fills up to its
// capacity, then drops the worse half, and from then on turns away everything
// worse than the worst it kept.
type pool struct {
	keys  []key
	slots []candidate
	free  []int32
	keep  int
	worst float64
}

func (p *pool) reset(keep int) {
	p.keys, p.slots, p.free = p.keys[:0], p.slots[:0], p.free[:0]
	p.keep = keep
	p.worst = math.Inf(1)
}

func (p *pool) add(guide float64, tie uint32, c candidate) {
	var slot int32
	if n := len(p.free); n > 0 {
		slot = p.free[n-1]
		p.free = p.free[:n-1]
		p.slots[slot] = c
	} else {
		slot = int32(len(p.slots))
		p.slots = append(p.slots, c)
	}
	p.keys = append(p.keys, key{guide, tie, slot})
}

func (p *pool) full() bool { return len(p.keys) >= 2*p.keep }

// shrink drops all but the best, and returns how many keys it looked at.
func (p *pool) shrink() int {
	n := len(p.keys)
	selectKeys(p.keys, p.keep)
	p.worst = 0
	for _, k := range p.keys[:p.keep] {
		p.worst = max(p.worst, k.guide)
	}
	for _, k := range p.keys[p.keep:] {
		p.free = append(p.free, k.slot)
	}
	p.keys = p.keys[:p.keep]
	return n
}

// sort puts the keys in order.
func (p *pool) sort() { slices.SortFunc(p.keys, compareKeys) }

// selectKeys moves the n least keys to the front (quickselect, median of
// three).
func selectKeys(k []key, n int) {
	lo, hi := 0, len(k)-1
	for lo < hi {
		mid := int(uint(lo+hi) >> 1)
		if compareKeys(k[mid], k[lo]) < 0 {
			k[mid], k[lo] = k[lo], k[mid]
		}
		if compareKeys(k[hi], k[lo]) < 0 {
			k[hi], k[lo] = k[lo], k[hi]
		}
		if compareKeys(k[hi], k[mid]) < 0 {
			k[hi], k[mid] = k[mid], k[hi]
		}
		pivot := k[mid]
		i, j := lo, hi
		for i <= j {
			for compareKeys(k[i], pivot) < 0 {
				i++
			}
			for compareKeys(pivot, k[j]) < 0 {
				j--
			}
			if i <= j {
				k[i], k[j] = k[j], k[i]
				i++
				j--
			}
		}
		switch {
		case n <= j:
			hi = j
		case n >= i:
			lo = i
		default:
			return
		}
	}
}
