package insert

import (
	"context"
	"math"
	"slices"

	"pinfold/pack/internal/model"
)

// Many is from how many copies on Together takes too long for a first answer.
const Many = 600

// Together packs with all sheets open at once: every copy goes where it loses
// least on any open sheet, and a sheet is opened when none takes it. It returns
// the solution, which may lack pieces, and the work done. Suited to some
// hundreds of copies. What is left after the work of limit, or when the context
// ends, is laid on shelves.
func Together(ctx context.Context, pr *model.Problem, r Rule, limit int64) (*model.Solution, int64) {
	p := newPacker(ctx, pr, limit)
	seq := r.sequence(pr, p.demand)
	for len(seq) > 0 && !p.over() {
		next, o := p.next(seq, r)
		i := seq[next]
		if o.sheet < 0 {
			st := p.open(pr.Items[i])
			if st < 0 {
				p.demand[i] = 0
				seq = slices.Delete(seq, next, next+1)
				continue
			}
			p.sheets = append(p.sheets, newSheet(pr, st))
			o.sheet = len(p.sheets) - 1
			b, _ := p.sheets[o.sheet].best(pr.Items[i], r.First)
			b.sheet = o.sheet
			o = b
		}
		p.sheets[o.sheet].insert(i, pr.Items[i], o)
		p.work += 2
		if p.demand[i]--; p.demand[i] == 0 {
			seq = slices.Delete(seq, next, next+1)
		}
	}
	out := &model.Solution{}
	for _, s := range p.sheets {
		if len(seq) > 0 {
			p.shelve(&s, p.demand)
		}
		out.Add(model.Pattern{Stock: s.stock, Placed: s.placed}, 1)
	}
	if len(seq) > 0 {
		p.rest(out)
	}
	return out, p.work
}

// Repeated fills one sheet after another and cuts each layout as often as
// demand and stock allow, so that its work does not grow with the copies where a
// sheet holds few of them. What is left after the work of limit, or when the context
// ends, is laid on shelves.
func Repeated(ctx context.Context, pr *model.Problem, r Rule, limit int64) (*model.Solution, int64) {
	p := newPacker(ctx, pr, limit)
	out := &model.Solution{}
	for !p.over() {
		s, ok := p.richest(r)
		if !ok {
			break
		}
		p.repeat(s, out)
	}
	if p.over() {
		p.rest(out)
	}
	return out, p.work
}

// repeat adds the layout of a sheet to out as often as demand and stock allow; false
// if it holds nothing.
func (p *packer) repeat(s sheet, out *model.Solution) bool {
	if len(s.placed) == 0 {
		return false
	}
	used := make([]int, len(p.pr.Items))
	pat := model.Pattern{Stock: s.stock, Placed: s.placed}
	pat.Count(used)
	times := p.left[s.stock]
	if times == model.Unlimited {
		times = 1 << 30
	}
	for i, n := range used {
		if n > 0 {
			times = min(times, p.demand[i]/n)
		}
	}
	for i, n := range used {
		p.demand[i] -= times * n
	}
	p.take(s.stock, times)
	out.Add(pat, times)
	return true
}

type packer struct {
	pr     *model.Problem
	demand []int
	left   []int // copies of each stock, or model.Unlimited
	sheets []sheet
	work   int64
	limit  int64 // of work
	ctx    context.Context
	ask    int64     // the work at which the context is looked at again
	ended  bool      // it has
	worth  []float64 // of a sheet of each stock when it was last filled
}

func newPacker(ctx context.Context, pr *model.Problem, limit int64) *packer {
	p := &packer{pr: pr, ctx: ctx, limit: limit, ask: askWork}
	for _, it := range pr.Items {
		p.demand = append(p.demand, it.Demand)
	}
	for _, st := range pr.Stocks {
		p.left = append(p.left, st.Copies)
	}
	return p
}

func (p *packer) take(stock, n int) {
	if p.left[stock] != model.Unlimited {
		p.left[stock] -= n
	}
}

