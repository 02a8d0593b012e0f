package ruin

import "pinfold/pack/internal/model"

// init makes s the empty state of a problem, with nothing outside. Stocks with
// bad regions are not used.
func (s *state) init(pr *model.Problem) {
	var largest int64
	for i, st := range pr.Stocks {
		if len(st.Bad) > 0 || st.Copies == 0 || st.W <= 0 || st.H <= 0 {
			continue
		}
		copies := st.Copies
		if copies == model.Unlimited {
			copies = plenty
		}
		s.kinds = append(s.kinds, kind{int32(st.W), int32(st.H), st.Cost, copies, int32(i)})
		largest = max(largest, st.Area())
	}
	for _, it := range pr.Items {
		s.items = append(s.items, item{int32(it.W), int32(it.H), it.Turn, it.Area(), it.Area(), 0})
	}
	s.stages = int32(pr.Stages)
	s.values = newValues(largest)
	s.outs = make([]int32, len(pr.Items))
}

// plenty is the copies of an unlimited stock.
const plenty = 1 << 30

// fitsSome tells whether the item fits a kind of sheet.
func (s *state) fitsSome(it *item) bool {
	for _, d := range s.kinds {
		if it.w <= d.w && it.h <= d.h || it.turn && it.h <= d.w && it.w <= d.h {
			return true
		}
	}
	return false
}

// solution returns the open sheets, each once.
func (s *state) solution() *model.Solution {
	sol := &model.Solution{}
	for _, i := range s.slots[:s.open] {
		if t := &s.sheets[i]; len(t.nodes) > 0 {
			sol.Add(s.pattern(t), 1)
		}
	}
	return sol
}

// pattern lays the pieces of a sheet out, each group's parts side by side from
// its corner.
func (s *state) pattern(t *sheet) model.Pattern {
	p := model.Pattern{Stock: int(s.kinds[t.kind].stock)}
	var lay func(i int, x, y int32)
	lay = func(i int, x, y int32) {
		g := &t.nodes[i]
		if g.item >= 0 {
			p.Placed = append(p.Placed, model.Placed{Item: g.item, X: x, Y: y, Turned: g.w != s.items[g.item].w})
			return
		}
		end := i + int(g.size)
		for j := i + 1; j < end; j += int(t.nodes[j].size) {
			lay(j, x, y)
			if g.item == groupX {
				x += t.nodes[j].w
			} else {
				y += t.nodes[j].h
			}
		}
	}
	if len(t.nodes) > 0 {
		lay(0, 0, 0)
	}
	return p
}
