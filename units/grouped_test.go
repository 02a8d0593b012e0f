package units

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestGrouped(t *testing.T) {
	for n, want := range map[int64]string{
		0: "0", 999: "999", 1000: "1,000", -1000: "-1,000", -999: "-999", 2410: "2,410", 1234567: "1,234,567",
		math.MinInt64: "-9,223,372,036,854,775,808",
	} {
		assert.Equal(t, want, Grouped(n))
	}
}
