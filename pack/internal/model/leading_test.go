package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// In front of the first box of a region there is no room for a cut within a kerf of
// its edge: a fixed box moves up, the others stay.
func TestCutMovesUpWhatIsWithinAKerfOfTheEdge(t *testing.T) {
	for _, c := range []struct {
		what  string
		w, h  int
		boxes []model.Rect
		want  []model.Rect
	}{
		{"one box", 20, 20, []model.Rect{{X: 2, Y: 1, W: 10, H: 10}}, []model.Rect{{X: 0, Y: 0, W: 10, H: 10}}},
		{"one box far off", 20, 20, []model.Rect{{X: 3, Y: 1, W: 10, H: 10}}, []model.Rect{{X: 3, Y: 0, W: 10, H: 10}}},
		{"one of two", 20, 20, []model.Rect{{X: 2, Y: 0, W: 10, H: 10}, {X: 4, Y: 10, W: 10, H: 10}}, []model.Rect{{X: 0, Y: 0, W: 10, H: 10}, {X: 4, Y: 10, W: 10, H: 10}}},
		{"with nothing behind", 12, 20, []model.Rect{{X: 2, Y: 0, W: 10, H: 10}, {X: 2, Y: 10, W: 10, H: 10}}, []model.Rect{{X: 0, Y: 0, W: 10, H: 10}, {X: 0, Y: 10, W: 10, H: 10}}},
		{"deep within", 22, 20, []model.Rect{{X: 0, Y: 0, W: 10, H: 20}, {X: 10, Y: 2, W: 12, H: 9}, {X: 12, Y: 11, W: 10, H: 9}}, []model.Rect{{X: 0, Y: 0, W: 10, H: 20}, {X: 10, Y: 0, W: 12, H: 9}, {X: 10, Y: 11, W: 10, H: 9}}},
	} {
		tree, err := model.Cut(c.w, c.h, 0, 3, c.boxes, true)
		require.NoError(t, err, c.what)
		got := map[int]model.Rect{}
		leaves(t, tree, model.Rect{W: c.w, H: c.h}, got)
		for i, want := range c.want {
			assert.Equal(t, want.X, got[i].X, "%s: box %d of %v", c.what, i, got)
			assert.Equal(t, want.Y, got[i].Y, "%s: box %d of %v", c.what, i, got)
		}
	}
	// Two boxes that no cut parts are refused all the same.
	_, err := model.Cut(12, 12, 0, 3, []model.Rect{{X: 1, Y: 1, W: 10, H: 10}, {X: 2, Y: 2, W: 10, H: 10}}, true)
	assert.ErrorIs(t, err, model.ErrOverlap)
}
