package reports

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// ShopReport is the answer at the counter, worked out and worded: a card for
// each fabric, the ways to buy side by side, and what the budget buys. Texts are
// plain; lengths in them carry their unit.
type ShopReport struct {
	Title    string
	Headline string
	Unit     units.Unit
	// Total is for the priced fabrics; "" when nothing is bought. Tax says that
	// it is not in it.
	Total, Tax string
	Cards      []ShopCard
	Ways       WayTable
	Budget     *ShopBudget
	// Sizes explains the letters, which are the same in every fabric.
	Sizes []string
	// Splits tells which of several fabrics fills what, and that all of this holds
	// for that division; none when every role has one fabric.
	Splits []string
	// Changed tells what an assumption changes; Missing what cannot be had.
	Changed, Missing []string
	Warnings, Notes  []string
	Stopped          bool

	shop *plan.Shop
}

// ShopCard is one fabric at the counter.
type ShopCard struct {
	Fabric  string
	Lines   []ShoppingLine // what to ask for; none when nothing is bought
	Price   string         // of all lines; "" when not priced
	Stash   string         // what comes from the stash, "" for nothing
	Status  string         // how good the answer is known to be, in two words
	Why     string         // why less will not do
	Cheaper *ShopOption    // nil when nothing costs less
	Safer   *ShopOption    // nil when nothing more can be had
	Holds   []string       // down to which measures the purchase does
	Spares  []SpareLine
}

// Ask is what to ask for, in one piece: "3/8 yd", "2 fat quarters and 1/4 yd".
func (c ShopCard) Ask() string { return asks(c.Lines) }

func asks(lines []ShoppingLine) string {
	if len(lines) == 0 {
		return "nothing"
	}
	words := make([]string, len(lines))
	for i, l := range lines {
		words[i] = joined(" ", l.Amount, l.Bolt)
	}
	return list(words)
}

// ShopOption is another purchase of one fabric.
type ShopOption struct {
	Ask        string
	Price      string // or the cloth bought, when not priced
	Difference string // "$1.44 less"
	Says       string // what is missing, or what it leaves
}

// Head is the option's first line: "3 yd, $29.40, $2.45 more".
func (o ShopOption) Head() string { return joined(", ", o.Ask, o.Price, o.Difference) }

// SpareLine is how many of one size may be cut wrong.
type SpareLine struct {
	Letter, Size string
	// Count holds once everything is cut, Room when as many are planned for
	// before; 0 when that is no more.
	Count, Room int
}

// NewShop works out the report of a shopping trip. before is the answer to the
// plan as it is written when assumptions were changed, else nil.
func NewShop(s *plan.Shop, before *plan.Result, changes []string) *ShopReport {
	r := s.Result
	rep := &ShopReport{
		Title: plain(r.Plan.Title), Unit: r.Plan.Unit, Stopped: r.Stopped,
		Tax:  "Tax is not in these prices: ask at the counter.",
		shop: s,
	}
	if rep.Title == "" {
		rep.Title = "Shopping list"
	}
	w := shopWords{r.Plan}
	for i := range s.Counters {
		rep.Cards = append(rep.Cards, w.card(s, i))
		rep.Missing = append(rep.Missing, w.missing(&r.Fabrics[i])...)
	}
	if s.Price > 0 {
		rep.Total = money(r.Plan.Money, s.Price)
	} else {
		rep.Tax = ""
	}
	rep.Headline = w.headline(s)
	rep.Sizes = w.sizes(s)
	rep.Ways = w.ways(s)
	rep.Budget = w.budget(s)
	rep.Changed = w.changed(s, before, changes)
	rep.Splits = splits(r)
	if len(rep.Splits) > 0 {
		rep.Splits = append(rep.Splits, dividedNote)
	}
	for _, t := range r.Warnings {
		rep.Warnings = append(rep.Warnings, plain(t))
	}
	for _, t := range r.Plan.Notes {
		rep.Notes = append(rep.Notes, plain(t))
	}
	for _, name := range s.Unpriced {
		rep.Notes = append(rep.Notes, fmt.Sprintf("%s has no prices: the least cloth is bought, and it is not in the total", plain(name)))
	}
	for _, name := range s.Improved {
		rep.Notes = append(rep.Notes, fmt.Sprintf("%s: cheaper than a cutting plan alone finds with this effort; --layouts writes the one for this purchase", plain(name)))
	}
	return rep
}

