package ruin

import (
	"math"
	"math/bits"
	"sync"
)

// values tells what rectangles left over are worth: their area to the power of
// 1.2, so that one large one is worth more than two halves. The power is taken
// of the area in 4096ths of the largest sheet's, in whole numbers, so that
// results are the same on every machine.
type values struct {
	scale uint64
	power *[2 * steps]int32
}

const (
	stepBits  = 12
	steps     = 1 << stepBits
	valueBits = 30 // the largest sheet is worth 1 << valueBits
)

func newValues(largest int64) *values {
	return &values{(steps << 32) / uint64(max(1, largest)), powers()}
}

// of is the value of a w x h rectangle.
func (v *values) of(w, h int32) int64 {
	return int64(v.power[uint64(w)*uint64(h)*v.scale>>32&(2*steps-1)])
}

// powers[i] is (i/steps)^1.2 in units of 2^-valueBits, rounded down. A float
// gives the guess and whole numbers decide.
var powers = sync.OnceValue(func() *[2 * steps]int32 {
	p := new([2 * steps]int32)
	for i := range steps + 1 {
		r := uint64(math.Pow(float64(i)/steps, 1.2) * (1 << valueBits))
		for exceeds(r, uint64(i)) {
			r--
		}
		for !exceeds(r+1, uint64(i)) {
			r++
		}
		p[i] = int32(r)
	}
	return p
})

// exceeds tells whether r^5 > i^6 * 2^(5*valueBits - 6*stepBits), for r below
// 2^31 and i up to steps.
func exceeds(r, i uint64) bool {
	// r^5 in the words a2 a1 a0.
	hi, lo := bits.Mul64(r*r, r*r)
	c, a0 := bits.Mul64(lo, r)
	a2, a1 := bits.Mul64(hi, r)
	a1, carry := bits.Add64(a1, c, 0)
	a2 += carry
	// i^6 times 2^64 is b2 b1 0; then the rest of the shift.
	const shift = 5*valueBits - 6*stepBits - 64
	b2, b1 := bits.Mul64(i*i*i, i*i*i)
	b2, b1 = b2<<shift|b1>>(64-shift), b1<<shift
	if a2 != b2 {
		return a2 > b2
	}
	if a1 != b1 {
		return a1 > b1
	}
	return a0 > 0
}
