package pack_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// sound is a problem with nothing wrong in it.
func sound() pack.Problem {
	in := units.Inch
	return pack.Problem{
		Pieces: []pack.Piece{{ID: "A", W: 2 * in, H: 3 * in, Demand: 4}, {ID: "B", W: in, H: in, Demand: 1}},
		Sheets: []pack.Sheet{{ID: "S1", W: 9 * in, H: 14 * in, Copies: 2, Free: true}, {ID: "S2", W: 18 * in, H: 21 * in, Copies: pack.Unlimited, Price: 325}},
		Roll:   &pack.Roll{ID: "bolt", W: 42 * in, Step: units.Yard / 8, Price: 800, Per: units.Yard, Also: []pack.Terms{{ID: "other", Step: units.Yard / 4, Price: 700, Per: units.Yard}}},
	}
}

// Whatever has no meaning is refused by name, by everything that is asked about a
// problem, before any search.
func TestMeaninglessProblems(t *testing.T) {
	require.NoError(t, sound().Validate())
	const most = units.MaxLength
	for want, change := range map[string]func(*pack.Problem){
		`pack: piece "A" is listed twice`:                               func(p *pack.Problem) { p.Pieces[1].ID = "A" },
		`pack: piece "A" measures 3 in x 0 in`:                          func(p *pack.Problem) { p.Pieces[0].W = 0 },
		`pack: piece "A" measures -3 in x 2 in`:                         func(p *pack.Problem) { p.Pieces[0].H *= -1 },
		`pack: piece "A" measures 3 in x ` + (most + 1).String():        func(p *pack.Problem) { p.Pieces[0].W = most + 1 },
		`pack: piece "A" is wanted -1 times, the most is 1000000`:       func(p *pack.Problem) { p.Pieces[0].Demand = -1 },
		`pack: piece "B" is wanted 1000001 times, the most is 1000000`:  func(p *pack.Problem) { p.Pieces[1].Demand = pack.MaxDemand + 1 },
		`pack: piece "B" has a negative value`:                          func(p *pack.Problem) { p.Pieces[1].Value = -1 },
		`pack: sheet "S1" is listed twice`:                              func(p *pack.Problem) { p.Sheets[1].ID = "S1" },
		`pack: sheet "S1" measures 14 in x 0 in`:                        func(p *pack.Problem) { p.Sheets[0].W = 0 },
		`pack: sheet "S2" measures ` + (most + 1).String() + ` x 18 in`: func(p *pack.Problem) { p.Sheets[1].H = most + 1 },
		`pack: sheet "S1" has -2 copies`:                                func(p *pack.Problem) { p.Sheets[0].Copies = -2 },
		`pack: sheet "S2" has a negative price`:                         func(p *pack.Problem) { p.Sheets[1].Price = -1 },
		`pack: sheet "S2" is squared by a negative width`:               func(p *pack.Problem) { p.Sheets[1].Squared.Top = -1 },
		`pack: negative kerf, stages, layers or ruler`:                  func(p *pack.Problem) { p.Rules.Kerf = -1 },
		`pack: roll "bolt" is 0 in wide and sold in steps of 4 1/2 in`:  func(p *pack.Problem) { p.Roll.W = 0 },
		`pack: roll "bolt" is 42 in wide and sold in steps of 0 in`:     func(p *pack.Problem) { p.Roll.Step = 0 },
		`pack: roll "other" is 42 in wide and sold in steps of 0 in`:    func(p *pack.Problem) { p.Roll.Also[0].Step = 0 },
		`pack: roll "bolt" has a negative measure or price`:             func(p *pack.Problem) { p.Roll.Least = -1 },
		`pack: roll "other" has a negative measure or price`:            func(p *pack.Problem) { p.Roll.Also[0].Price = -1 },
		`pack: roll "bolt" shrinks by 10000 hundredths of a percent`:    func(p *pack.Problem) { p.Roll.Shrinks = 10000 },
	} {
		p := sound()
		change(&p)
		require.EqualError(t, p.Validate(), want)
		_, err := pack.Solve(context.Background(), p, pack.Options{})
		assert.EqualError(t, err, want)
		_, err = pack.Holds(context.Background(), p, pack.Options{})
		assert.EqualError(t, err, want)
	}
	for i, change := range []func(*pack.Rules){
		func(r *pack.Rules) { r.Stages = -1 }, func(r *pack.Rules) { r.Layers = -1 }, func(r *pack.Rules) { r.Ruler = -1 },
	} {
		p := sound()
		change(&p.Rules)
		assert.Error(t, p.Validate(), i)
	}
	p := pack.Problem{}
	for i := range pack.MaxPieces / pack.MaxDemand {
		p.Pieces = append(p.Pieces, pack.Piece{ID: string(rune('A' + i)), W: 1, H: 1, Demand: pack.MaxDemand})
	}
	require.NoError(t, p.Validate())
	p.Pieces = append(p.Pieces, pack.Piece{ID: "one", W: 1, H: 1, Demand: 1})
	assert.EqualError(t, p.Validate(), "pack: more than 10000000 pieces in all")
	_, err := pack.Fill(context.Background(), pack.Problem{Pieces: []pack.Piece{{ID: "A"}}}, pack.Options{})
	assert.EqualError(t, err, `pack: piece "A" measures 0 in x 0 in`)
}

