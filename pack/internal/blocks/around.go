package blocks

import (
	"slices"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
)

// around fills a sheet with bad areas: by prices over its regions, by trying all
// contents if that is little work, and by the layouts of the same sheet without
// bad areas, less the pieces that lie on them.
type around struct {
	f       *FillSearch
	bad     []model.Rect
	regions *regions
	prices  *prices
	plain   *FillSearch
	stage   aroundStage
}

type aroundStage uint8

const (
	aroundFirst aroundStage = iota
	aroundPrices
	aroundContents
	aroundPlain
)

var aroundPace = pace{0.03, 0.001, 40}

func newAround(f *FillSearch, bad []model.Rect) *around {
	a := &around{f: f, bad: bad}
	a.regions = newRegions(f.s, f.relax, bad)
	a.prices = newPrices(a.regions, f.s.demand, f.value, f.counted, false, f.bound)
	a.prices.pace = aroundPace
	a.prices.aim = aroundPace.first
	f.unpaid = int64(len(a.regions.list))*4 + int64(f.s.w+f.s.h)
	return a
}

func (a *around) work(steps int64) {
	f := a.f
	switch a.stage {
	case aroundFirst:
		f.offerOver(nil)
		if f.s.pr.Stages > 0 {
			f.offer(dp.Clear(f.staged(), f.s.pr.Items, a.bad))
		}
		a.stage = aroundPrices
	case aroundPrices:
		// The value the prices aim above is one that may be found.
		f.steps += 1 + 2*a.prices.run(steps/2+1, f.worth, f.offerOver)
		if a.regions.full && a.prices.bound >= 0 {
			f.lower(a.prices.bound/a.prices.scale, "priced copies")
		}
		if a.prices.done {
			a.stage = aroundContents
		}
	case aroundContents:
		if a.regions.full && f.s.pr.Stages == 0 {
			c := newContents(a.regions, f.s.demand)
			placed, value, ok := c.best(f.value)
			f.steps += c.steps
			if ok {
				f.offer(placed)
				f.lower(max(value, f.worth), "every content")
			}
		}
		a.stage = aroundPlain
		clean := *f.s.pr
		clean.Stocks = slices.Clone(clean.Stocks)
		clean.Stocks[f.s.stock].Bad = nil
		a.plain = NewFill(&clean, FillOptions{Stock: f.s.stock})
	case aroundPlain:
		spent, more := a.plain.Run(max(1, steps/stepsPerUnit))
		f.steps += spent*stepsPerUnit + 1
		f.lower(a.plain.bound, a.plain.by)
		f.offerOver(dp.Clear(slices.Clone(a.plain.best.Placed), f.s.pr.Items, a.bad))
		if !more {
			f.phase = finished
		}
	}
}
