package plan

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
)

// At the most pieces there may be, no more of them are asked for to see what room
// there is.
func TestRoomForMoreThanThereMayBe(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(`ornaments: {star: {ball: 3, pieces: [{name: a, size: 2 x 2, count: 1000, role: g}]}}
make: [{ornament: star, count: 1000, colourway: {g: sand}}]
fabrics: {sand: {bolt: {usable: 42}, buy: [{fat quarter: 3}]}}
`), nil)
	require.NoError(t, err)
	s, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	checked(t, s)
	for _, n := range s.Counters[0].Spares {
		assert.LessOrEqual(t, n.Room, pack.MaxDemand)
	}
}
