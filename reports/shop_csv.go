package reports

import (
	"encoding/csv"
	"fmt"
	"io"

	"pinfold/plan"
)

// WriteCSV writes the list as a table: for each fabric a row for each line of
// the answer, of the cheaper and the safer purchase and of every way to buy.
// Amounts are plain numbers in the plan's money and unit.
func (r *ShopReport) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"fabric", "choice", "ask for", "count", "length", "unit", "price", "missing pieces", "standing", "price bound"}}
	for i, c := range r.shop.Counters {
		rows = append(rows, r.choiceRows("answer", c.Answer.Purchases, &c.Answer.Cut)...)
		if c.Cheaper != nil {
			rows = append(rows, r.choiceRows("cheaper", c.Cheaper.Purchases, &c.Cheaper.Cut)...)
		}
		if c.Safer != nil {
			rows = append(rows, r.choiceRows("safer", c.Safer.Purchases, &c.Safer.Cut)...)
		}
		for _, way := range r.shop.Ways[min(1, len(r.shop.Ways)):] {
			if a := way.Answers[i]; a.Sold {
				rows = append(rows, r.choiceRows(wayNames[way.Kind], a.Purchases, &a.Cut)...)
			} else {
				rows = append(rows, []string{r.shop.Result.Fabrics[i].Need.Fabric, wayNames[way.Kind], "", "", "", "", "", "", "not sold", ""})
			}
		}
	}
	for _, row := range rows {
		for i := range row {
			row[i] = harmless(row[i])
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func (r *ShopReport) choiceRows(choice string, buys []plan.Purchase, f *plan.FabricResult) [][]string {
	missing := 0
	for _, n := range f.Solution.Missing {
		missing += n
	}
	tail := []string{fmt.Sprint(missing), f.Solution.Status.String(), ""}
	if f.Priced && missing == 0 {
		tail[2] = coins(f.Solution.Bound)
	}
	if len(buys) == 0 {
		return [][]string{append([]string{f.Need.Fabric, choice, "nothing", "", "", "", ""}, tail...)}
	}
	var rows [][]string
	for i, b := range buys {
		count, length, price := fmt.Sprint(b.Count), "", ""
		if b.Offer.Kind == plan.SoldByLength {
			count, length = "", decimal(b.Length, r.Unit)
		}
		if b.Price != nil {
			price = coins(*b.Price)
		}
		row := []string{f.Need.Fabric, choice, amount(b), count, length, r.Unit.String(), price}
		if i > 0 {
			tail = []string{"", "", ""}
		}
		rows = append(rows, append(row, tail...))
	}
	return rows
}

// coins prints an amount without sign and separators.
func coins(v int64) string { return fmt.Sprintf("%d.%02d", v/100, v%100) }
