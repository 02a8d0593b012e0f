package reports

import (
	"fmt"
	"strings"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// bin tells what the plan does with the scraps of the stash, if it says bin first.
func bin(r *plan.Result) []string {
	if !r.Plan.Cutting.BinFirst {
		return nil
	}
	b, u := r.Bin(), r.Plan.Unit
	if b.Scraps == 0 && len(b.LetGo) == 0 {
		return []string{"There are no scraps in the stash: pieces of at most " + plan.ScrapArea.Format(u) + " would be."}
	}
	first := fmt.Sprintf("%d of %s are cut; they give %s of the %s of pieces", b.Cut, counted(b.Scraps, "scrap"), b.Used.Format(u), b.Need.Format(u))
	if b.Used == b.Most {
		first += ", and no plan takes more from them."
	} else {
		first += fmt.Sprintf("; no plan takes more than %s from them.", b.Most.Format(u))
	}
	out := []string{first}
	if len(b.Left) > 0 {
		out = append(out, "Not needed this time: "+scrapNames(b.Left, u)+".")
	}
	if len(b.LetGo) > 0 {
		out = append(out, "To let go, since no piece of this plan fits in them: "+scrapNames(b.LetGo, u)+".")
	}
	return out
}

func scrapNames(list []plan.StashPiece, u units.Unit) string {
	names := make([]string, len(list))
	for i, s := range list {
		names[i] = fmt.Sprintf("%s (%s, %s", plain(s.ID), plain(s.Fabric), s.Size.Format(u))
		if s.Count > 1 {
			names[i] += fmt.Sprintf(", %d of them", s.Count)
		}
		names[i] += ")"
	}
	return strings.Join(names, ", ")
}

// scrapsStanding says how good the answer for a fabric is where scraps go first;
// buying is then judged for the pieces they leave.
func scrapsStanding(r *plan.Result, f *plan.FabricResult, bought string) string {
	sol := f.Solution
	if sol.MostScraps == 0 || sol.Status == pack.Short {
		return bought
	}
	u := r.Plan.Unit
	s := "scraps give " + sol.FromScraps.Format(u) + " of the pieces, "
	if sol.Status == pack.Proved {
		s += "proved the most they can"
	} else {
		s += "at most " + sol.MostScraps.Format(u) + " could come from them"
	}
	switch {
	case sol.Cost == 0:
		return s + "; nothing has to be bought"
	case sol.Cost == sol.Bound:
		return s + "; the rest is bought for the least it takes"
	}
	return s + "; the rest is bought"
}

type binJSON struct {
	Scraps int          `json:"scraps"`
	Cut    int          `json:"cut"`
	Need   units.Area   `json:"need"`
	Used   units.Area   `json:"used"`
	Most   units.Area   `json:"most"`
	LetGo  []binRowJSON `json:"let_go"`
	Left   []binRowJSON `json:"left"`
}

type binRowJSON struct {
	ID     string `json:"id"`
	Fabric string `json:"fabric"`
	Count  int    `json:"count"`
}

// binJSON adds what becomes of the scraps, areas in square ticks, where they go
// first.
func (r *Report) binJSON(key func(string, any) error) error {
	if !r.result.Plan.Cutting.BinFirst {
		return nil
	}
	b := r.result.Bin()
	rows := func(list []plan.StashPiece) []binRowJSON {
		out := []binRowJSON{}
		for _, s := range list {
			out = append(out, binRowJSON{s.ID, s.Fabric, s.Count})
		}
		return out
	}
	return key("bin", binJSON{b.Scraps, b.Cut, b.Need, b.Used, b.Most, rows(b.LetGo), rows(b.Left)})
}

// scrapsJSON is what a fabric's scraps give of the pieces, where they go first, in
// square ticks, and what proves that it is the most, if it is.
type scrapsJSON struct {
	Used     units.Area `json:"used"`
	Most     units.Area `json:"most"`
	ProvedBy *string    `json:"proved_by"`
}

// scrapsFirst makes status and bounds speak of what is bought, as they do
// everywhere in the file: the solution's speak of the scraps, and of the rest alone.
func (f *fabricJSON) scrapsFirst(sol pack.Solution) {
	f.Scraps = &scrapsJSON{Used: sol.FromScraps, Most: sol.MostScraps}
	if sol.ProvedBy != "" {
		f.Scraps.ProvedBy = &sol.ProvedBy
	}
	f.Area.Bound = &sol.AreaBound
	if sol.Cost == 0 {
		return
	}
	if f.Price != nil {
		f.Price.Bound = nil
	}
	if sol.Status == pack.Proved {
		f.Status = pack.Found.String()
	}
}
