package dp

import "pinfold/pack/internal/model"

// Sheets reads the fillings of a problem's stocks, with and without bad areas,
// from a table.
type Sheets struct {
	pr     *model.Problem
	scraps *Scraps
	table  *Table
	around []*around // of the stocks with bad areas, once solved
	solved []bool
	work   int64
}

// NewSheets prepares for the stocks of a problem.
func NewSheets(pr *model.Problem, scraps *Scraps) *Sheets {
	return &Sheets{pr: pr, scraps: scraps, around: make([]*around, len(pr.Stocks)), solved: make([]bool, len(pr.Stocks))}
}

// Read makes a table the one that is read; it has been solved since it was last.
func (s *Sheets) Read(t *Table) {
	s.table = t
	clear(s.solved)
	s.work = 0
}

// Work is what reading has taken since Read, in units of about a microsecond.
func (s *Sheets) Work() int64 { return s.work }

// regions returns the solved regions of a stock with bad areas, nil for a stock
// without, or with a stage limit.
func (s *Sheets) regions(stock int) *around {
	scrap := s.scraps.Of(stock)
	if scrap == nil {
		return nil
	}
	a := s.around[stock]
	if a == nil {
		a = &around{}
		s.around[stock] = a
		s.work += scrap.work
	}
	if !s.solved[stock] {
		s.solved[stock] = true
		a.solve(scrap, plain{grid: s.table.grid, best: s.table.best})
		s.work += a.work
	}
	return a
}

// Value is what the best filling known of a stock's sheet is worth; with a stage
// limit, as if nothing were bad.
func (s *Sheets) Value(stock int) int64 {
	if a := s.regions(stock); a != nil {
		return a.value[a.whole()]
	}
	st := s.pr.Stocks[stock]
	return s.table.Value(st.W, st.H)
}

// Most bounds the value of every filling of a stock's sheet, if the table bounds
// its rectangles.
func (s *Sheets) Most(stock int) int64 {
	if a := s.regions(stock); a != nil && a.s.full {
		return a.value[a.whole()]
	}
	st := s.pr.Stocks[stock]
	return s.table.Value(st.W, st.H)
}

// Pattern is [Table.Pattern] for a stock's sheet.
func (s *Sheets) Pattern(stock int) []model.Placed {
	st := s.pr.Stocks[stock]
	a := s.regions(stock)
	if a == nil {
		return Clear(s.table.Pattern(st.W, st.H), s.pr.Items, st.Bad)
	}
	r := recovery{Table: s.table}
	a.used(r.sheet)
	return r.placed
}

// Capped is [Table.Capped] for a stock's sheet.
func (s *Sheets) Capped(stock int, left []int) []model.Placed {
	st := s.pr.Stocks[stock]
	a := s.regions(stock)
	if a == nil {
		return Clear(s.table.Capped(st.W, st.H, left), s.pr.Items, st.Bad)
	}
	r := recovery{Table: s.table, left: append([]int(nil), left...)}
	a.used(r.sheet)
	r.refillAll()
	return r.placed
}
