package plan

import (
	"context"

	"pinfold/pack"
	"pinfold/units"
)

// SpareCount is how many pieces of one size may be cut wrong before one is
// missing.
type SpareCount struct {
	ID   string
	Size units.Size
	// Planned are the plan's own spares. Left more come out of what the layouts
	// leave, this size alone, each remainder cut in rows; so they are there even
	// once everything is cut. Room is how many more of this size alone can be cut
	// when it is planned before the first cut, as far as one was looked for.
	Planned, Left, Room int
}

// spare counts what the layouts of f leave for each size.
func (f *FabricResult) spare() []SpareCount {
	out := make([]SpareCount, len(f.Need.Sizes))
	for i, n := range f.Need.Sizes {
		out[i] = SpareCount{ID: n.ID, Size: n.Size, Planned: n.Spare}
		for _, l := range f.Solution.Layouts {
			out[i].Left += l.Copies * f.rests(l, n)
		}
		if i < len(f.Solution.Missing) {
			out[i].Planned = max(0, out[i].Planned-f.Solution.Missing[i])
		}
		out[i].Room = out[i].Left
	}
	return out
}

// rests counts the pieces of one size that fit the parts a layout leaves, those
// with bad areas or an outer edge in them left out.
func (f *FabricResult) rests(l pack.Layout, n Need) int {
	kerf, count := f.Problem.Rules.Kerf, 0
	var sheet pack.Sheet
	if l.Stock.Sheet != pack.FromRoll {
		sheet = f.Problem.Sheets[l.Stock.Sheet]
	}
	l.Walk(kerf, func(leaf *pack.Node, r pack.Rect) {
		if leaf.Leaf == pack.PieceLeaf || !sheet.Sound(r) {
			return
		}
		got := inRows(r.W, r.H, n.Size.Across, n.Size.Along, n.Turn, kerf)
		if n.Turn {
			got = max(got, inRows(r.W, r.H, n.Size.Along, n.Size.Across, true, kerf))
		}
		count += got
	})
	return count
}

// inRows is how many w x h pieces a rectangle holds in a grid, with turned ones
// in the strips beside and above it.
func inRows(W, H, w, h units.Length, turn bool, kerf units.Length) int {
	grid := func(W, H, w, h units.Length) int {
		if W < w || H < h {
			return 0
		}
		return int((W+kerf)/(w+kerf)) * int((H+kerf)/(h+kerf))
	}
	n := grid(W, H, w, h)
	if !turn || n == 0 {
		return n
	}
	// What lies beside the grid, at full height; and above it, at full width.
	beside, above := (W+kerf)%(w+kerf)-kerf, (H+kerf)%(h+kerf)-kerf
	return n + max(grid(beside, H, h, w), grid(W, above, h, w))
}

// mostRooms bounds the trials for the room of one size.
const mostRooms = 4

// room looks for how many more pieces of each size a basket holds if they are
// planned for, above what is left anyway. counts are those of the needs, which
// are the problem's pieces in order. There are many to ask for, so each gets
// little effort, however much the rest gets.
func (t *trials) room(ctx context.Context, b basket, counts []SpareCount) error {
	little := *t
	little.o.Effort = pack.Quick
	p := t.sunk(b, nil)
	over := t.cloth(b) + t.home - t.all
	total := 0
	for _, q := range p.Pieces {
		total += q.Demand
	}
	for i := range counts {
		c := &counts[i]
		low, high := c.Left, c.Left
		if over > 0 {
			high = int(over / units.AreaOf(t.p.Pieces[i].W, t.p.Pieces[i].H))
			// No more than can be asked for.
			high = max(low, min(high, pack.MaxDemand-p.Pieces[i].Demand, pack.MaxPieces-total))
		}
		for n := 0; low < high && n < mostRooms && ctx.Err() == nil; n++ {
			mid := (low + high + 1) / 2
			q := p
			q.Pieces = append([]pack.Piece{}, p.Pieces...)
			q.Pieces[i].Demand += mid
			if q.Countable() != nil {
				high = mid - 1
				continue
			}
			h, err := little.enough(ctx, q, roomShare)
			if err != nil {
				return err
			}
			if h.Verdict == pack.Enough {
				low = mid
			} else {
				high = mid - 1
			}
		}
		c.Room = low
	}
	return nil
}
