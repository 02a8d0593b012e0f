package pack_test

import (
	"fmt"

	"pinfold/pack"
	"pinfold/units"
)

// judge looks at what a solution's cuts leave as rectangles on cloth, and at
// nothing else: it knows no tree. Cuts that differ from those of the solver but
// give what they promise are right in its eyes.
func judge(p pack.Problem, s pack.Solution) error {
	got := make([]int, len(p.Pieces))
	used := make([]int, len(p.Sheets))
	rolls := 0
	for i, l := range s.Layouts {
		if l.Copies < 1 {
			return fmt.Errorf("layout %d: %d copies", i, l.Copies)
		}
		var cloth pack.Sheet
		switch at := l.Stock.Sheet; {
		case at == pack.FromRoll && p.Roll != nil:
			w, h := p.Roll.Usable(l.Stock.Length)
			cloth = pack.Sheet{W: w, H: h}
			if _, sold := p.Roll.Sold(l.Stock.Length); !sold {
				return fmt.Errorf("layout %d: a length nobody sells", i)
			}
			rolls += l.Copies
		case at >= 0 && at < len(p.Sheets):
			cloth = p.Sheets[at]
			used[at] += l.Copies
		default:
			return fmt.Errorf("layout %d: cut from nothing", i)
		}
		if w, h := cloth.Usable(); w != l.W || h != l.H {
			return fmt.Errorf("layout %d: not the cloth's measures", i)
		}
		lying, err := spread(p, l)
		if err != nil {
			return fmt.Errorf("layout %d: %w", i, err)
		}
		for k, a := range lying {
			if err := a.lies(p, cloth, l); err != nil {
				return fmt.Errorf("layout %d: %w", i, err)
			}
			for _, b := range lying[:k] {
				if apart(a.Rect, b.Rect) < p.Rules.Kerf || a.Meets(b.Rect) {
					return fmt.Errorf("layout %d: two lie on each other or within a kerf", i)
				}
			}
			if a.leaf.Leaf == pack.PieceLeaf {
				got[a.leaf.Piece] += l.Copies
			}
		}
	}
	for i, n := range used {
		if most := p.Sheets[i].Copies; most != pack.Unlimited && n > most {
			return fmt.Errorf("sheet %d is used %d times of %d", i, n, most)
		}
	}
	if rolls > 1 {
		return fmt.Errorf("two lengths")
	}
	if len(s.Missing) != len(got) {
		return fmt.Errorf("%d entries of missing", len(s.Missing))
	}
	for i, n := range got {
		if n+s.Missing[i] != p.Pieces[i].Demand || s.Missing[i] < 0 {
			return fmt.Errorf("piece %d: %d of %d, %d missing", i, n, p.Pieces[i].Demand, s.Missing[i])
		}
	}
	return nil
}

// lain is a piece or an offcut where it lies.
type lain struct {
	pack.Rect
	leaf *pack.Node
}

// lies tells what is wrong with where it lies on the cloth, or with what it is.
func (a lain) lies(p pack.Problem, cloth pack.Sheet, l pack.Layout) error {
	for _, b := range cloth.Bad {
		if a.Meets(b) {
			return fmt.Errorf("on a bad area")
		}
	}
	if cloth.Outline != nil && !insideSlowly(cloth.Outline, a.Rect) {
		return fmt.Errorf("out of the outline")
	}
	if a.X < 0 || a.Y < 0 || a.X+a.W > l.W || a.Y+a.H > l.H || a.W < 0 || a.H < 0 {
		return fmt.Errorf("off the cloth")
	}
	if a.leaf.Leaf == pack.OffcutLeaf {
		k := p.Rules.Keep
		if min(a.W, a.H) == 0 || min(a.W, a.H) < min(k.Along, k.Across) || max(a.W, a.H) < max(k.Along, k.Across) {
			return fmt.Errorf("an offcut too small to keep")
		}
		return nil
	}
	if a.leaf.Piece < 0 || a.leaf.Piece >= len(p.Pieces) {
		return fmt.Errorf("no such piece")
	}
	q := p.Pieces[a.leaf.Piece]
	if a.leaf.Turned {
		if !q.Turn {
			return fmt.Errorf("turned")
		}
		q.W, q.H = q.H, q.W
	}
	if a.W != q.W || a.H != q.H {
		return fmt.Errorf("a piece of the wrong size")
	}
	return nil
}

// apart is how far two rectangles are from each other along the axis on which
// they are farther apart, 0 if they meet or touch.
func apart(a, b pack.Rect) units.Length {
	return max(0, a.X-b.X-b.W, b.X-a.X-a.W, a.Y-b.Y-b.H, b.Y-a.Y-a.H)
}

// spread cuts a layout, one cut after the other, always off the lower or left end
// of what is left.
func spread(p pack.Problem, l pack.Layout) ([]lain, error) {
	var out []lain
	var cut func(n *pack.Node, r pack.Rect) error
	cut = func(n *pack.Node, r pack.Rect) error {
		switch {
		case n == nil:
			return fmt.Errorf("a part that is nothing")
		case n.Leaf != pack.NoLeaf && len(n.At)+len(n.Parts) > 0:
			return fmt.Errorf("a leaf that is cut")
		case n.Leaf == pack.PieceLeaf || n.Leaf == pack.OffcutLeaf:
			out = append(out, lain{r, n})
			return nil
		case n.Leaf == pack.WasteLeaf:
			return nil
		case n.Leaf != pack.NoLeaf || n.Axis > pack.Y || len(n.At) == 0 || len(n.Parts) != len(n.At)+1:
			return fmt.Errorf("a cut that is none")
		}
		for i, at := range n.At {
			off, rest := r, r
			if n.Axis == pack.X {
				off.W = at - r.X
				rest.X = min(at+p.Rules.Kerf, r.X+r.W)
				rest.W = r.X + r.W - rest.X
			} else {
				off.H = at - r.Y
				rest.Y = min(at+p.Rules.Kerf, r.Y+r.H)
				rest.H = r.Y + r.H - rest.Y
			}
			if min(off.W, off.H, rest.W, rest.H) < 0 || off.W > r.W || off.H > r.H {
				return fmt.Errorf("a cut beside the cloth")
			}
			if err := cut(n.Parts[i], off); err != nil {
				return err
			}
			r = rest
		}
		return cut(n.Parts[len(n.At)], r)
	}
	err := cut(l.Cuts, pack.Rect{W: l.W, H: l.H})
	return out, err
}
