package reports

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTypeset(t *testing.T) {
	for s, want := range map[string]string{
		"2 1/2 x 4 in":               "2½ × 4 in",
		"7/8 yd":                     "⅞ yd",
		"42 in; 3/4 yd leaves":       "42 in; ¾ yd leaves",
		"navy dot: 3/4 yd, 1 1/8 yd": "navy dot: ¾ yd, 1⅛ yd",
		"1/2 x 3/4 in":               "½ × ¾ in",
		"in steps of 1/8 yd":         "in steps of ⅛ yd",
		"5/16 in, 11/8 in":           "5/16 in, 11/8 in",
	} {
		assert.Equal(t, want, typeset(s))
	}
}
