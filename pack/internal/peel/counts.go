package peel

import "math/bits"

// mostWords is how many 64-bit words the counts of a block may take.
const mostWords = 12

// counts says how many copies of each kind a block holds. Every kind has a field
// of bits in one of the words, one bit wider than its copies need, so that counts
// are added, and found to be too many, word by word.
type counts []uint64

// fields tells where the counts of the kinds are.
type fields struct {
	at []field
	// Added to counts that are within the copies there are, over leaves the guard
	// bits clear.
	over, guard counts
}

type field struct{ word, shift, width uint8 }

// layOut gives every kind a field for its copies; ok is false if they take too
// many words.
func layOut(copies []int) (f *fields, ok bool) {
	f = &fields{over: make(counts, 1, mostWords), guard: make(counts, 1, mostWords)}
	shift := 0
	for _, n := range copies {
		width := bits.Len(uint(n)) + 1
		if shift+width > 64 {
			shift = 0
			f.over, f.guard = append(f.over, 0), append(f.guard, 0)
			if len(f.over) > mostWords {
				return nil, false
			}
		}
		word := len(f.over) - 1
		f.at = append(f.at, field{uint8(word), uint8(shift), uint8(width)})
		top := uint64(1) << (width - 1)
		f.guard[word] |= top << shift
		f.over[word] |= (top - 1 - uint64(n)) << shift
		shift += width
	}
	return f, true
}

// of reads the count of a kind.
func (f *fields) of(c counts, kind int) int {
	d := f.at[kind]
	return int(c[d.word] >> d.shift & (1<<d.width - 1))
}

// one sets c to one copy of a kind.
func (f *fields) one(c counts, kind int) {
	clear(c)
	c[f.at[kind].word] = 1 << f.at[kind].shift
}

// sum sets out to a + b and tells whether there are that many copies; if not, out
// is spoilt.
func (f *fields) sum(out, a, b counts) bool {
	n := len(out)
	a, b, over, guard := a[:n], b[:n], f.over[:n], f.guard[:n]
	for k := range out {
		s := a[k] + b[k]
		if (s+over[k])&guard[k] != 0 {
			return false
		}
		out[k] = s
	}
	return true
}
