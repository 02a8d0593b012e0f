package bounds

import (
	"math"
	"slices"

	"pinfold/pack/internal/model"
)

// task is a problem reduced to what the scales look at: the copies wanted that
// fit at least one stock, in the ways they fit.
type task struct {
	stocks []model.Stock
	x, y   axis
	pieces []piece
	square bool // x and y may be exchanged without changing anything
}

// axis is one direction of a task: the lengths that occur along it, ascending,
// and the extent of each stock.
type axis struct {
	lengths []int
	extent  []int
}

type piece struct {
	n    int64
	area int64
	ways []way
}

// way is one orientation: indices into the lengths of the axes.
type way struct{ x, y int }

func (w way) along(x bool) int {
	if x {
		return w.x
	}
	return w.y
}

func newTask(items []model.Item, stocks []model.Stock) *task {
	t := &task{stocks: stocks, square: true}
	for _, s := range stocks {
		t.x.extent = append(t.x.extent, s.W)
		t.y.extent = append(t.y.extent, s.H)
		t.square = t.square && s.W == s.H
	}
	ways := make([][][2]int, len(items))
	for i, it := range items {
		if it.Demand <= 0 {
			continue
		}
		if fitsAny(it.W, it.H, stocks) {
			ways[i] = append(ways[i], [2]int{it.W, it.H})
		}
		if it.Turn && it.W != it.H && fitsAny(it.H, it.W, stocks) {
			ways[i] = append(ways[i], [2]int{it.H, it.W})
		}
		for _, s := range ways[i] {
			t.x.lengths = append(t.x.lengths, s[0])
			t.y.lengths = append(t.y.lengths, s[1])
		}
	}
	for _, a := range []*axis{&t.x, &t.y} {
		slices.Sort(a.lengths)
		a.lengths = slices.Compact(a.lengths)
	}
	for i, it := range items {
		if ways[i] == nil {
			continue
		}
		p := piece{n: int64(it.Demand), area: it.Area()}
		for _, s := range ways[i] {
			x, _ := slices.BinarySearch(t.x.lengths, s[0])
			y, _ := slices.BinarySearch(t.y.lengths, s[1])
			p.ways = append(p.ways, way{x, y})
		}
		t.square = t.square && (len(p.ways) == 2 || it.W == it.H)
		t.pieces = append(t.pieces, p)
	}
	return t
}

func fits(w, h int, s model.Stock) bool { return w <= s.W && h <= s.H && s.Copies != 0 }

func fitsAny(w, h int, stocks []model.Stock) bool {
	return slices.ContainsFunc(stocks, func(s model.Stock) bool { return fits(w, h, s) })
}

// maxKinds is up to how many kinds of stock the pieces that do not fit one of
// them are looked at apart.
const maxKinds = 32

// withoutFitting returns, for every kind of stock, the items that do not fit
// it; of those alone, that stock holds nothing.
func withoutFitting(pr *model.Problem) [][]model.Item {
	if len(pr.Stocks) < 2 || len(pr.Stocks) > maxKinds {
		return nil
	}
	var out [][]model.Item
	seen := map[string]bool{}
	for _, s := range pr.Stocks {
		var items []model.Item
		key := make([]byte, len(pr.Items))
		for i, it := range pr.Items {
			if fits(it.W, it.H, s) || it.Turn && fits(it.H, it.W, s) {
				continue
			}
			key[i] = 1
			items = append(items, it)
		}
		if len(items) == 0 || len(items) == len(pr.Items) || seen[string(key)] {
			continue
		}
		seen[string(key)] = true
		out = append(out, items)
	}
	return out
}

// cost runs every scale over the task.
func (t *task) cost() (int64, string) {
	if len(t.pieces) == 0 || len(t.stocks) == 0 {
		return 0, "area"
	}
	c := &contest{stocks: t.stocks, name: "area"}
	c.enter(t.areaScale())
	t.products(c)
	c.finish()
	return c.best, c.name
}

// areaScale weighs pieces by their area.
func (t *task) areaScale() (need int64, caps []int64, name string) {
	var about float64
	for _, p := range t.pieces {
		need += p.area * p.n
		about += float64(p.area) * float64(p.n)
	}
	caps = make([]int64, len(t.stocks))
	for i, s := range t.stocks {
		caps[i] = s.Room()
	}
	if about >= overflow {
		// Millions of vast pieces: a coarser unit, rounded to the safe side.
		const unit = 1 << 20
		need = int64(math.Floor(about * (1 - 1e-9) / unit))
		for i := range caps {
			caps[i] = caps[i]/unit + 1
		}
	}
	return need, caps, "area"
}

// overflow is where weights can no longer be added up as whole numbers.
const overflow = 1 << 61