// next picks the entry of seq to insert and its place; the option's sheet is -1
// when no open sheet takes it.
func (p *packer) next(seq []int, r Rule) (int, option) {
	if !r.Critical {
		o, _ := p.place(seq[0], r)
		return 0, o
	}
	pick, fewest, at := 0, -1, option{}
	for n, i := range seq {
		o, places := p.place(i, r)
		if fewest < 0 || places < fewest {
			pick, fewest, at = n, places, o
		}
		if fewest == 0 {
			break
		}
	}
	return pick, at
}

func (p *packer) place(i int, r Rule) (option, int) {
	best, places := option{sheet: -1}, 0
	for n := range p.sheets {
		o, c := p.sheets[n].best(p.pr.Items[i], r.First)
		p.work += (p.sheets[n].leftovers() + 7) / 8
		if c > 0 && (best.sheet < 0 || o.cost < best.cost) {
			o.sheet = n
			best = o
		}
		places += c
	}
	return best, places
}

// open takes the stock that costs least per area among those that hold the
// item, free ones first, and among equals the smallest; -1 if there is none.
func (p *packer) open(it model.Item) int {
	best := -1
	for i, st := range p.pr.Stocks {
		if p.left[i] == 0 {
			continue
		}
		if best >= 0 {
			b := p.pr.Stocks[best]
			x, y := float64(st.Cost)*float64(b.Area()), float64(b.Cost)*float64(st.Area())
			if x > y || x == y && st.Area() >= b.Area() {
				continue
			}
		}
		empty := newSheet(p.pr, i)
		if _, places := empty.best(it, model.AxisY); places > 0 {
			best = i
		}
	}
	if best >= 0 {
		p.take(best, 1)
	}
	return best
}

// richest fills one sheet of the stocks that are left with what is still wanted and
// returns the best: free ones first, the fullest of those; then the one with the most
// area for its cost. Once half of the work is done it fills fewer of them: less is wanted
// by then, so a stock that was worse when it was last filled than the best now mostly
// still is.
func (p *packer) richest(r Rule) (sheet, bool) {
	if p.worth == nil {
		p.worth = make([]float64, len(p.pr.Stocks))
		for st := range p.worth {
			p.worth[st] = math.Inf(1)
		}
	}
	var best sheet
	found := -1
	filled := make([]bool, len(p.worth))
	for !p.over() {
		next := -1
		for st, w := range p.worth {
			if p.left[st] != 0 && w > 0 && !filled[st] && (next < 0 || w > p.worth[next]) {
				next = st
			}
		}
		p.work += int64(len(p.worth)) / 64
		if next < 0 || found >= 0 && p.work > p.limit/2 && (p.worth[next] < p.worth[found] || p.worth[next] == p.worth[found] && next > found) {
			break
		}
		s := p.fill(next, r)
		filled[next] = true
		p.worth[next] = p.rate(s)
		if p.worth[next] > 0 && (found < 0 || p.worth[next] > p.worth[found] || p.worth[next] == p.worth[found] && next < found) {
			best, found = s, next
		}
	}
	return best, found >= 0
}

// rate is what a filled sheet is worth to choose it: of one that costs something the
// area of its pieces for each unit of cost, of a free one more than any of those, and
// the more the fuller it is.
func (p *packer) rate(s sheet) float64 {
	a, st := float64(model.Pattern{Placed: s.placed}.Area(p.pr)), p.pr.Stocks[s.stock]
	if st.Cost == 0 {
		const free = 1e30 // above every area
		return free * a / float64(st.Area())
	}
	return a / float64(st.Cost)
}

func (p *packer) fill(stock int, r Rule) sheet {
	s := newSheet(p.pr, stock)
	demand := slices.Clone(p.demand)
	seq := r.sequence(p.pr, demand)
	for len(seq) > 0 {
		if p.over() {
			p.shelve(&s, demand)
			break
		}
		pick, fewest, at := -1, 0, option{}
		for n, i := range seq {
			o, places := s.best(p.pr.Items[i], r.First)
			p.work += (s.leftovers() + 7) / 8
			if places > 0 && (pick < 0 || r.Critical && places < fewest) {
				pick, fewest, at = n, places, o
				if !r.Critical {
					break
				}
			}
		}
		if pick < 0 {
			break
		}
		i := seq[pick]
		s.insert(i, p.pr.Items[i], at)
		if demand[i]--; demand[i] == 0 {
			seq = slices.Delete(seq, pick, pick+1)
		}
	}
	return s
}
