package pack

import (
	"fmt"
	"math"

	"pinfold/units"
)

// What may be added up, in square ticks and in the smallest coin, so that no sum
// passes what an int64 holds: about 1.4 square kilometres of pieces, and 20 of cloth.
const (
	mostPieces = mostWorth
	mostCloth  = 1 << 61
	mostPrice  = 1 << 61
)

// Countable tells what is wrong with a problem that is too large to be reckoned with:
// its pieces, or the cloth or the money that plans for it may come to, add up to more
// than is counted.
func (p Problem) Countable() error {
	var copies, pieces, cloth, roll, price float64
	for _, q := range p.Pieces {
		copies += float64(q.Demand)
		pieces += float64(q.Demand) * float64(q.W) * float64(q.H)
	}
	for _, s := range p.Sheets {
		n := float64(s.Copies)
		if s.Copies == Unlimited {
			n = copies
		}
		cloth += n * float64(s.W) * float64(s.H)
		price += n * float64(s.Price)
	}
	if p.Roll != nil {
		for _, r := range p.Roll.Bolts() {
			most := r.Most
			if most == 0 {
				most = units.MaxLength
			}
			roll = max(roll, float64(r.W)*float64(most)) // one length is taken
			price += float64(r.Price) * float64(most) / math.Max(float64(r.Per), 1)
		}
	}
	cloth += roll
	switch {
	case pieces > mostPieces:
		return fmt.Errorf("pack: the pieces measure %.0f square kilometres in all, too many to count", squareKilometres(pieces))
	case cloth > mostCloth:
		return fmt.Errorf("pack: the cloth measures %.0f square kilometres in all, too many to count", squareKilometres(cloth))
	case price > mostPrice:
		return fmt.Errorf("pack: the cloth costs %.0f in all, too much to count", price)
	}
	return nil
}

func squareKilometres(area float64) float64 {
	kilometre := 1000 * float64(units.Metre)
	return area / kilometre / kilometre
}
