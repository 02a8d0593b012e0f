package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"pinfold/pack"
)

// A layout found after a search in vain counts, not the doubt before it.
func TestWhatIsFoundLaterDispelsADoubt(t *testing.T) {
	pl := &pile{known: []answer{
		{demand: []int{3, 2}, verdict: pack.Undecided, look: longLook},
		{demand: []int{3, 3}, verdict: pack.Enough},
	}}
	a, ok := pl.recall([]int{3, 2}, firstLook)
	assert.True(t, ok)
	assert.Equal(t, pack.Enough, a.verdict)
	assert.True(t, pl.likely([]int{3, 2}))
	_, ok = pl.recall([]int{4, 3}, firstLook)
	assert.False(t, ok)
}
