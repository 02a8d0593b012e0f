package reports

import (
	"fmt"

	"pinfold/plan"
	"pinfold/units"
)

// Report is a result worked out and worded, ready to be formatted. Texts are
// plain single lines; lengths in them carry their unit.
type Report struct {
	Title    string
	Headline string // how many ornaments, pieces and fabrics
	Unit     units.Unit
	Shopping Shopping
	Stash    []StashLine
	Supplies []SupplyLine
	// Splits tells which of several fabrics fills what.
	Splits  []string
	Fabrics []Fabric
	Sheets  []Sheet // the distinct layouts, numbered over the whole plan
	Steps   []Step  // of all sheets, in the order in which they are done
	// Passes is how often the cutter runs in the whole plan.
	Passes int
	// Stopped tells that the search was cut short by the clock or the user.
	Stopped bool
	// Missing lists what cannot be cut, CrossCheck how the totals add up.
	Missing    []string
	CrossCheck []string
	// Bin tells what becomes of the scraps of the stash, where they go first.
	Bin []string
	// Warnings want attention, Notes are assumptions worth a look.
	Warnings, Notes []string
	Cautions        []Caution

	result *plan.Result
}

// New works out the report of a result. The result must have been checked
// (pack.Check) and must not be changed afterwards.
func New(r *plan.Result) *Report {
	rep := &Report{
		Title:    plain(r.Plan.Title),
		Unit:     r.Plan.Unit,
		Shopping: shopping(r),
		Stash:    stashUsed(r),
		Supplies: supplies(r),
		Splits:   splits(r),
		Bin:      bin(r),
		Passes:   r.Passes,
		Stopped:  r.Stopped,
		Cautions: cautions(),
		result:   r,
	}
	if rep.Title == "" {
		rep.Title = "Cutting plan"
	}
	for _, w := range r.Warnings {
		rep.Warnings = append(rep.Warnings, plain(w))
	}
	for _, n := range r.Plan.Notes {
		rep.Notes = append(rep.Notes, plain(n))
	}
	at := make([][]int, len(r.Fabrics))
	for i := range r.Fabrics {
		first := len(rep.Sheets)
		var more []Sheet
		more, at[i] = sheets(r, i, first)
		rep.Sheets = append(rep.Sheets, more...)
		f := fabric(r, i, rep.Sheets[first:])
		f.Standing = scrapsStanding(r, &r.Fabrics[i], f.Standing)
		rep.Fabrics = append(rep.Fabrics, f)
		rep.Missing = append(rep.Missing, f.Missing...)
	}
	rep.label()
	rep.steps(r, at)
	rep.CrossCheck = crossCheck(r)
	rep.Headline = headline(r)
	return rep
}

func headline(r *plan.Result) string {
	g := r.Gathered
	if g.Pieces == 0 {
		return "Nothing to cut."
	}
	s := fmt.Sprintf("%s from %s: %s", counted(g.Ornaments, "ornament"), counted(len(r.Fabrics), "fabric"), counted(g.Pieces, "piece"))
	if g.Spares > 0 {
		s += fmt.Sprintf(" and %s spare", thousands(int64(g.Spares)))
	}
	return s + "."
}

// crossCheck tells that the pieces gathered are those of the ornaments, and that
// the layouts hold them all: counted leaf by leaf, not taken from the solver.
func crossCheck(r *plan.Result) []string {
	need, spare, placed, missing := 0, 0, 0, 0
	for _, f := range r.Fabrics {
		for _, n := range f.Need.Sizes {
			need, spare = need+n.Count, spare+n.Spare
		}
		for _, l := range f.Solution.Layouts {
			placed += len(l.Placements(f.Problem.Rules.Kerf)) * l.Copies
		}
		for _, m := range f.Solution.Missing {
			missing += m
		}
	}
	n := func(i int) string { return thousands(int64(i)) }
	line := fmt.Sprintf("%s needed + %s spare = %s to cut; on the layouts %s", n(need), n(spare), n(need+spare), n(placed))
	if missing > 0 {
		line += fmt.Sprintf(" + %s missing", n(missing))
	}
	if need+spare == placed+missing {
		line += ": equal"
	} else {
		line += ": NOT EQUAL"
	}
	return []string{plan.Recount(r.Plan, r.Gathered).String(), line}
}
