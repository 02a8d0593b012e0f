package blocks

import "math/bits"

// packing stores how often a block holds each item in a few machine words, one
// bit more than needed for each item, so that adding two of them and finding
// out whether a demand is exceeded takes a few instructions. Items whose demand
// no sheet can exceed have no place in it.
type packing struct {
	words int
	field []field // by item
	bias  []uint64
	guard []uint64
}

type field struct {
	word  int32 // -1 if not counted
	shift uint8
	width uint8
}

func newPacking(demand []int, counted []bool) *packing {
	p := &packing{field: make([]field, len(demand))}
	used := 64
	for i, d := range demand {
		if !counted[i] {
			p.field[i].word = -1
			continue
		}
		width := bits.Len(uint(d)) + 1
		if used+width > 64 {
			p.words++
			p.bias, p.guard = append(p.bias, 0), append(p.guard, 0)
			used = 0
		}
		w := p.words - 1
		p.field[i] = field{int32(w), uint8(used), uint8(width)}
		top := uint64(1) << (width - 1)
		p.guard[w] |= top << used
		p.bias[w] |= (top - 1 - uint64(d)) << used
		used += width
	}
	if p.words == 0 {
		p.words, p.bias, p.guard = 1, []uint64{0}, []uint64{0}
	}
	return p
}

// one sets c to a single copy of item i.
func (p *packing) one(c []uint64, i int32) {
	clear(c)
	if f := p.field[i]; f.word >= 0 {
		c[f.word] = 1 << f.shift
	}
}

// get returns the copies of item i in c.
func (p *packing) get(c []uint64, i int) int {
	f := p.field[i]
	if f.word < 0 {
		return 0
	}
	return int(c[f.word] >> f.shift & (1<<f.width - 1))
}

// add sets sum to a+b and tells whether that is within the demands.
func (p *packing) add(sum, a, b []uint64) bool {
	for k := range sum {
		s := a[k] + b[k]
		if (s+p.bias[k])&p.guard[k] != 0 {
			return false
		}
		sum[k] = s
	}
	return true
}

func hashWords(c []uint64) uint64 {
	h := uint64(0x9e3779b97f4a7c15)
	for _, w := range c {
		h ^= w
		h *= 0xff51afd7ed558ccd
		h ^= h >> 32
	}
	return h * 0xc4ceb9fe1a85ec53 >> 8
}
