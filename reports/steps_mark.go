package reports

import (
	"slices"

	"pinfold/pack"
)

// mark tells every sheet which steps touch it, where their cuts lie, and how the
// parts are called that are cut further.
func (s *stepper) mark() {
	levels := map[*pack.Node]int{}
	var walk func(n *pack.Node, level int)
	walk = func(n *pack.Node, level int) {
		if n.Leaf == pack.NoLeaf {
			levels[n] = level
			for _, p := range n.Parts {
				walk(p, level+1)
			}
		}
	}
	for i := range s.rep.Sheets {
		walk(s.rep.Sheets[i].layout.Cuts, 0)
	}
	for i, j := range s.jobs {
		for _, l := range j.Lots {
			sh := s.sheet(l)
			if n := len(sh.Steps); n == 0 || sh.Steps[n-1] != i+1 {
				sh.Steps = append(sh.Steps, i+1)
			}
			if j.Square {
				sh.squaring = append(sh.squaring, i+1)
				sh.squareLines(s.rep.Steps[i])
				continue
			}
			if s.root(l) && !slices.Contains(sh.whole, i+1) {
				sh.whole = append(sh.whole, i+1)
			}
			if !s.root(l) && (l.From == 0 || s.refs[i].letter != "") {
				sh.Parts = append(sh.Parts, PartMark{s.refs[i].letter, i + 1, levels[l.Node], l.Rect})
			}
			for p := l.From; p < l.From+j.Cuts; p++ {
				_, r := s.part(l, p)
				line := Line{r.X + r.W, r.Y, r.X + r.W, r.Y + r.H}
				if j.Axis == pack.Y {
					line = Line{r.X, r.Y + r.H, r.X + r.W, r.Y + r.H}
				}
				sh.Lines = append(sh.Lines, CutLine{i + 1, line})
			}
		}
	}
}

// squareLines marks the edges that a step makes straight.
func (sh *Sheet) squareLines(st Step) {
	for _, t := range st.Trims {
		line := Line{0, 0, 0, sh.H}
		switch t.Side {
		case Right:
			line = Line{sh.W, 0, sh.W, sh.H}
		case Bottom:
			line = Line{0, 0, sh.W, 0}
		case Top:
			line = Line{0, sh.H, sh.W, sh.H}
		}
		sh.Lines = append(sh.Lines, CutLine{st.Number, line})
	}
}
