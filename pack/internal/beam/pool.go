package beam

import (
	"cmp"
	"math"
	"slices"
)

// key orders candidates: by guide, then by tie. Guides are not negative, so that
// their bits are in the same order as they.
type key struct {
	rank uint64
	slot int32
}

func newKey(guide float32, tie uint32, slot int32) key {
	return key{uint64(math.Float32bits(guide))<<32 | uint64(tie), slot}
}

func (k key) guide() float32 { return math.Float32frombits(uint32(k.rank >> 32)) }

func (k key) before(o key) bool { return k.rank < o.rank || k.rank == o.rank && k.slot < o.slot }

func compareKeys(a, b key) int {
	if c := cmp.Compare(a.rank, b.rank); c != 0 {
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
	worst float32
}

func (p *pool) reset(keep int) {
	p.keys, p.slots, p.free = p.keys[:0], p.slots[:0], p.free[:0]
	p.keep = keep
	p.worst = math.MaxFloat32
}

func (p *pool) add(guide float32, tie uint32, c candidate) {
	var slot int32
	if n := len(p.free); n > 0 {
		slot = p.free[n-1]
		p.free = p.free[:n-1]
		p.slots[slot] = c
	} else {
		slot = int32(len(p.slots))
		p.slots = append(p.slots, c)
	}
	p.keys = append(p.keys, newKey(guide, tie, slot))
}

func (p *pool) full() bool { return len(p.keys) >= 2*p.keep }

// shrink drops all but the best, and returns how many keys it looked at.
func (p *pool) shrink() int {
	n := len(p.keys)
	selectKeys(p.keys, p.keep)
	p.worst = 0
	for _, k := range p.keys[:p.keep] {
		p.worst = max(p.worst, k.guide())
	}
	for _, k := range p.keys[p.keep:] {
		p.free = append(p.free, k.slot)
	}
	p.keys = p.keys[:p.keep]
	return n
}

// sorted puts the keys from from on, and some more than n of them, in order, and
// returns how far they are.
func (p *pool) sorted(from, n int) int {
	rest := p.keys[from:]
	n = min(n+n/4, len(rest))
	if n < len(rest) {
		selectKeys(rest, n)
	}
	slices.SortFunc(rest[:n], compareKeys)
	return from + n
}

// selectKeys moves the n least keys to the front (quickselect, median of
// three).
func selectKeys(k []key, n int) {
	lo, hi := 0, len(k)-1
	for lo < hi {
		mid := int(uint(lo+hi) >> 1)
		if k[mid].before(k[lo]) {
			k[mid], k[lo] = k[lo], k[mid]
		}
		if k[hi].before(k[lo]) {
			k[hi], k[lo] = k[lo], k[hi]
		}
		if k[hi].before(k[mid]) {
			k[hi], k[mid] = k[mid], k[hi]
		}
		pivot := k[mid]
		i, j := lo, hi
		for i <= j {
			for k[i].before(pivot) {
				i++
			}
			for pivot.before(k[j]) {
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
