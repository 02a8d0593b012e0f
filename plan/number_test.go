package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPrices(t *testing.T) {
	for s, want := range map[string]int64{
		"3.25": 325, "3,25": 325, "3.5": 350, "3": 300, "0": 0, "0.05": 5, " 11.50 ": 1150, "1000000": maxPrice,
	} {
		got, err := price(s)
		assert.NoError(t, err, s)
		assert.Equal(t, want, got, s)
	}
	for _, s := range []string{"", "-1", "−1", "+1", "1.", ".5", "1.234", "1e3", "0x1", "1.2.3", "1,2,3", "1 000", "1_000", "NaN", "½", "1000000.01", "99999999999999999999"} {
		_, err := price(s)
		assert.Error(t, err, s)
	}
}

func TestPercents(t *testing.T) {
	for s, want := range map[string]int{"5%": 500, "2.5%": 250, "2,25 %": 225, "0%": 0, "100%": 10000} {
		got, err := percent(s)
		assert.NoError(t, err, s)
		assert.Equal(t, want, got, s)
	}
	for _, s := range []string{"5", "-5%", "%", "5%%", "1.234%", "99999%", "five%"} {
		_, err := percent(s)
		assert.Error(t, err, s)
	}
}

func TestWholeNumbers(t *testing.T) {
	for s, want := range map[string]int{"1": 1, "007": 7, " 10 ": 10} {
		got, err := whole(s, 1, 10)
		assert.NoError(t, err, s)
		assert.Equal(t, want, got, s)
	}
	for _, s := range []string{"", "0", "11", "-1", "1.0", "1,0", "1e1", "ten", "+1", "99999999999999999999"} {
		_, err := whole(s, 1, 10)
		assert.Error(t, err, s)
	}
}
