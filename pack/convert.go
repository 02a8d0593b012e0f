package pack

import (
	"fmt"
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/units"
)

// scaled is a problem as the engines see it, with the way back. Every piece
// and every stock is grown by the kerf, so that the kerf can be forgotten:
// n pieces and n-1 kerfs fit a side exactly when n grown pieces fit the grown
// side. Then each axis is divided by the common divisor of the sizes along it;
// stock is rounded down, which loses nothing since only sums of sizes matter.
type scaled struct {
	problem Problem
	model   model.Problem
	// loose is the model with less taken off for bad areas and outlines, such that
	// every true layout is one of its own, where the model allows fewer; nil where
	// the two are the same.
	loose   *model.Problem
	slack   [][]model.Rect // what is bad of each stock in loose
	rough   bool           // whether any differs
	gx, gy  units.Length
	members [][]member // the pieces behind each item
	stocks  []Stock    // the stock behind each of model.Stocks
}

// member is a piece that an item stands for; flipped members have their W where
// the item has its H.
type member struct {
	piece   int
	flipped bool
}

// newScaled converts p without its roll; each of lengths becomes a stock of one
// copy with the roll's cost for it. Sheets with no usable area and pieces
// without demand are left out.
func newScaled(p Problem, lengths []units.Length) (*scaled, error) {
	s := &scaled{problem: p}
	s.divisors()
	if err := s.items(); err != nil {
		return nil, err
	}
	for i, sh := range p.Sheets {
		w, h := sh.Usable()
		cost := int64(0)
		if !sh.Free {
			cost = p.cost(sh.Price, sh.Area())
		}
		if err := s.stock(Stock{Sheet: i}, w, h, sh.Copies, cost, sh.Bad, sh.Outline); err != nil {
			return nil, err
		}
	}
	return s.bought(lengths)
}

// bought returns the same with more lengths off the roll as stocks. What was worked
// out of the sheets is not worked out again: outlines on a fine grid take their time.
func (s *scaled) bought(lengths []units.Length) (*scaled, error) {
	c := *s
	c.model.Items, c.model.Stocks = slices.Clone(s.model.Items), slices.Clone(s.model.Stocks)
	c.stocks, c.slack = slices.Clone(s.stocks), slices.Clone(s.slack)
	for _, l := range lengths {
		w, h := s.problem.Roll.Usable(l)
		if err := c.stock(Stock{Sheet: FromRoll, Length: l}, w, h, 1, s.problem.lengthCost(l), nil, nil); err != nil {
			return nil, err
		}
	}
	c.loosen()
	return &c, nil
}

// loosen makes the loose model, if it differs.
func (s *scaled) loosen() {
	if !s.rough {
		return
	}
	loose := s.model
	loose.Stocks = slices.Clone(loose.Stocks)
	for i := range loose.Stocks {
		loose.Stocks[i].Bad = s.slack[i]
	}
	s.loose = &loose
}

// limits is the model whose bounds hold for every true layout.
func (s *scaled) limits() *model.Problem {
	if s.loose != nil {
		return s.loose
	}
	return &s.model
}

func (s *scaled) items() error {
	k := s.problem.Rules.Kerf
	type key struct {
		w, h int
		turn bool
		val  int64
	}
	at := map[key]int{}
	for i, q := range s.problem.Pieces {
		if q.Demand == 0 {
			continue
		}
		w, h := int((q.W+k)/s.gx), int((q.H+k)/s.gy)
		turn := q.Turn && q.W != q.H
		flipped := turn && w < h
		if flipped {
			w, h = h, w
		}
		value := q.Value
		if value == 0 {
			value = int64(units.AreaOf(q.W, q.H))
		}
		it, ok := at[key{w, h, turn, value}]
		if !ok {
			it = len(s.model.Items)
			at[key{w, h, turn, value}] = it
			s.model.Items = append(s.model.Items, model.Item{W: w, H: h, Turn: turn, Value: value})
			s.members = append(s.members, nil)
		}
		s.model.Items[it].Demand += q.Demand
		s.members[it] = append(s.members[it], member{i, flipped})
	}
	s.model.Stages = s.problem.Rules.Stages
	return nil
}

func (s *scaled) stock(from Stock, w, h units.Length, copies int, cost int64, bad []Rect, outline Outline) error {
	if w <= 0 || h <= 0 || copies == 0 {
		return nil
	}
	k := s.problem.Rules.Kerf
	st := model.Stock{W: int((w + k) / s.gx), H: int((h + k) / s.gy), Copies: copies, Cost: cost}
	if st.W > 1<<30 || st.H > 1<<30 {
		return fmt.Errorf("pack: a sheet of %v x %v is too large", h, w)
	}
	if st.W == 0 || st.H == 0 {
		return nil
	}
	var slack []model.Rect
	for _, b := range bad {
		x, looseX := stretch(b.X, b.X+b.W, w, k, s.gx, st.W)
		y, looseY := stretch(b.Y, b.Y+b.H, h, k, s.gy, st.H)
		st.Bad = appendRect(st.Bad, x, y)
		slack = appendRect(slack, looseX, looseY)
		s.rough = s.rough || x != looseX || y != looseY
	}
	if outline != nil && len(s.model.Items) > 0 {
		tight, open, same := grid{s.gx, s.gy, units.Length(st.W), units.Length(st.H)}.steps(outline, k)
		st.Bad, slack = append(st.Bad, tight...), append(slack, open...)
		s.rough = s.rough || !same
	}
	s.slack = append(s.slack, slack)
	s.model.Stocks = append(s.model.Stocks, st)
	s.stocks = append(s.stocks, from)
	return nil
}

// stretch brings a bad stretch of a side to cells, n on it. Tight, whatever keeps
// off it keeps off the stretch, with room for a kerf behind it. Loose, it is as far
// as pieces reach from below and from above once all are moved down onto the grid.
func stretch(from, to, side, kerf, cell units.Length, n int) (tight, loose span) {
	most := units.Length(n)
	from = max(from, 0)
	tight = span{from / cell, min(ceilLength(to+kerf, cell), most)}
	loose = span{min((from+kerf)/cell, most), min(to/cell, most)}
	if from == 0 {
		loose.from = 0
	}
	if to >= side {
		loose.to = most
	}
	return tight, loose
}

func appendRect(list []model.Rect, x, y span) []model.Rect {
	if x.from >= x.to || y.from >= y.to {
		return list
	}
	return append(list, model.Rect{X: int(x.from), Y: int(y.from), W: int(x.to - x.from), H: int(y.to - y.from)})
}
