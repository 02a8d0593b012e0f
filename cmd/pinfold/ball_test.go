package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The arcs follow from the sphere: pole to equator pi x d / 4, round the middle
// pi x d, surface pi x d squared.
func TestBall(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		// Common practice, no source: the band of a 3 in ball with about 1 in of
		// overlap is about 10 1/2 in.
		{[]string{"3"}, `a ball of 3 in
  pole to equator        2.36 in
  round the middle       9.42 in
  surface                28.27 sq in
  band, 1 in of overlap  cut 10 1/2 in
`},
		{[]string{"7.5 cm"}, `a ball of 7.5 cm
  pole to equator          5.89 cm
  round the middle         23.56 cm
  surface                  176.71 sq cm
  band, 2.5 cm of overlap  cut 26.1 cm
`},
		{[]string{"2", "1/2", "in", "--overlap", "0"}, `a ball of 2 1/2 in
  pole to equator        1.96 in
  round the middle       7.85 in
  surface                19.63 sq in
  band, 0 in of overlap  cut 7 7/8 in
`},
		// A ball of 2.8 in is no whole number of 64ths.
		{[]string{"2.8"}, `a ball of about 2 51/64 in
  pole to equator        2.20 in
  round the middle       8.80 in
  surface                24.63 sq in
  band, 1 in of overlap  cut 9 7/8 in
`},
		{[]string{"8", "--unit", "cm"}, `a ball of 8 cm
  pole to equator          6.28 cm
  round the middle         25.13 cm
  surface                  201.06 sq cm
  band, 2.5 cm of overlap  cut 27.7 cm
`},
	} {
		s := invoke(t, append([]string{"ball"}, c.args...)...)
		assert.Equal(t, exitDone, s.code, s.errors)
		assert.Equal(t, c.want, s.out, c.args)
	}
}

// Common practice, no source: a second round of 2 x 3 in pieces started 1 1/4 in
// from the pole of a 3 in ball reaches past its middle and is trimmed.
func TestBallTellsTheReach(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--piece", "2 x 3", "--from", "1 1/4"},
			"a round of 2 x 3 in from 1 1/4 in reaches 2 3/4 of 2.36 in: past the middle, what is over is trimmed\n"},
		{[]string{"--piece", "2 1/2 x 2 1/2", "--from", "1", "--shows", "3/4"},
			"a round of 2 1/2 x 2 1/2 in from 1 in reaches 2 1/4 of 2.36 in: covered up to the band\n"},
		{[]string{"--piece", "2 1/2 x 2 1/2", "--from", "1"},
			"a round of 2 1/2 x 2 1/2 in from 1 in reaches 2 1/4 of 2.36 in: 0.11 in of foam stays bare\n"},
		{[]string{"--piece", "2 x 2"},
			"a round of 2 x 2 in from 0 in reaches 1 of 2.36 in: 1.36 in of foam stays bare\n"},
	} {
		s := invoke(t, append([]string{"ball", "3"}, c.args...)...)
		assert.Equal(t, exitDone, s.code, s.errors)
		assert.Contains(t, s.out, c.want, c.args)
	}
}

func TestBallRefuses(t *testing.T) {
	for want, args := range map[string][]string{
		"ball needs a diameter":        nil,
		`cannot read "big"`:            {"big"},
		"no ball measures 0 in":        {"0"},
		"no ball measures 500 cm":      {"5 m"},
		`unknown unit "ell"`:           {"3", "--unit", "ell"},
		"--from needs --piece":         {"3", "--from", "1"},
		`--piece: cannot read "2"`:     {"3", "--piece", "2"},
		`--from: cannot read "far"`:    {"3", "--piece", "2 x 2", "--from", "far"},
		`--shows: cannot read "much"`:  {"3", "--piece", "2 x 2", "--shows", "much"},
		`--overlap: cannot read "lot"`: {"3", "--overlap", "lot"},
	} {
		refused(t, invoke(t, append([]string{"ball"}, args...)...), want)
	}
}
