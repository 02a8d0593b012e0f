// Package random is the stream of random numbers that engines draw from: small,
// fast, and the same for a seed on every machine and with every version of Go. Start
// with [Stream].
package random

import "math/bits"

// Stream is a splitmix64 stream (Steele, Lea & Flood, OOPSLA 2014), begun by its seed.
type Stream uint64

// Next returns 64 random bits.
func (s *Stream) Next() uint64 {
	*s += 0x9e3779b97f4a7c15
	z := uint64(*s)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Below returns a number from 0 to n-1, for n above 0.
func (s *Stream) Below(n int) int {
	hi, _ := bits.Mul64(s.Next(), uint64(n))
	return int(hi)
}