// Of all terms on which a length is sold, the cheapest is told, and the shortest length
// that leaves enough on any: counted up tick by tick.
func TestTermsOfARoll(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	several := 0
	for range 300 {
		roll := pack.Roll{ID: "0", W: units.Yard, Step: units.Length(1 + r.IntN(6)), Price: int64(r.IntN(30)), Per: units.Length(r.IntN(12)), Shrinks: r.IntN(500), Squared: pack.Margins{Bottom: units.Length(r.IntN(3))}}
		if r.IntN(2) == 0 {
			roll.Least, roll.Most = units.Length(r.IntN(10)), units.Length(20+r.IntN(60))
		}
		for i := range r.IntN(3) {
			roll.Also = append(roll.Also, pack.Terms{ID: string(rune('1' + i)), Step: units.Length(1 + r.IntN(6)), Least: units.Length(r.IntN(9)), Most: units.Length(r.IntN(2) * (10 + r.IntN(40))), Price: int64(r.IntN(30)), Per: units.Length(1 + r.IntN(12))})
		}
		sells := func(b pack.Roll, l units.Length) bool {
			return l > 0 && l%b.Step == 0 && l >= b.Least && (b.Most == 0 || l <= b.Most)
		}
		for l := units.Length(1); l < 100; l++ {
			least, sold := int64(0), false
			for _, b := range roll.Bolts() {
				require.Empty(t, b.Also)
				if sells(b, l) && (!sold || b.Cost(l) < least) {
					least, sold = b.Cost(l), true
				}
			}
			i, ok := roll.Sold(l)
			require.Equal(t, sold, ok, "%d of %+v", l, roll)
			if sold {
				require.Equal(t, least, roll.Bolts()[i].Cost(l))
				require.Equal(t, least, roll.Cost(l))
			}
		}
		for usable := units.Length(0); usable < 90; usable += 7 {
			want, any := units.Length(0), false
			for l := units.Length(1); l < 200 && !any; l++ {
				_, h := roll.Usable(l)
				if _, ok := roll.Sold(l); ok && h >= usable {
					want, any = l, true
				}
			}
			got, ok := roll.Length(usable)
			require.Equal(t, any, ok, "%d of %+v", usable, roll)
			require.Equal(t, want, got, "%d of %+v", usable, roll)
		}
		if len(roll.Also) > 0 {
			several++
		}
	}
	assert.Greater(t, several, 100)
}

// A price per no length is none; with one, a length costs its part to the nearest coin.
func TestRollWithoutAPrice(t *testing.T) {
	r := pack.Roll{W: units.Yard, Step: units.Yard / 8, Price: 800}
	assert.Zero(t, r.Cost(units.Yard))
	r.Per = units.Yard
	assert.EqualValues(t, 800, r.Cost(units.Yard))
	assert.EqualValues(t, 833, r.Cost(75*units.Inch/2), "833.33 for 37 1/2 in")
	r.Price, r.Per = 1, 2
	assert.Equal(t, []int64{1, 1, 2, 2}, []int64{r.Cost(1), r.Cost(2), r.Cost(3), r.Cost(4)}, "half a coin is one")
}

