package reports

import (
	"fmt"
	"slices"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// WayTable is the ways to buy side by side.
type WayTable struct {
	Heads   []string // short names of the ways
	Legends []string // what each means
	Rows    []WayRow
	Totals  []string // "" when a way does not buy everything
}

// WayRow is one fabric bought in every way.
type WayRow struct {
	Fabric string
	Cells  []WayCell
}

// WayCell is one fabric bought one way.
type WayCell struct {
	Cost  string // money or area; "not sold", "short"
	Bound string // "proved", "from $38.81", or ""
	Ask   string
}

func (w shopWords) ways(s *plan.Shop) WayTable {
	var t WayTable
	cuts, byLength := w.names(s)
	heads := map[plan.WayKind][2]string{
		plan.StashFirst:   {"cheapest", "whatever is cheapest, stash first"},
		plan.OnlyCuts:     {"only cuts", "only " + cuts + ", stash first"},
		plan.OnlyLength:   {byLength, "only off the bolt, stash first"},
		plan.WithoutStash: {"no stash", "whatever is cheapest, the stash left alone"},
	}
	for _, way := range s.Ways {
		head := heads[way.Kind]
		t.Heads, t.Legends = append(t.Heads, head[0]), append(t.Legends, head[0]+": "+head[1])
		total := ""
		if way.Complete && way.Price > 0 {
			total = money(w.p.Money, way.Price)
		}
		t.Totals = append(t.Totals, total)
	}
	for i := range s.Result.Fabrics {
		row := WayRow{Fabric: plain(s.Result.Fabrics[i].Need.Fabric)}
		for _, way := range s.Ways {
			row.Cells = append(row.Cells, w.wayCell(way.Answers[i]))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// names says which cuts the plan's fabrics are sold as, and how a length is
// called.
func (w shopWords) names(s *plan.Shop) (cuts, byLength string) {
	var names []string
	byLength = "yardage"
	for i := range s.Result.Fabrics {
		f := &s.Result.Fabrics[i]
		for _, k := range f.Stocks {
			if k.Offer == nil {
				continue
			}
			if n := plural(k.Offer.Name); !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
		metres := func(k plan.StockInfo) bool { return k.Offer.Per == units.Metre }
		if slices.ContainsFunc(f.Bolts, metres) && w.p.Unit == units.Centimetres {
			byLength = "by metre"
		}
	}
	if len(names) == 0 {
		return "sold cuts", byLength
	}
	return list(names), byLength
}

func plural(name string) string {
	if name == "fat quarter" || name == "fat eighth" {
		return name + "s"
	}
	return plain(name)
}

func (w shopWords) wayCell(a plan.WayAnswer) WayCell {
	if !a.Sold {
		return WayCell{Cost: "not sold"}
	}
	f := &a.Cut
	c := WayCell{Ask: asks(shopLines(w.p, a.Purchases))}
	s := f.Solution
	switch {
	case short(f):
		c.Cost = "short"
		return c
	case s.Cost == 0:
		c.Cost = "nothing"
		return c
	}
	worth := w.worth
	if !f.Priced {
		worth = w.wholeArea
	}
	c.Cost = worth(f, s.Cost)
	if s.Status == pack.Proved {
		c.Bound = "proved"
	} else {
		c.Bound = "from " + worth(f, s.Bound)
	}
	return c
}

// shopLines words purchases as lines of a list.
func shopLines(p *plan.Plan, purchases []plan.Purchase) []ShoppingLine {
	return shopping(&plan.Result{Plan: p, Shopping: purchases}).Lines
}

// wholeArea is an area for a narrow column.
func (w shopWords) wholeArea(_ *plan.FabricResult, v int64) string {
	return fmt.Sprintf("%s sq %s", thousands(int64(units.Area(v).In(w.p.Unit)+0.5)), w.p.Unit)
}

// short tells whether pieces are missing.
func short(f *plan.FabricResult) bool { return f.Solution.Status == pack.Short }
