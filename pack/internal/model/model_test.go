package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// fair is two sizes and two kinds of sheets: 3 tall pieces that may be turned and 4
// squares.
func fair() *model.Problem {
	return &model.Problem{
		Items:  []model.Item{{W: 2, H: 5, Demand: 3, Turn: true}, {W: 4, H: 4, Demand: 4}},
		Stocks: []model.Stock{{W: 12, H: 6, Copies: model.Unlimited, Cost: 7}, {W: 6, H: 6, Copies: 1, Cost: 2}},
	}
}

func TestItemFits(t *testing.T) {
	for _, c := range []struct {
		what string
		it   model.Item
		w, h int
		want bool
	}{
		{"exactly", model.Item{W: 2, H: 5}, 2, 5, true},
		{"too wide by one", model.Item{W: 2, H: 5}, 1, 5, false},
		{"too high by one", model.Item{W: 2, H: 5}, 2, 4, false},
		{"only turned, which it may not be", model.Item{W: 2, H: 5}, 5, 2, false},
		{"only turned, which it may be", model.Item{W: 2, H: 5, Turn: true}, 5, 2, true},
		{"turned and too wide by one", model.Item{W: 2, H: 5, Turn: true}, 4, 2, false},
		{"turned and too high by one", model.Item{W: 2, H: 5, Turn: true}, 5, 1, false},
	} {
		assert.Equal(t, c.want, c.it.Fits(c.w, c.h), c.what)
	}
}

// A solution is asked what it costs, how many sheets it takes and what it lacks; a
// pattern counts as often as it is cut.
func TestSolutionIsCounted(t *testing.T) {
	pr := fair()
	require.Equal(t, 7, pr.Copies())
	two := model.Pattern{Stock: 0, Placed: []model.Placed{{Item: 1}, {Item: 1, X: 4}, {Item: 0, X: 8}}}
	one := model.Pattern{Stock: 1, Placed: []model.Placed{{Item: 0, Turned: true}}}
	assert.Equal(t, int64(16+16+10), two.Area(pr))
	n := []int{100, 0}
	two.Count(n)
	assert.Equal(t, []int{101, 2}, n, "counts are added to what is there")

	var s model.Solution
	assert.Zero(t, s.Cost(pr))
	assert.Equal(t, []int{3, 4}, s.Missing(pr))
	assert.Equal(t, pr.Items[0].Area()*3+pr.Items[1].Area()*4, s.Lacks(pr), "nothing is cut, all is lacking")
	s.Add(two, 1)
	s.Add(one, 1)
	assert.Equal(t, int64(9), s.Cost(pr))
	assert.Equal(t, 2, s.Sheets())
	assert.Equal(t, []int{1, 2}, s.Missing(pr))
	assert.Equal(t, int64(10+2*16), s.Lacks(pr))
	s.Copies[0] = 3
	assert.Equal(t, int64(23), s.Cost(pr))
	assert.Equal(t, 4, s.Sheets())
	assert.Equal(t, []int{-1, -2}, s.Missing(pr), "a surplus is less than nothing missing")
	assert.Zero(t, s.Lacks(pr), "what one size has too many of makes up for nothing")
	s.Patterns[0].Placed = s.Patterns[0].Placed[:2]
	assert.Equal(t, []int{2, -2}, s.Missing(pr))
	assert.Equal(t, int64(20), s.Lacks(pr))
}

// Places alone give the tree, with turned pieces lying as they are turned.
func TestBuildTurnsPieces(t *testing.T) {
	pr := fair()
	placed := []model.Placed{{Item: 0, X: 0, Y: 0, Turned: true}, {Item: 1, X: 0, Y: 2}, {Item: 0, X: 5, Y: 0}}
	tree, err := model.Build(pr, 12, 6, 0, placed)
	require.NoError(t, err)
	got := map[int]model.Rect{}
	require.Equal(t, 72, leaves(t, tree, model.Rect{W: 12, H: 6}, got))
	assert.Equal(t, map[int]model.Rect{
		0: {X: 0, Y: 0, W: 5, H: 2},
		1: {X: 0, Y: 2, W: 4, H: 4},
		2: {X: 5, Y: 0, W: 2, H: 5},
	}, got)
	placed[0].Turned = false
	_, err = model.Build(pr, 12, 6, 0, placed)
	assert.ErrorIs(t, err, model.ErrOverlap)
	_, err = model.Build(pr, 6, 6, 0, placed[2:])
	assert.ErrorIs(t, err, model.ErrOutside)
}

func TestEmptySheetIsOneLeaf(t *testing.T) {
	tree, err := model.Cut(9, 4, 1, 0, nil, true)
	require.NoError(t, err)
	assert.True(t, tree.Empty())
	tree, err = model.Cut(9, 4, 1, 0, []model.Rect{{W: 9, H: 4}}, true)
	require.NoError(t, err)
	assert.True(t, tree.Leaf)
	assert.False(t, tree.Empty(), "a piece fills it")
}

func TestGCD(t *testing.T) {
	for _, c := range []struct{ a, b, want int64 }{
		{0, 0, 0}, {0, 6, 6}, {6, 0, 6}, {-6, 0, 6}, {12, 18, 6}, {18, 12, 6},
		{-12, 18, 6}, {12, -18, 6}, {7, 13, 1}, {8128, 320, 64},
	} {
		assert.Equal(t, c.want, model.GCD(c.a, c.b), "of %d and %d", c.a, c.b)
	}
}
