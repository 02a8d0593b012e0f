package reports

import (
	"slices"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// cutting is a region of a layout, from the first of its cuts not yet made.
type cutting struct {
	cloth, layout int
	node          *pack.Node
	from          int
}

func cuttingOf(l pack.Lot) cutting { return cutting{l.Cloth, l.Layout, l.Node, l.From} }

// maker is the job that makes a region.
type maker struct {
	job  int
	rest bool // it is what the job leaves, not what comes off
}

// stepper turns the jobs of a session into steps.
type stepper struct {
	r      *plan.Result
	rep    *Report
	jobs   []pack.Job
	sheets [][]int // of each fabric's layouts: the index of its sheet
	cutBy  map[cutting]int
	madeBy map[cutting]maker
	refs   []ref
}

// steps works out the steps of the session and marks them on the sheets.
func (rep *Report) steps(r *plan.Result, sheets [][]int) {
	s := stepper{r: r, rep: rep, jobs: slices.Clone(r.Session.Jobs), sheets: sheets}
	bench := s.clothsFirst()
	s.trace()
	s.call()
	for i := range s.jobs {
		rep.Steps = append(rep.Steps, s.step(i, bench[i]))
	}
	s.mark()
	for i := range rep.Steps {
		rep.Steps[i].say()
	}
}

func (s *stepper) sheet(l pack.Lot) *Sheet { return &s.rep.Sheets[s.sheets[l.Cloth][l.Layout]] }

// part is the i-th part of the lot's node, where it lies.
func (s *stepper) part(l pack.Lot, i int) (cutting, pack.Rect) {
	c := cutting{l.Cloth, l.Layout, l.Node.Parts[i], 0}
	return c, region{l.Node, l.Rect}.part(i, s.sheet(l).kerf)
}

// rest is what a job leaves of its lot.
func (s *stepper) rest(j pack.Job, l pack.Lot) (cutting, pack.Rect) {
	end := l.From + j.Cuts
	if end == len(l.Node.At) {
		return s.part(l, end)
	}
	_, r := s.part(l, end)
	if l.Node.Axis == pack.X {
		r.W = l.Rect.X + l.Rect.W - r.X
	} else {
		r.H = l.Rect.Y + l.Rect.H - r.Y
	}
	return cutting{l.Cloth, l.Layout, l.Node, end}, r
}

// trace finds for every region the jobs that make it and cut it.
func (s *stepper) trace() {
	s.cutBy, s.madeBy = map[cutting]int{}, map[cutting]maker{}
	for i, j := range s.jobs {
		for _, l := range j.Lots {
			if j.Square {
				s.madeBy[cuttingOf(l)] = maker{i, true}
				continue
			}
			s.cutBy[cuttingOf(l)] = i
			for p := l.From; p < l.From+j.Cuts; p++ {
				c, _ := s.part(l, p)
				s.madeBy[c] = maker{i, false}
			}
			c, _ := s.rest(j, l)
			s.madeBy[c] = maker{i, true}
		}
	}
}

// root tells whether the lot is the whole cloth of its sheet, or what is left of
// it after its first cuts.
func (s *stepper) root(l pack.Lot) bool { return l.Node == s.sheet(l).layout.Cuts }

// benches numbers the groups of layouts that share a job.
func (s *stepper) benches() []int {
	join := make([]int, len(s.rep.Sheets))
	for i := range join {
		join[i] = i
	}
	root := func(i int) int {
		for join[i] != i {
			i = join[i]
		}
		return i
	}
	at := func(l pack.Lot) int { return root(s.sheets[l.Cloth][l.Layout]) }
	for _, j := range s.jobs {
		for _, l := range j.Lots[1:] {
			join[at(l)] = at(j.Lots[0])
		}
	}
	out := make([]int, len(s.jobs))
	number := map[int]int{}
	for i, j := range s.jobs {
		b := at(j.Lots[0])
		if number[b] == 0 {
			number[b] = len(number) + 1
		}
		out[i] = number[b]
	}
	return out
}

// clothsFirst puts the jobs of whole cloths before all others of their bench, so
// that a sheet is cut up before anything is stacked, and returns their benches.
func (s *stepper) clothsFirst() []int {
	s.trace()
	bench := s.benches()
	whole := make([]bool, len(s.jobs))
	order := make([]int, len(s.jobs))
	for i, j := range s.jobs {
		order[i] = i
		whole[i] = true
		for _, l := range j.Lots {
			m, made := s.madeBy[cuttingOf(l)]
			whole[i] = whole[i] && s.root(l) && (!made || j.Square || whole[m.job])
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case bench[a] != bench[b]:
			return bench[a] - bench[b]
		case whole[a] && !whole[b]:
			return -1
		case whole[b] && !whole[a]:
			return 1
		}
		return 0
	})
	jobs, benches := make([]pack.Job, len(order)), make([]int, len(order))
	for i, o := range order {
		jobs[i], benches[i] = s.jobs[o], bench[o]
	}
	s.jobs = jobs
	return benches
}

