package random

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The first numbers for the seed 1234567, as the reference implementation in C by
// Sebastiano Vigna (prng.di.unimi.it, splitmix64.c, public domain) prints them; from
// memory.
func TestStreamIsSplitmix64(t *testing.T) {
	s := Stream(1234567)
	for _, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821} {
		assert.Equal(t, want, s.Next())
	}
}

// Each number of a small range comes about as often as any other: 60,000 draws of
// six leave each within 5 standard deviations (91) of 10,000.
func TestBelowIsEven(t *testing.T) {
	s, seen := Stream(1), [6]int{}
	for range 60_000 {
		seen[s.Below(6)]++
	}
	for _, n := range seen {
		assert.InDelta(t, 10_000, n, 5*91)
	}
	assert.Zero(t, s.Below(1))
}
