// Package bounds proves how little a problem can cost, without looking for a
// layout. Every bound here is a conservative scale: piece copies get weights,
// kinds of sheets get capacities, such that no layout of a sheet holds more
// weight than its capacity; then the weight of everything wanted must be
// covered by sheets. Areas are the plainest scale. Better ones multiply a
// function of the width by a function of the height, each such that lengths
// that fit side by side still fit after it was applied (dual feasible functions
// and conservative scales: Fekete & Schepers, Mathematical Methods of
// Operations Research 60, 2004; Carlier, Clautiaux & Moukrim, Computers &
// Operations Research 34, 2007). The bounds ignore that cuts run from edge to
// edge and how many stages there are, so they hold for every rule.
//
// Start with [Cost]. It and [Sheets] take milliseconds; [Refine] takes tenths of
// a second and is worth it where they leave a gap.
package bounds

import "pinfold/pack/internal/model"

// Cost returns a lower bound on the cost of any plan that cuts every piece, and
// the name of the reasoning behind it. Pieces that fit no stock are left out.
// When the limited stocks are proved not to hold everything, there is no such
// plan, and the cost of all of them is returned.
func Cost(pr *model.Problem) (int64, string) {
	best, name := newTask(pr.Items, pr.Stocks).cost()
	for _, items := range withoutFitting(pr) {
		if b, n := newTask(items, pr.Stocks).cost(); b > best {
			best, name = b, n
		}
	}
	return best, name
}

// Sheets returns a lower bound on the number of sheets of any plan that cuts
// every piece, and the name of the reasoning behind it.
func Sheets(pr *model.Problem) (int, string) {
	free := *pr
	free.Stocks = make([]model.Stock, len(pr.Stocks))
	for i, s := range pr.Stocks {
		s.Cost = 1
		free.Stocks[i] = s
	}
	b, name := Cost(&free)
	return int(b), name
}