// A sheet is asked whether anything at all can still be cut from it.
func TestHoldsAny(t *testing.T) {
	in := units.Inch
	strip := pack.Piece{ID: "strip", W: 2 * in, H: 9 * in}
	small := pack.Piece{ID: "small", W: 3 * in, H: 3 * in}
	turned := strip
	turned.Turn = true
	for _, c := range []struct {
		what   string
		sheet  pack.Sheet
		pieces []pack.Piece
		want   bool
	}{
		{"nothing", pack.Sheet{W: 9 * in, H: 9 * in}, nil, false},
		{"exactly", pack.Sheet{W: 2 * in, H: 9 * in}, []pack.Piece{strip}, true},
		{"by a tick", pack.Sheet{W: 2*in - 1, H: 9 * in}, []pack.Piece{strip}, false},
		{"the other piece", pack.Sheet{W: 3 * in, H: 4 * in}, []pack.Piece{strip, small}, true},
		{"across", pack.Sheet{W: 9 * in, H: 2 * in}, []pack.Piece{strip}, false},
		{"turned", pack.Sheet{W: 9 * in, H: 2 * in}, []pack.Piece{turned}, true},
		{"squared", pack.Sheet{W: 2 * in, H: 9 * in, Squared: pack.Margins{Left: 1}}, []pack.Piece{strip}, false},
		{"squared away", pack.Sheet{W: 2 * in, H: 9 * in, Squared: pack.Margins{Left: in, Right: in}}, []pack.Piece{strip}, false},
		{"a hole in the middle", pack.Sheet{W: 5 * in, H: 5 * in, Bad: []pack.Rect{{X: 2 * in, Y: 2 * in, W: in, H: in}}}, []pack.Piece{small}, false},
		{"a hole beside", pack.Sheet{W: 5 * in, H: 5 * in, Bad: []pack.Rect{{X: 3 * in, Y: 3 * in, W: in, H: in}}}, []pack.Piece{small}, true},
		{"a triangle", pack.Sheet{W: 8 * in, H: 8 * in, Outline: pack.Outline{{X: 0, Y: 0}, {X: 8 * in, Y: 0}, {X: 0, Y: 8 * in}}}, []pack.Piece{small}, true},
		{"a small triangle", pack.Sheet{W: 5 * in, H: 5 * in, Outline: pack.Outline{{X: 0, Y: 0}, {X: 5 * in, Y: 0}, {X: 0, Y: 5 * in}}}, []pack.Piece{small}, false},
	} {
		assert.Equal(t, c.want, c.sheet.HoldsAny(c.pieces), c.what)
	}
}

// Which of two answers is better: what is missing first, then scraps, cost and bound.
func TestBetter(t *testing.T) {
	order := []pack.Solution{
		{Missing: []int{0, 0}, FromScraps: 9, Cost: 100, Bound: 90},
		{Missing: []int{0, 0}, FromScraps: 9, Cost: 100, Bound: 80},
		{Missing: []int{0, 0}, FromScraps: 9, Cost: 200, Bound: 200},
		{Missing: []int{0, 0}, FromScraps: 8, Cost: 50, Bound: 50},
		{Missing: []int{1, 0}, FromScraps: 20, Cost: 10, Bound: 10},
		{Missing: []int{0, 2}, FromScraps: 20, Cost: 1, Bound: 1},
	}
	for i, s := range order {
		for j, u := range order {
			assert.Equal(t, i < j, s.Better(u), "%d and %d", i, j)
		}
	}
}

func TestEffortIsSaid(t *testing.T) {
	assert.Equal(t, []string{"normal", "quick", "thorough"}, []string{pack.Normal.String(), pack.Quick.String(), pack.Thorough.String()})
}

func TestOutlineMoved(t *testing.T) {
	o := pack.Outline{{X: 0, Y: 0}, {X: 4, Y: 1}, {X: 0, Y: 3}}
	m := o.Moved(5, -2)
	assert.Equal(t, pack.Outline{{X: 5, Y: -2}, {X: 9, Y: -1}, {X: 5, Y: 1}}, m)
	assert.Equal(t, pack.Point{}, o[0], "the outline itself stays")
	assert.Equal(t, o.Area(), m.Area())
}
