package pack_test

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// randomOutline makes a simple polygon whose smallest rectangle is w x h at 0, 0:
// random corners, crossings undone one by one, until it is simple.
func randomOutline(r *rand.Rand, w, h units.Length) pack.Outline {
	for {
		n := 3 + r.IntN(6)
		o := make(pack.Outline, n)
		for i := range o {
			o[i] = pack.Point{X: units.Length(r.Int64N(int64(w) + 1)), Y: units.Length(r.Int64N(int64(h) + 1))}
		}
		o[0].X, o[1].Y, o[n-2].Y, o[n-1].X = 0, 0, h, w
		if n == 3 {
			o[1].X, o[2].Y = 0, h
			o[0] = pack.Point{X: 0, Y: 0}
			o[2].X = w
		}
		for range 100 {
			if o.Validate() == nil {
				break
			}
			i, j := r.IntN(n), r.IntN(n)
			o[i], o[j] = o[j], o[i]
		}
		if o.Validate() == nil && o.Box() == (pack.Rect{X: 0, Y: 0, W: w, H: h}) {
			return o
		}
	}
}

// insideSlowly decides by fractions of any size whether a rectangle lies inside:
// between two heights at which anything happens, a level line is inside from its
// first crossing to the second, from the third to the fourth, and so on.
func insideSlowly(o pack.Outline, q pack.Rect) bool {
	rat := func(l units.Length) *big.Rat { return big.NewRat(int64(l), 1) }
	x0, x1 := rat(q.X), rat(q.X+q.W)
	heights := []*big.Rat{rat(q.Y), rat(q.Y + q.H)}
	note := func(y *big.Rat) {
		if y.Cmp(heights[0]) > 0 && y.Cmp(heights[1]) < 0 {
			heights = append(heights, y)
		}
	}
	at := func(a, b pack.Point, x *big.Rat) *big.Rat { // the edge's height at x
		t := new(big.Rat).Quo(new(big.Rat).Sub(x, rat(a.X)), rat(b.X-a.X))
		return t.Add(t.Mul(t, rat(b.Y-a.Y)), rat(a.Y))
	}
	for i, a := range o {
		b := o[(i+1)%len(o)]
		note(rat(a.Y))
		if a.X != b.X {
			note(at(a, b, x0))
			note(at(a, b, x1))
		}
	}
	sortRats(heights)
	half := big.NewRat(1, 2)
	for k := 1; k < len(heights); k++ {
		y := new(big.Rat).Add(heights[k-1], heights[k])
		y.Mul(y, half)
		if heights[k-1].Cmp(heights[k]) == 0 {
			continue
		}
		// Where the edges cross this height, which no corner has.
		var xs []*big.Rat
		for i, a := range o {
			b := o[(i+1)%len(o)]
			if (rat(a.Y).Cmp(y) > 0) != (rat(b.Y).Cmp(y) > 0) {
				t := new(big.Rat).Quo(new(big.Rat).Sub(y, rat(a.Y)), rat(b.Y-a.Y))
				xs = append(xs, t.Add(t.Mul(t, rat(b.X-a.X)), rat(a.X)))
			}
		}
		sortRats(xs)
		covered := false
		for i := 0; i+1 < len(xs); i += 2 {
			covered = covered || xs[i].Cmp(x0) <= 0 && xs[i+1].Cmp(x1) >= 0
		}
		if !covered {
			return false
		}
	}
	return true
}

