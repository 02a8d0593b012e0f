package plan

import (
	"context"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// Comparison holds what one plan comes to under each preference.
type Comparison struct {
	Plan *Plan
	// Rows are in the order of the preferences. All are made of the same solution,
	// before any preference had a say.
	Rows []Compared
	// Singly is how many passes the layouts of [Thrift] take cut one sheet and one
	// cut at a time.
	Singly int
	// Unpriced names the fabrics that count under no money.
	Unpriced []string
}

// Compared is the plan under one preference.
type Compared struct {
	Prefer Preference
	Result *Result
	Price  int64 // of all priced fabrics
	// Bought and Hand are the cloth paid for and the stash that is cut, whole
	// pieces; Kept is the area of the offcuts worth keeping.
	Bought, Hand, Kept units.Area
	Passes, Seconds    int
}

// defaultPace is the seconds one pass takes when the plan does not say: to lay the
// ruler, cut, and move on (common practice, no source).
const defaultPace = 20

// Seconds is the time that a number of passes takes by the plan's rule of thumb.
func (c Cutting) Seconds(passes int) int {
	if c.Pace == 0 {
		return passes * defaultPace
	}
	return passes * c.Pace
}

// Compare solves the plan once and lays it out by each preference. Errors are those
// of [Solve].
func Compare(ctx context.Context, p *Plan, o Options) (*Comparison, error) {
	base, err := solve(ctx, p, o)
	if err != nil {
		return nil, err
	}
	out := &Comparison{Plan: p}
	for prefer := Thrift; prefer <= Balanced; prefer++ {
		r, err := base.preferring(ctx, prefer, o)
		if err != nil {
			return nil, err
		}
		out.Rows = append(out.Rows, compared(prefer, r))
		if prefer != Thrift {
			continue
		}
		for _, f := range r.Fabrics {
			out.Singly += f.Problem.Singly(f.Solution.Layouts)
			if !f.Priced {
				out.Unpriced = append(out.Unpriced, f.Need.Fabric)
			}
		}
	}
	return out, nil
}

// preferring returns the result laid out by a preference; r stays as it is.
func (r *Result) preferring(ctx context.Context, prefer Preference, o Options) (*Result, error) {
	out := *r
	p := *r.Plan
	p.Cutting.Prefer = prefer
	out.Plan = &p
	out.Fabrics = slices.Clone(r.Fabrics)
	if err := out.tidy(ctx, o); err != nil {
		return nil, err
	}
	out.list(ctx)
	return &out, nil
}

func compared(prefer Preference, r *Result) Compared {
	c := Compared{Prefer: prefer, Result: r, Passes: r.Passes, Seconds: r.Plan.Cutting.Seconds(r.Passes)}
	for _, f := range r.Fabrics {
		if f.Priced {
			c.Price += f.Solution.Price
		}
		c.Bought += f.Solution.Area
		for _, l := range f.Solution.Layouts {
			for _, left := range l.Offcuts(f.Problem.Rules.Kerf) {
				c.Kept += units.Area(l.Copies) * units.AreaOf(left.W, left.H)
			}
			if l.Stock.Sheet == pack.FromRoll || l.Cuts.Leaf != pack.NoLeaf {
				continue
			}
			if sh := f.Problem.Sheets[l.Stock.Sheet]; sh.Free {
				c.Hand += units.Area(l.Copies) * sh.Area()
			}
		}
	}
	return c
}
