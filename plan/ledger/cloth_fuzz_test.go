package ledger

import (
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// No line makes the reader fail in any other way than with an error.
func FuzzParseCloth(f *testing.F) {
	for _, s := range []string{"navy dot: 5 x 7, 6 x 9 less 2 x 2 corner x3", "a:b: 3x4", ":", "x: ,", "sand: 3 x 4\nrope: 1 x 2", "sand: 6x9 less 2x2 at bottom left and 1x1 hole at 3 up 4 right"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ParseCloth(s, units.Inches)
		if err != nil {
			return
		}
		require.NotEmpty(t, c.Fabric)
		require.NotEmpty(t, c.Sizes)
		for _, p := range c.Sizes {
			require.Positive(t, p.Count)
			require.Positive(t, p.Size.Area())
		}
	})
}