func sortRats(list []*big.Rat) {
	for i := range list {
		for j := i; j > 0 && list[j].Cmp(list[j-1]) < 0; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
}

// Whether a rectangle lies inside is decided exactly, on small grids where much
// touches and on fine ones where nothing does.
func TestInsideAnOutline(t *testing.T) {
	cases := 8000
	if testing.Short() {
		cases = 1500
	}
	inside := 0
	for seed := range cases {
		r := rand.New(rand.NewPCG(uint64(seed), 21))
		size := []int64{4, 7, 12, 1000, 200_000}[r.IntN(5)]
		w, h := units.Length(1+r.Int64N(size)), units.Length(1+r.Int64N(size))
		o := randomOutline(r, w, h)
		for range 6 {
			q := pack.Rect{X: units.Length(r.Int64N(int64(w))), Y: units.Length(r.Int64N(int64(h)))}
			q.W, q.H = 1+units.Length(r.Int64N(int64(w-q.X)/(1+r.Int64N(4))+1)), 1+units.Length(r.Int64N(int64(h-q.Y)/(1+r.Int64N(4))+1))
			want := insideSlowly(o, q)
			require.Equal(t, want, o.Holds(q), "seed %d: %v in %v", seed, q, o)
			if want {
				inside++
			}
		}
	}
	assert.Greater(t, inside, cases/4)
}

// Turned, mirrored and written the other way round, an outline holds the same.
func TestOutlinesTurned(t *testing.T) {
	for seed := range 500 {
		r := rand.New(rand.NewPCG(uint64(seed), 22))
		w, h := units.Length(2+r.IntN(9)), units.Length(2+r.IntN(9))
		o := randomOutline(r, w, h)
		turned, back := make(pack.Outline, len(o)), make(pack.Outline, len(o))
		for i, p := range o {
			turned[i] = pack.Point{X: h - p.Y, Y: p.X}
			back[len(o)-1-i] = p
		}
		assert.Equal(t, o.Area(), turned.Area())
		assert.Equal(t, o.Area(), back.Area())
		var cells units.Area
		for x := range w {
			for y := range h {
				in := o.Holds(pack.Rect{X: x, Y: y, W: 1, H: 1})
				assert.Equal(t, in, turned.Holds(pack.Rect{X: h - y - 1, Y: x, W: 1, H: 1}), "seed %d", seed)
				assert.Equal(t, in, back.Holds(pack.Rect{X: x, Y: y, W: 1, H: 1}), "seed %d", seed)
				if in {
					cells++
				}
			}
		}
		assert.LessOrEqual(t, cells, o.Area())
	}
}

func TestFaultyOutlines(t *testing.T) {
	at := func(xy ...units.Length) (o pack.Outline) {
		for i := 0; i < len(xy); i += 2 {
			o = append(o, pack.Point{X: xy[i], Y: xy[i+1]})
		}
		return o
	}
	for _, c := range []struct {
		o    pack.Outline
		want string
	}{
		{at(), "0 corners enclose nothing, a shape has 3 or more"},
		{at(0, 0, 4, 0), "2 corners enclose nothing, a shape has 3 or more"},
		{at(0, 0, 4, 0, 4, 4, 0, 0), "corner 4 lies on corner 1"},
		{at(0, 0, 2, 2, 4, 4), "corner 2 lies on the edge from corner 3 to corner 1"},
		{at(0, 0, 4, 0, 2, 0, 2, 4), "corner 3 lies on the edge from corner 1 to corner 2"},
		{at(0, 0, 4, 0, 4, 4, 2, 0, 0, 4), "corner 4 lies on the edge from corner 1 to corner 2"},
		{at(0, 0, 4, 4, 4, 0, 0, 4), "the edge from corner 3 to corner 4 crosses the edge from corner 1 to corner 2"},
		{at(0, 0, 4, 0, 1<<28+1, 4), "corner 3 is too far away"},
		{make(pack.Outline, 101), "101 corners are too many, the most is 100"},
	} {
		assert.EqualError(t, c.o.Validate(), c.want, fmt.Sprint(c.o))
	}
	assert.NoError(t, at(0, 0, 2, 0, 4, 0, 4, 4, 0, 4).Validate(), "a corner on a straight edge is none too many")
}

// What a sheet with an outline must be.
func TestFaultySheetsWithAnOutline(t *testing.T) {
	good := pack.Sheet{ID: "a", W: 4, H: 3, Copies: 1, Outline: pack.Outline{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 2, Y: 3}}}
	require.NoError(t, pack.Problem{Sheets: []pack.Sheet{good}}.Validate())
	for want, change := range map[string]func(*pack.Sheet){
		`pack: sheet "a": 0 corners enclose nothing, a shape has 3 or more`:                                func(s *pack.Sheet) { s.Outline = pack.Outline{} },
		`pack: sheet "a": a shape is not squared and fills the about 0 in x about 0 in around it`:          func(s *pack.Sheet) { s.Squared.Left = 1 },
		`pack: sheet "a": a shape is not squared and fills the about 0 in x about 0 in around it` + " (2)": func(s *pack.Sheet) { s.W = 5 },
	} {
		s := good
		change(&s)
		err := pack.Problem{Sheets: []pack.Sheet{s}}.Validate()
		require.Error(t, err)
		assert.Contains(t, want, err.Error())
	}
}
