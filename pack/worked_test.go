package pack_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// Worked examples of yardage from print, nothing squared off.
func TestWorkedExamplesOfYardage(t *testing.T) {
	length := func(s string) units.Length {
		l, err := units.Parse(s, units.Inches)
		require.NoError(t, err)
		return l
	}
	piece := func(size string, n int) pack.Piece {
		s, err := units.ParseSize(size, units.Inches)
		require.NoError(t, err)
		return pack.Piece{ID: size, W: s.Across, H: s.Along, Demand: n, Turn: true}
	}
	cases := []struct {
		name, source string
		width, step  string
		pieces       []pack.Piece
		want         string
	}{
		{
			"W1, beside the printed first way of 15 in", "Calculating yardage, quilting blog, 2011, https://patchworktimes.com/2011/11/12/calculating-yardage",
			"40", "1/2", []pack.Piece{piece("2.5 x 4.5", 48)}, "13 1/2",
		},
		{
			"W1, 12 squares", "the same page",
			"40", "1/2", []pack.Piece{piece("4.5 x 4.5", 12)}, "9",
		},
		{
			"W2, printed as 48 in", "How to figure out how much fabric you need for your quilt, quilting shop blog, n.d., https://www.bobbininquilts.com/blogs/news/how-to-figure-out-how-much-fabric-you-need-for-your-quilt",
			"40", "1", []pack.Piece{piece("3 x 2", 300)}, "45",
		},
		{
			"W6, 720 squares are 45 strips", "Math gurus please help, quilting forum, n.d., http://forum.missouriquiltco.com/quilting-questions/47676-math-gurus-please-help-how-do-i-cut-my-fabric.html",
			"42", "1/2", []pack.Piece{piece("2.5 x 2.5", 720)}, "112 1/2",
		},
		{
			"W6, sold by the eighth of a yard", "the same page: 3.125 yd",
			"42", "1/8 yd", []pack.Piece{piece("2.5 x 2.5", 720)}, "3.125 yd",
		},
		{
			"W11, 8 squares of 5 in from a 5 in strip", "tutorial guide of a quilting magazine publisher, n.d., https://anniescatalog.com/quilting/content.html?content_id=804&scat_id=623&type_id=S",
			"42", "1/2", []pack.Piece{piece("5 x 5", 8)}, "5",
		},
		{
			"W11, 4 squares of 10 in from a 10 in strip", "the same page",
			"42", "1/2", []pack.Piece{piece("10 x 10", 4)}, "10",
		},
		{
			"W11, four strips of 2.5 in need 3/8 yd", "the same page",
			"42", "1/8 yd", []pack.Piece{piece("2.5 x 42", 4)}, "3/8 yd",
		},
		{
			"W12, 56 squares of 5 in from a yard", "Please confirm my math, quilting forum, n.d., http://www.quiltingboard.com/main-f1/please-confirm-my-math-t46327.html",
			"40", "1/8 yd", []pack.Piece{piece("5 x 5", 56)}, "1 yd",
		},
	}
	for _, c := range cases {
		p := pack.Problem{
			Pieces: c.pieces,
			Roll:   &pack.Roll{ID: "bolt", W: length(c.width), Step: length(c.step), Price: 1000, Per: units.Yard},
		}
		s, err := pack.Solve(context.Background(), p, pack.Options{})
		require.NoError(t, err, c.name)
		require.Len(t, s.Layouts, 1, c.name)
		assert.Equal(t, length(c.want), s.Layouts[0].Stock.Length, "%s (%s): %v", c.name, c.source, s.Layouts[0].Stock.Length)
		assert.Equal(t, pack.Proved, s.Status, c.name)
	}
}
