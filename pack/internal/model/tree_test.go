package model_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// cutAtRandom cuts r from edge to edge until the parts are small and returns
// some of the parts.
func cutAtRandom(r *rand.Rand, s model.Rect, out []model.Rect) []model.Rect {
	switch {
	case s.W > 1 && (s.H < 2 || r.IntN(2) == 0) && s.W*s.H > 6:
		c := 1 + r.IntN(s.W-1)
		out = cutAtRandom(r, model.Rect{X: s.X, Y: s.Y, W: c, H: s.H}, out)
		return cutAtRandom(r, model.Rect{X: s.X + c, Y: s.Y, W: s.W - c, H: s.H}, out)
	case s.H > 1 && s.W*s.H > 6:
		c := 1 + r.IntN(s.H-1)
		out = cutAtRandom(r, model.Rect{X: s.X, Y: s.Y, W: s.W, H: c}, out)
		return cutAtRandom(r, model.Rect{X: s.X, Y: s.Y + c, W: s.W, H: s.H - c}, out)
	case r.IntN(4) == 0:
		return out
	}
	return append(out, s)
}

// leaves collects the rectangle of every piece and the area of every leaf.
func leaves(t *testing.T, n *model.Tree, r model.Rect, got map[int]model.Rect) int {
	if n.Leaf {
		if n.Piece != model.None {
			got[n.Piece] = r
		}
		return r.W * r.H
	}
	require.Equal(t, len(n.Len), len(n.Parts))
	require.Greater(t, len(n.Parts), 1)
	area, at := 0, 0
	for i, p := range n.Parts {
		require.Positive(t, n.Len[i])
		sub := model.Rect{X: r.X + at, Y: r.Y, W: n.Len[i], H: r.H}
		if n.Axis == model.AxisY {
			sub = model.Rect{X: r.X, Y: r.Y + at, W: r.W, H: n.Len[i]}
		}
		area += leaves(t, p, sub, got)
		at += n.Len[i]
	}
	return area
}

func TestCutFreesEveryBox(t *testing.T) {
	for seed := range 2000 {
		r := rand.New(rand.NewPCG(uint64(seed), 2))
		w, h := 2+r.IntN(40), 2+r.IntN(40)
		boxes := cutAtRandom(r, model.Rect{W: w, H: h}, nil)
		tree, err := model.Cut(w, h, 0, 0, boxes, true)
		require.NoError(t, err, "seed %d", seed)
		got := map[int]model.Rect{}
		require.Equal(t, w*h, leaves(t, tree, model.Rect{W: w, H: h}, got))
		require.Len(t, got, len(boxes))
		for i, b := range boxes {
			require.Equal(t, b, got[i])
		}
	}
}

func TestCutRefuses(t *testing.T) {
	pinwheel := []model.Rect{{X: 0, Y: 0, W: 2, H: 1}, {X: 2, Y: 0, W: 1, H: 2}, {X: 1, Y: 2, W: 2, H: 1}, {X: 0, Y: 1, W: 1, H: 2}}
	_, err := model.Cut(3, 3, 0, 0, pinwheel, true)
	assert.ErrorIs(t, err, model.ErrOverlap)
	_, err = model.Cut(3, 3, 0, 0, []model.Rect{{X: 0, Y: 0, W: 2, H: 2}, {X: 1, Y: 1, W: 1, H: 1}}, true)
	assert.ErrorIs(t, err, model.ErrOverlap)
	_, err = model.Cut(3, 3, 0, 0, []model.Rect{{X: 2, Y: 0, W: 2, H: 2}}, true)
	assert.ErrorIs(t, err, model.ErrOutside)
}

func TestCutCountsStages(t *testing.T) {
	rows := []model.Rect{{X: 0, Y: 0, W: 2, H: 1}, {X: 2, Y: 0, W: 2, H: 1}, {X: 0, Y: 1, W: 1, H: 3}, {X: 1, Y: 1, W: 3, H: 3}}
	_, err := model.Cut(4, 4, 2, 0, rows, true)
	assert.NoError(t, err)
	_, err = model.Cut(4, 4, 1, 0, rows, true)
	assert.ErrorIs(t, err, model.ErrStages)
	// A last trim of one piece is free.
	_, err = model.Cut(4, 4, 2, 0, []model.Rect{{X: 0, Y: 0, W: 2, H: 2}, {X: 2, Y: 0, W: 2, H: 1}, {X: 0, Y: 2, W: 4, H: 2}}, true)
	assert.NoError(t, err)
}

// Of two ways to free one piece the one with the larger leftover is taken.
func TestCutLeavesTheLargerPart(t *testing.T) {
	tree, err := model.Cut(10, 4, 0, 0, []model.Rect{{X: 0, Y: 0, W: 2, H: 2}}, true)
	require.NoError(t, err)
	assert.Equal(t, model.AxisX, tree.Axis)
	assert.Equal(t, []int{2, 8}, tree.Len)
}

// Boxes that stand a little less than the kerf apart move together, and so need no
// trim, unless they are fixed.
func TestCutClosesGapsNarrowerThanTheKerf(t *testing.T) {
	boxes := []model.Rect{{X: 0, Y: 0, W: 10, H: 10}, {X: 11, Y: 0, W: 10, H: 8}, {X: 22, Y: 0, W: 10, H: 8}}
	tree, err := model.Cut(40, 10, 2, 3, boxes, false)
	require.NoError(t, err)
	require.Equal(t, []int{10, 10, 10, 10}, tree.Len)
	tree, err = model.Cut(40, 10, 0, 3, boxes, true)
	require.NoError(t, err)
	require.Equal(t, []int{11, 11, 10, 8}, tree.Len)
	tree, err = model.Cut(32, 10, 0, 3, boxes, false)
	require.NoError(t, err)
	require.Equal(t, []int{10, 10, 10, 2}, tree.Len)
}