// dividedNote says what is not looked at where lists of fabrics fill roles.
const dividedNote = "decided first and then kept: what is called least or proved, the other purchases, the ways to buy and the budget all hold for this division; divided otherwise the whole may cost less, which is not ruled out"

// CuttingPlan is the report of the answer's own cutting plan.
func (r *ShopReport) CuttingPlan() *Report { return New(r.shop.Result) }

// shopWords words the parts of a plan's answer at the counter.
type shopWords struct{ p *plan.Plan }

func (w shopWords) headline(s *plan.Shop) string {
	buys := 0
	for _, c := range s.Counters {
		if len(c.Answer.Purchases) > 0 {
			buys++
		}
	}
	if len(s.Counters) == 0 {
		return "Nothing to cut."
	}
	if buys == 0 {
		return "Nothing to buy."
	}
	return fmt.Sprintf("%s to buy, for %s", counted(buys, "fabric"), counted(s.Result.Gathered.Ornaments, "ornament"))
}

// sizes lists every letter with its size.
func (w shopWords) sizes(s *plan.Shop) []string {
	var needs []plan.Need
	for _, f := range s.Result.Fabrics {
		for _, n := range f.Need.Sizes {
			if !slices.ContainsFunc(needs, func(m plan.Need) bool { return m.ID == n.ID }) {
				needs = append(needs, n)
			}
		}
	}
	slices.SortStableFunc(needs, func(a, b plan.Need) int {
		return cmp.Or(cmp.Compare(len(a.ID), len(b.ID)), cmp.Compare(a.ID, b.ID))
	})
	out := make([]string, len(needs))
	for i, n := range needs {
		out[i] = n.ID + " is " + n.Size.Format(w.p.Unit)
	}
	return out
}

func (w shopWords) card(s *plan.Shop, i int) ShopCard {
	c, f := &s.Counters[i], &s.Result.Fabrics[i]
	card := ShopCard{
		Fabric: plain(f.Need.Fabric), Lines: shopLines(w.p, c.Answer.Purchases),
		Stash: w.stash(f), Status: f.Solution.Status.String(), Why: w.why(f, c.Reason), Holds: w.holds(c.Holds),
	}
	if f.Priced && len(card.Lines) > 0 {
		card.Price = money(w.p.Money, f.Solution.Price)
	}
	if c.Cheaper != nil {
		card.Cheaper = w.option(&c.Answer, c.Cheaper)
		card.Cheaper.Says = w.lacking(c.Cheaper)
	}
	if c.Safer != nil {
		card.Safer = w.option(&c.Answer, c.Safer)
		card.Safer.Says = w.leaves(c.Safer, c.SaferSpares)
	}
	for _, n := range c.Spares {
		l := SpareLine{Letter: n.ID, Size: n.Size.Format(w.p.Unit), Count: n.Planned + n.Left}
		if n.Room > n.Left {
			l.Room = n.Planned + n.Room
		}
		card.Spares = append(card.Spares, l)
	}
	return card
}

func (w shopWords) stash(f *plan.FabricResult) string {
	used := make([]int, len(f.Stocks))
	for _, l := range f.Solution.Layouts {
		if l.Stock.Sheet != pack.FromRoll {
			used[l.Stock.Sheet] += l.Copies
		}
	}
	var ids []string
	for i, n := range used {
		if n == 0 || f.Stocks[i].Stash == nil {
			continue
		}
		id := plain(f.Stocks[i].Stash.ID)
		if n > 1 {
			id = thousands(int64(n)) + " of " + id
		}
		ids = append(ids, id)
	}
	return list(ids)
}