// step works out one step, but for its words.
func (s *stepper) step(i, bench int) Step {
	j := &s.jobs[i]
	out := Step{
		Number: i + 1, Bench: bench, Square: j.Square, Letter: s.refs[i].letter, After: s.refs[i].after + 1, Name: s.name(i),
		Size: units.Size{Along: j.H, Across: j.W}, Count: j.Count, Fold: j.Fold, Lays: j.Lays,
		Heights: heights(j.Count, j.Stacks), Passes: j.Passes, unit: s.rep.Unit, job: j,
	}
	for _, l := range j.Lots {
		s.source(&out, j, l)
		out.lots = append(out.lots, s.lot(j, l))
	}
	if j.Square {
		s.trims(&out, j)
		for _, l := range j.Lots {
			if l.Node.Leaf != pack.NoLeaf {
				out.Rest = s.output(out.Rest, i, l, cuttingOf(l), l.Rect)
			}
		}
		return out
	}
	out.Axis, out.Measure, out.Cuts, out.Left = j.Axis, j.Measure, j.Cuts, j.Left(s.sheet(j.Lots[0]).kerf)
	out.Edge, out.Long = Left, j.H
	if j.Axis == pack.Y {
		out.Edge, out.Long = Bottom, j.W
	}
	for _, l := range j.Lots {
		for p := l.From; p < l.From+j.Cuts; p++ {
			c, r := s.part(l, p)
			out.Off = s.output(out.Off, i, l, c, r)
		}
		c, r := s.rest(*j, l)
		out.Rest = s.output(out.Rest, i, l, c, r)
	}
	out.Far = out.Cuts == 1 && 0 < out.Left && out.Left < out.Measure && !slices.ContainsFunc(out.Rest, func(o Output) bool {
		return o.Kind == WasteOut || o.Kind == OffcutOut
	})
	return out
}

// heights divides cloths over stacks as evenly as can be.
func heights(n, stacks int) []int {
	out := make([]int, stacks)
	for i := range out {
		out[i] = (n + stacks - 1 - i) / stacks
	}
	return out
}

// source adds where a lot comes from, and what it is.
func (s *stepper) source(out *Step, j *pack.Job, l pack.Lot) {
	sh := s.sheet(l)
	out.OneWay = out.OneWay || sh.Direction == plan.OneWay
	out.Spoiled = out.Spoiled || slices.ContainsFunc(sh.Bad, l.Rect.Meets)
	if sh.Outline != nil && !sh.Outline.Holds(l.Rect) {
		out.Crooked = true
		if !j.Square {
			out.ends(sh, l)
		}
	}
	src := Source{Sheet: sh.Number, Fabric: sh.Fabric, Whole: s.root(l)}
	if m, ok := s.madeBy[cuttingOf(l)]; ok && !j.Square {
		src.Step, src.Rest = m.job+1, m.rest
		if !m.rest && s.jobs[m.job].Axis != j.Axis {
			out.Turn = true
		}
		if m.rest && l.From == 0 && !s.jobs[m.job].Square && s.jobs[m.job].Axis != j.Axis {
			out.Turn = true
		}
	}
	for k := range out.From {
		was := out.From[k]
		was.Count = 0
		if was == src {
			out.From[k].Count += l.Copies
			return
		}
	}
	src.Count = l.Copies
	out.From = append(out.From, src)
}

// output adds what a part of a lot becomes to a list.
func (s *stepper) output(list []Output, i int, l pack.Lot, c cutting, r pack.Rect) []Output {
	sh := s.sheet(l)
	o := Output{Sheet: sh.Number, Fabric: sh.Fabric, Size: units.Size{Along: r.H, Across: r.W}}
	switch c.node.Leaf {
	case pack.PieceLeaf:
		p := s.piece(l, c.node)
		o.Kind, o.Name = PieceOut, p.ID
		o.Size = units.Size{Along: p.H, Across: p.W}
	case pack.OffcutLeaf:
		o.Kind, o.Name = OffcutOut, sh.offcutAt(r)
	case pack.WasteLeaf:
		o.Kind, o.Name = WasteOut, "waste"
	default:
		next := s.cutBy[c]
		o.Kind, o.Name, o.Letter, o.Next = PartOut, s.name(next), s.refs[next].letter, next+1
	}
	for k := range list {
		was := list[k]
		was.Count = 0
		if was == o {
			list[k].Count += l.Copies
			return list
		}
	}
	o.Count = l.Copies
	return append(list, o)
}

func (s *stepper) piece(l pack.Lot, n *pack.Node) pack.Piece {
	return s.r.Fabrics[l.Cloth].Problem.Pieces[n.Piece]
}

// offcutAt is the label of the offcut that lies there.
func (sh *Sheet) offcutAt(r pack.Rect) string {
	at := slices.IndexFunc(sh.Offcuts, func(k Offcut) bool { return k.Rect == r })
	return sh.Offcuts[at].Label
}

// trims lists the edges that a step makes straight, the bottom first: all later
// measures start from it and from the left edge.
func (s *stepper) trims(out *Step, j *pack.Job) {
	sh := s.sheet(j.Lots[0])
	f := s.r.Fabrics[j.Lots[0].Cloth]
	out.Long = max(j.W, j.H)
	for _, side := range []Side{Bottom, Left, Top, Right} {
		e := sh.Edges[side]
		for _, selvage := range []bool{true, false} {
			if selvage && !e.Selvage || !selvage && e.Trim == 0 {
				continue
			}
			t := Trim{Side: side, Selvage: selvage, Long: j.W}
			if !selvage {
				t.Width = e.Trim
			}
			if side == Left || side == Right {
				t.Long = j.H
			}
			stacks := 0
			t.Fold, t.Lays, stacks = s.r.Fabrics[0].Problem.Rules.Lie(j.Count, t.Long, f.Problem.Rules.Flat)
			t.Heights, t.Passes = heights(j.Count, stacks), t.Lays*stacks
			out.Trims = append(out.Trims, t)
		}
	}
}
