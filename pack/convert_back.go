package pack

import (
	"fmt"

	"pinfold/pack/internal/model"
	"pinfold/units"
)

// usable returns the measures of the sheet behind a stock.
func (s *scaled) usable(st Stock) (w, h units.Length) {
	if st.Sheet == FromRoll {
		return s.problem.Roll.Usable(st.Length)
	}
	return s.problem.Sheets[st.Sheet].Usable()
}

// solution converts what an engine found: the copies of each pattern are shared
// out among the pieces behind each item, surplus pieces left out, and equal
// layouts gathered.
func (s *scaled) solution(m *model.Solution) (Solution, error) {
	out := Solution{Missing: make([]int, len(s.problem.Pieces))}
	for i, q := range s.problem.Pieces {
		out.Missing[i] = q.Demand
	}
	for i, pat := range m.Patterns {
		for left := m.Copies[i]; left > 0; {
			placed, n := s.assign(pat, left, out.Missing)
			l, err := s.layout(pat.Stock, placed)
			if err != nil {
				return Solution{}, err
			}
			l.Copies = n
			out.Layouts = append(out.Layouts, l)
			left -= n
		}
	}
	return out, nil
}

// assigned is a placed item with the piece it becomes; piece -1 is left out.
type assigned struct {
	model.Placed
	piece   int
	flipped bool
}

func (a assigned) turned() bool { return a.Turned != a.flipped }

// assign gives each place of pat a piece that is still missing, and returns for
// how many of the copies the same assignment holds; missing is lowered.
func (s *scaled) assign(pat model.Pattern, copies int, missing []int) ([]assigned, int) {
	out := make([]assigned, len(pat.Placed))
	used := map[int]int{}
	for i, q := range pat.Placed {
		out[i] = assigned{Placed: q, piece: -1}
		for _, m := range s.members[q.Item] {
			if missing[m.piece] > used[m.piece] {
				out[i].piece, out[i].flipped = m.piece, m.flipped
				used[m.piece]++
				break
			}
		}
	}
	times := copies
	for piece, n := range used {
		times = min(times, missing[piece]/n)
	}
	for piece, n := range used {
		missing[piece] -= times * n
	}
	return out, times
}

// layout builds the cut tree of one sheet in the problem's own lengths, where
// what rounding the stock down took away is there again.
func (s *scaled) layout(stock int, placed []assigned) (Layout, error) {
	k := s.problem.Rules.Kerf
	kept := make([]assigned, 0, len(placed))
	var boxes []model.Rect
	for _, a := range placed {
		if a.piece < 0 {
			continue
		}
		kept = append(kept, a)
		q := s.problem.Pieces[a.piece]
		w, h := q.W, q.H
		if a.turned() {
			w, h = h, w
		}
		boxes = append(boxes, model.Rect{
			X: int(units.Length(a.X) * s.gx), Y: int(units.Length(a.Y) * s.gy),
			W: int(w + k), H: int(h + k),
		})
	}
	l := Layout{Stock: s.stocks[stock], Copies: 1}
	l.W, l.H = s.usable(l.Stock)
	var sheet Sheet
	if l.Stock.Sheet != FromRoll {
		sheet = s.problem.Sheets[l.Stock.Sheet]
	}
	fixed := len(sheet.Bad) > 0 || sheet.Outline != nil
	tree, err := model.Cut(int(l.W+k), int(l.H+k), s.problem.Rules.Stages, int(k), boxes, fixed)
	if err != nil {
		return Layout{}, fmt.Errorf("pack: an engine made a layout that cannot be cut: %w", err)
	}
	l.Cuts = s.problem.tree(tree, Rect{0, 0, l.W, l.H}, sheet, func(i int, _ Rect) *Node {
		return &Node{Leaf: PieceLeaf, Piece: kept[i].piece, Turned: kept[i].turned()}
	})
	return l, nil
}

// tree writes an engine's cut tree down at r, the parts of which are shorter than
// the engine's by the kerf; box makes the node for the i-th box.
func (p Problem) tree(t *model.Tree, r Rect, sheet Sheet, box func(i int, r Rect) *Node) *Node {
	switch {
	case t.Empty():
		return p.Rules.left(r, sheet)
	case t.Leaf:
		return box(t.Piece, r)
	}
	n := &Node{Axis: Axis(t.Axis)}
	k := p.Rules.Kerf
	at, _ := r.span(n.Axis)
	for _, length := range t.Len[:len(t.Len)-1] {
		at += units.Length(length)
		n.At = append(n.At, at-k)
	}
	for i, part := range t.Parts {
		n.Parts = append(n.Parts, p.tree(part, n.part(i, r, k), sheet, box))
	}
	return n
}

// left is the leaf for an empty region of a sheet: an offcut if it is worth keeping.
func (t Rules) left(r Rect, sheet Sheet) *Node {
	if keeps(t.Keep, r) && sheet.Sound(r) {
		return &Node{Leaf: OffcutLeaf}
	}
	return &Node{Leaf: WasteLeaf}
}

// keeps tells whether r is at least the size keep, lying either way.
func keeps(keep units.Size, r Rect) bool {
	if r.W <= 0 || r.H <= 0 {
		return false
	}
	return r.H >= keep.Along && r.W >= keep.Across || r.W >= keep.Along && r.H >= keep.Across
}