// worth is an amount of the fabric's goal: money, or cloth.
func (w shopWords) worth(f *plan.FabricResult, v int64) string {
	if f.Priced {
		return money(w.p.Money, v)
	}
	return units.Area(v).Format(w.p.Unit)
}

func (w shopWords) option(own, other *plan.Choice) *ShopOption {
	o := &ShopOption{Ask: asks(shopLines(w.p, other.Purchases)), Price: w.worth(&other.Cut, other.Cost)}
	if len(other.Purchases) == 0 {
		o.Ask, o.Price = "nothing at all", ""
	}
	switch d := other.Cost - own.Cost; {
	case d < 0:
		o.Difference = w.worth(&other.Cut, -d) + " less"
	case d > 0:
		o.Difference = w.worth(&other.Cut, d) + " more"
	}
	return o
}

// lacking says what a cheaper purchase misses, size by size.
func (w shopWords) lacking(c *plan.Choice) string {
	short := w.short(&c.Cut)
	switch c.Verdict {
	case pack.TooLittle:
		return "proved too little; the best found lacks " + list(short)
	case pack.Undecided:
		return "nothing found that holds it all; the best lacks " + list(short)
	}
	return "holds every piece"
}

// short lists what a cutting misses: "13 of H (2 1/2 x 2 1/2 in)".
func (w shopWords) short(f *plan.FabricResult) []string {
	var out []string
	for i, n := range f.Need.Sizes {
		if m := f.Solution.Missing[i]; m > 0 {
			out = append(out, fmt.Sprintf("%s of %s (%s)", thousands(int64(m)), n.ID, n.Size.Format(w.p.Unit)))
		}
	}
	return out
}

// missing lists what a cutting misses with what it is for.
func (w shopWords) missing(f *plan.FabricResult) []string {
	var out []string
	for i, n := range f.Need.Sizes {
		m := f.Solution.Missing[i]
		if m == 0 {
			continue
		}
		uses := make([]string, len(n.Uses))
		for j, u := range n.Uses {
			uses[j] = plain(u.Ornament) + ", " + plain(u.Piece)
		}
		out = append(out, fmt.Sprintf("%s: %s of %s %s (%s), for %s", plain(f.Need.Fabric), thousands(int64(m)),
			thousands(int64(n.Count+n.Spare)), n.ID, n.Size.Format(w.p.Unit), strings.Join(uses, "; ")))
	}
	return out
}

// leaves says what a safer purchase leaves and how many more pieces of each size
// it has room for.
func (w shopWords) leaves(c *plan.Choice, spares []plan.SpareCount) string {
	n, largest := 0, units.Size{}
	for _, l := range c.Cut.Solution.Layouts {
		for _, r := range l.Offcuts(c.Cut.Problem.Rules.Kerf) {
			n += l.Copies
			if s := (units.Size{Along: r.H, Across: r.W}); s.Area() > largest.Area() {
				largest = s
			}
		}
	}
	says := "leaves nothing worth keeping"
	switch {
	case n == 1:
		says = fmt.Sprintf("leaves an offcut of %s", roughly(largest, w.p.Unit))
	case n > 1:
		says = fmt.Sprintf("leaves %s, the largest %s", counted(n, "offcut"), roughly(largest, w.p.Unit))
	}
	var room []string
	for _, s := range spares {
		if s.Room > 0 {
			room = append(room, thousands(int64(s.Room))+" "+s.ID)
		}
	}
	if len(room) == 0 {
		return says
	}
	last := len(room) - 1
	if last == 0 {
		return says + "; room for " + room[0] + " more"
	}
	return says + "; room for " + strings.Join(room[:last], ", ") + " or " + room[last] + " more"
}

// roughly is a size of what remains of cloth, down to the printing grid.
func roughly(s units.Size, u units.Unit) string {
	return units.Size{Along: s.Along.RoundDown(u.Grid()), Across: s.Across.RoundDown(u.Grid())}.Format(u)
}
