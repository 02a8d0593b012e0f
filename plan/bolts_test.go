package plan

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

const twoBolts = `ornaments:
  star: {ball: 3, pieces: [{name: centre, size: 3 x 40, count: COUNT, role: ground}]}
make: [{ornament: star, count: 1, colourway: {ground: navy dot}}]
fabrics:
  navy dot:
    direction: one-way
    bolt: {width: 44, usable: 40}
    buy: [OFFERS]
cutting: {squaring: 0}
`

// Strips from side to side, 3 in each: the length needed is plain, and so is the
// offer that sells it for less.
func TestTheRightOfferIsNamed(t *testing.T) {
	eighth := units.Yard / 8
	for _, c := range []struct {
		name, count, offers string
		offer               int
		length              units.Length
		price               int64
	}{
		// 15 in: half a yard, for 5.00 or 5.50.
		{"the cheapest", "5", "{yard: 10, step: 1/8 yd}, {yard: 11, step: 1/8 yd}", 0, 4 * eighth, 500},
		{"in any order", "5", "{yard: 11, step: 1/8 yd}, {yard: 10, step: 1/8 yd}", 1, 4 * eighth, 500},
		// 21 in: 1 yd for 10.00 or 5/8 yd for 6.88.
		{"finer step", "7", "{yard: 10, step: 1/2 yd}, {yard: 11, step: 1/8 yd}", 1, 5 * eighth, 688},
		{"smaller least cut", "3", "{yard: 10, least: 1 yd}, {yard: 14}", 1, 2 * eighth, 350},
		// 39 in: 9/8 yd; the cheap one has one yard left.
		{"too little available", "13", "{yard: 10, most: 1 yd}, {yard: 14}", 1, 9 * eighth, 1575},
		// 15 in are 38.1 cm: 40 cm for 4.60 or 1/2 yd for 5.50.
		{"yard or metre", "5", "{yard: 11}, {metre: 11.50, step: 10 cm}", 1, 40 * units.Centimetre, 460},
		// Three of the strips from a cut for 2.00, the rest from 1/4 yd: 1/2 yd is 5.00 alone.
		{"with cuts", "5", "{yard: 11}, {cut: 2, name: end of bolt, size: 9 x 40, available: 1}, {yard: 10, least: 1/2 yd}", 0, 2 * eighth, 475},
		{"without prices", "7", "{yard: , step: 1/2 yd}, {yard: , step: 1/8 yd}", 1, 5 * eighth, -1},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := Parse("plan.yaml", []byte(strings.NewReplacer("COUNT", c.count, "OFFERS", c.offers).Replace(twoBolts)), nil)
			require.NoError(t, err)
			assert.Empty(t, p.Warnings)
			s, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick})
			require.NoError(t, err)
			checked(t, s)
			f := s.Result.Fabrics[0]
			assert.Equal(t, pack.Proved, f.Solution.Status)
			last := s.Result.Shopping[len(s.Result.Shopping)-1]
			assert.Equal(t, p.Fabrics[0].Buy[c.offer], last.Offer)
			assert.Equal(t, c.length, last.Length)
			assert.Equal(t, last.Offer, *f.Bolt(c.length))
			if c.price < 0 {
				assert.Nil(t, last.Price)
			} else {
				assert.Equal(t, c.price, s.Price)
			}
			// No alternative takes a length that its offer does not sell, or at
			// another price than the offer's.
			for _, ch := range []*Choice{s.Counters[0].Cheaper, s.Counters[0].Safer} {
				if ch == nil {
					continue
				}
				for _, b := range ch.Purchases {
					if b.Length == 0 {
						continue
					}
					assert.Zero(t, b.Length%b.Offer.Step)
					assert.GreaterOrEqual(t, b.Length, b.Offer.Least)
					assert.True(t, b.Offer.Most == 0 || b.Length <= b.Offer.Most)
					if b.Price != nil {
						assert.InDelta(t, float64(*b.Offer.Price)*float64(b.Length)/float64(b.Offer.Per), float64(*b.Price), 0.5)
					}
				}
			}
		})
	}
}

// What holds down to which width is told of the offer that is bought.
func TestHoldsNameTheBolt(t *testing.T) {
	text := strings.NewReplacer("COUNT", "7", "OFFERS", "{yard: 10, step: 1/2 yd}, {yard: 11, step: 1/8 yd}").Replace(twoBolts)
	p, err := Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	s, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	require.Len(t, s.Counters[0].Holds, 1)
	assert.Equal(t, p.Fabrics[0].Buy[1], s.Counters[0].Holds[0].Offer)
}
