package reports

import (
	"fmt"
	"strings"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// Fabric is what is told about one fabric.
type Fabric struct {
	Name      string
	Direction plan.Direction
	Tally     []TallyRow
	// Sheets counts the pieces of cloth cut into, Bought those that are paid for.
	Sheets, Bought int
	// Use, Kept and Waste are percents of all cloth cut into, measured before
	// squaring; they add up to 100.
	Use, Kept, Waste float64
	Passes           int    // this fabric cut alone
	Status           string // "proved best", "best found" or "short"
	Standing         string // how good the answer is known to be, as a sentence
	Missing          []string

	layouts int // how many of the report's sheets are this fabric's
}

// TallyRow is one size of one fabric.
type TallyRow struct {
	Letter       string
	Size         units.Size
	Turn         bool
	Count, Spare int
	Missing      int
	Uses         string
	From         []SheetShare
}

// SheetShare is how many pieces each copy of a sheet gives.
type SheetShare struct {
	Sheet, Each, Copies int
}

// Total is how many are to be cut.
func (t TallyRow) Total() int { return t.Count + t.Spare }

// Sheets lists the sheets the pieces come from, and how many each gives:
// "1 (3 x 8), 2 (5)" is 8 from each of the 3 copies of sheet 1 and 5 of sheet 2.
func (t TallyRow) Sheets() string {
	parts := make([]string, len(t.From))
	for i, s := range t.From {
		if s.Copies > 1 {
			parts[i] = fmt.Sprintf("%d (%d x %d)", s.Sheet, s.Copies, s.Each)
		} else {
			parts[i] = fmt.Sprintf("%d (%d)", s.Sheet, s.Each)
		}
	}
	return strings.Join(parts, ", ")
}

func fabric(r *plan.Result, i int, sheets []Sheet) Fabric {
	f := &r.Fabrics[i]
	out := Fabric{
		Name: plain(f.Need.Fabric), Passes: f.Passes,
		Status: f.Solution.Status.String(), Standing: standing(r, f),
		layouts: len(sheets),
	}
	if cloth := r.Plan.Fabric(f.Need.Fabric); cloth != nil {
		out.Direction = cloth.Direction
	}
	out.Tally = tally(f, sheets)
	for _, row := range out.Tally {
		if row.Missing > 0 {
			out.Missing = append(out.Missing, fmt.Sprintf("%s: %d of %d %s (%s) cannot be cut from the cloth there is",
				out.Name, row.Missing, row.Total(), row.Letter, row.Size.Format(r.Plan.Unit)))
		}
	}
	var raw, used, kept units.Area
	for _, s := range sheets {
		out.Sheets += s.Copies
		if !fromStash(f, s.layout.Stock) {
			out.Bought += s.Copies
		}
		n := units.Area(s.Copies)
		raw += n * s.area()
		for _, p := range s.Pieces {
			used += n * units.AreaOf(p.W, p.H)
		}
		for _, o := range s.Offcuts {
			kept += n * units.AreaOf(o.W, o.H)
		}
	}
	if raw > 0 {
		out.Use, out.Kept = percent(used, raw), percent(kept, raw)
		out.Waste = 100 - out.Use - out.Kept
	}
	return out
}

func fromStash(f *plan.FabricResult, s pack.Stock) bool {
	return s.Sheet != pack.FromRoll && f.Stocks[s.Sheet].Stash != nil
}

// tally ties the needs to the problem's pieces, which carry their letters.
func tally(f *plan.FabricResult, sheets []Sheet) []TallyRow {
	missing := map[string]int{}
	for i, p := range f.Problem.Pieces {
		if i < len(f.Solution.Missing) {
			missing[p.ID] = f.Solution.Missing[i]
		}
	}
	var out []TallyRow
	for _, n := range f.Need.Sizes {
		row := TallyRow{Letter: n.ID, Size: n.Size, Turn: n.Turn, Count: n.Count, Spare: n.Spare, Missing: missing[n.ID]}
		uses := make([]string, len(n.Uses))
		for i, u := range n.Uses {
			uses[i] = fmt.Sprintf("%s, %s (%s)", plain(u.Ornament), plain(u.Piece), thousands(int64(u.Count)))
		}
		row.Uses = strings.Join(uses, "; ")
		for _, s := range sheets {
			for _, c := range s.Counts {
				if c.Letter == n.ID {
					row.From = append(row.From, SheetShare{s.Number, c.Count, s.Copies})
				}
			}
		}
		out = append(out, row)
	}
	return out
}

// standing says how good the answer is known to be and by how much another might
// beat it, in the goal alone.
func standing(r *plan.Result, f *plan.FabricResult) string {
	sol := f.Solution
	what := func(v int64) string {
		if f.Priced {
			return money(r.Plan.Money, v)
		}
		return units.Area(v).Format(r.Plan.Unit) + " of cloth"
	}
	switch {
	case sol.Status == pack.Short:
		n := 0
		for _, m := range sol.Missing {
			n += m
		}
		return counted(n, "piece") + " cannot be cut from the cloth there is"
	case sol.Cost == 0:
		return "proved best: nothing has to be bought"
	case sol.Status == pack.Proved:
		s := "proved best: nothing that holds all pieces "
		if f.Priced {
			s += "costs less"
		} else {
			s += "needs less cloth bought"
		}
		if sol.ProvedBy != "" {
			s += " (" + plain(sol.ProvedBy) + ")"
		}
		return s
	}
	gap := sol.Cost - sol.Bound
	return fmt.Sprintf("best found: buys %s; at most %s (%.1f%%) could be saved", what(sol.Cost), what(gap), 100*float64(gap)/float64(sol.Cost))
}
