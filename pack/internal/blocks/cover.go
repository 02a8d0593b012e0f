package blocks

import (
	"cmp"
	"slices"

	"pinfold/pack/internal/model"
)

// CoverOptions steer a [CoverSearch].
type CoverOptions struct {
	// Cost is the most a solution may cost.
	Cost int64
	// Memory bounds the blocks held at once; 0 is about 100 MB.
	Memory int
	// Worth, by item, is what a copy is taken to be worth; nil for its area. Any
	// values give right answers. Those of a linear relaxation of the whole problem,
	// as whole numbers, leave the fewest layouts to choose from.
	Worth []int64
}

// CoverSearch asks whether all pieces can be cut at no more than a cost, by
// making every layout that a solution of that cost could use and choosing among
// them. It is meant for small sets of pieces: some twenty, or as many as fill a few
// sheets with hardly any waste.
type CoverSearch struct {
	pr      *model.Problem
	worth   []int64 // of the items, in their common divisor
	total   int64   // of all pieces
	price   []int64 // of the stocks, in their common divisor
	copies  []int   // of the stocks that can matter
	cost    int64   // that may be spent
	memory  int
	verdict Verdict
	best    *model.Solution

	stage  coverStage
	stock  int
	tables []*stockTables
	steps  int64
	choice *chooser
}

type coverStage uint8

const (
	filling coverStage = iota // the most each stock can hold
	listing                   // the layouts of each stock
	choosing
	decided
)

// stockTables is what is known of one kind of sheet.
type stockTables struct {
	s     *sheet
	relax *relax
	out   *outside
	most  int64 // worth one sheet can hold
	least int64 // worth a layout must hold to be of use
	enum  *enumeration
	list  []listed
}

// listed is a set of copies that one sheet can hold.
type listed struct {
	copies []uint64
	worth  int64
	block  int32
	stock  int
}

// NewCover prepares the question whether every piece demanded by pr can be cut
// from its stocks at no more than o.Cost. A stock with bad areas counts as free
// of them, so that a yes is not given where one is used; a no stands.
func NewCover(pr *model.Problem, o CoverOptions) *CoverSearch {
	c := &CoverSearch{pr: pr, cost: o.Cost, memory: o.Memory}
	if c.memory == 0 {
		c.memory = 100 << 20
	}
	if c.cost < 0 {
		c.verdict, c.stage = No, decided
		return c
	}
	if !c.measure(o.Worth) {
		c.stage = decided
		return c
	}
	for i := range pr.Stocks {
		t := &stockTables{s: newSheet(pr, i, pricedCells)}
		if t.s.vast {
			c.stage = decided
			return c
		}
		if len(t.s.shapes) > 0 {
			t.relax = newRelax(t.s)
			t.relax.start(c.worth)
		}
		c.tables = append(c.tables, t)
	}
	return c
}

// measure divides worths and costs by their common divisors, and tells whether
// products of them stay whole numbers that a machine can hold.
func (c *CoverSearch) measure(worth []int64) bool {
	var dw, dc int64
	pieces := 0
	for i, it := range c.pr.Items {
		if worth == nil {
			c.worth = append(c.worth, it.Area())
		} else {
			c.worth = append(c.worth, worth[i])
		}
		dw = model.GCD(dw, c.worth[i])
		pieces += it.Demand
	}
	dw = max(dw, 1)
	largest := 0.0
	for i, it := range c.pr.Items {
		c.worth[i] /= dw
		c.total += c.worth[i] * int64(it.Demand)
		largest += float64(c.worth[i]) * float64(it.Demand)
	}
	for _, st := range c.pr.Stocks {
		dc = model.GCD(dc, st.Cost)
	}
	dc = max(dc, 1)
	c.cost /= dc
	dearest := float64(c.cost)
	for _, st := range c.pr.Stocks {
		c.price = append(c.price, st.Cost/dc)
		n := st.Copies
		if n != model.Unlimited {
			n = min(n, pieces)
		}
		c.copies = append(c.copies, n)
		dearest = max(dearest, float64(st.Cost/dc))
	}
	return largest*dearest*float64(pieces+2) < 1<<61
}

// Verdict returns the answer so far.
func (c *CoverSearch) Verdict() Verdict { return c.verdict }

// Solution returns a complete solution of the cost, after a yes.
func (c *CoverSearch) Solution() *model.Solution { return c.best }

// Run works for about budget units of about a microsecond, returns how many were
// spent, and tells whether running on could find the answer.
func (c *CoverSearch) Run(budget int64) (spent int64, more bool) {
	start := c.steps
	for end := c.steps + budget*stepsPerUnit; c.steps < end && c.stage != decided; {
		c.work(end - c.steps)
	}
	return (c.steps - start + stepsPerUnit - 1) / stepsPerUnit, c.stage != decided
}

func (c *CoverSearch) work(steps int64) {
	switch {
	case c.stage == choosing:
		c.choose(steps)
	case c.stock == len(c.tables) && c.stage == filling:
		c.weigh()
	case c.stock == len(c.tables):
		c.choice = newChooser(c)
		c.stage = choosing
	case c.tables[c.stock].relax == nil:
		c.stock++
		c.steps++
	case c.stage == filling:
		c.fill(c.tables[c.stock], steps)
	default:
		c.list(c.tables[c.stock], steps)
	}
}

// fill finds the most that unlimited copies are worth on one sheet.
func (c *CoverSearch) fill(t *stockTables, steps int64) {
	before := t.relax.steps()
	if t.relax.run(steps/2 + 1) {
		t.most = t.relax.total()
		c.stock++
	}
	c.steps += 2*(t.relax.steps()-before) + 1
}

// weigh works out, for each stock, what a layout must be worth to be used in a
// solution of the cost. With a price for a unit of worth, what a sheet's pieces
// come to beyond its cost is paid for each sheet there is, and then no layout
// comes to more than it costs; how much less all layouts together may come to is
// the room left by the cost. The price that leaves the least room is taken.
func (c *CoverSearch) weigh() {
	// The price is num/den for a unit of worth.
	num, den, room := int64(0), int64(1), c.cost
	for i, t := range c.tables {
		if t.most == 0 {
			continue
		}
		n, d := c.price[i], t.most
		paid := int64(0)
		priceless := false
		for j, u := range c.tables {
			if over := n*u.most - d*c.price[j]; over > 0 {
				if c.copies[j] == model.Unlimited {
					priceless = true
					break
				}
				paid += over * int64(c.copies[j])
			}
		}
		if left := d*c.cost - (n*c.total - paid); !priceless && cross(left, den) < cross(room, d) {
			num, den, room = n, d, left
		}
	}
	if room < 0 {
		c.verdict, c.stage = No, decided
		return
	}
	for i, t := range c.tables {
		if t.relax == nil {
			continue
		}
		cost := c.price[i]
		least := int64(0)
		if num > 0 {
			// num*worth >= den*max(cost, what the fullest sheet is worth) - room
			need := max(den*cost, num*t.most) - room
			least = max(0, (need+num-1)/num)
		}
		t.out = newOutside(t.relax)
		t.out.start(least)
		t.least = least
	}
	c.stage, c.stock = listing, 0
}

// cross multiplies for the comparison of fractions.
func cross(a, b int64) float64 { return float64(a) * float64(b) }

// list makes the layouts of one stock that hold enough.
func (c *CoverSearch) list(t *stockTables, steps int64) {
	if t.enum == nil {
		before := t.out.steps
		if t.out.run(steps/2 + 1) {
			counted := make([]bool, len(c.pr.Items))
			demand := make([]int, len(c.pr.Items))
			for i, it := range c.pr.Items {
				counted[i], demand[i] = true, it.Demand
			}
			t.enum = newEnumeration(t.s, newPacking(demand, counted), t.out, c.memory)
			t.enum.worth, t.enum.value, t.enum.scale, t.enum.every = c.worth, c.worth, 1, true
			t.enum.start(t.least, t.enum.ever, 0)
		}
		c.steps += 2*(t.out.steps-before) + 1
		return
	}
	e := t.enum
	before := e.steps
	end := e.run(steps)
	c.steps += max(1, e.steps-before)
	switch end {
	case full:
		c.stage = decided
	case complete:
		t.list = gather(e)
		c.steps += int64(len(e.blocks))
		c.stock++
	}
}

// gather lists the different contents of the blocks worth the target, the
// fullest first.
func gather(e *enumeration) []listed {
	words := e.pack.words
	var list []listed
	for i, b := range e.blocks {
		if b.state != dead && b.value >= e.target {
			list = append(list, listed{e.copies[i*words : i*words+words], b.value, int32(i), e.s.stock})
		}
	}
	slices.SortFunc(list, func(a, b listed) int {
		if d := cmp.Compare(b.worth, a.worth); d != 0 {
			return d
		}
		if d := slices.Compare(a.copies, b.copies); d != 0 {
			return d
		}
		return cmp.Compare(a.block, b.block)
	})
	return slices.CompactFunc(list, func(a, b listed) bool { return slices.Equal(a.copies, b.copies) })
}
