package reports

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"pinfold/plan"
	"pinfold/units"
)

// Costing is what a result costs, worded: the bill, and what of it falls on each
// order of the plan.
type Costing struct {
	Title string
	Bill  []CostLine
	Total string
	// Bought shares the whole bill; Used counts of the cloth only what is in the
	// pieces. Both end with the row of all ornaments.
	Bought, Used []CostRow
	Notes        []string

	result *plan.Result
	cost   *plan.Cost
}

// CostLine is one thing to pay for.
type CostLine struct{ Name, Detail, Price string }

// CostRow is what the ornaments of one order cost.
type CostRow struct {
	What                             string
	Fabric, Supplies, Together, Each string // Each is "" for all ornaments
}

// NewCosting works out the words of a result's cost.
func NewCosting(r *plan.Result, c *plan.Cost) *Costing {
	coins := func(n int64) string { return money(r.Plan.Money, n) }
	out := &Costing{Title: plain(r.Plan.Title), Total: coins(c.Total.Together(false)), result: r, cost: c}
	for _, b := range c.Bills {
		line := CostLine{Name: plain(b.Name), Price: coins(b.Bought), Detail: "from the stash"}
		var bought []string
		for _, p := range r.Shopping {
			if p.Fabric == b.Name {
				bought = append(bought, joined(" ", amount(p), boltOf(r.Plan, p)))
			}
		}
		switch {
		case b.Supply:
			line.Detail = supplied(r.Plan, b.Amount)
		case len(bought) > 0:
			line.Detail = strings.Join(bought, " + ")
		}
		out.Bill = append(out.Bill, line)
	}
	row := func(what string, o plan.OrderCost, used, each bool) CostRow {
		fabric := o.FabricBought
		if used {
			fabric = o.FabricUsed
		}
		out := CostRow{What: what, Fabric: coins(fabric), Supplies: coins(o.Supplies), Together: coins(o.Together(used))}
		if each {
			out.Each = coins(o.Each(used))
		}
		return out
	}
	for i, o := range c.Orders {
		what := fmt.Sprintf("%s %s: %s", thousands(int64(o.Count)), plain(r.Plan.Make[i].Ornament), cloths(r, i))
		out.Bought = append(out.Bought, row(what, o, false, true))
		out.Used = append(out.Used, row(what, o, true, true))
	}
	all := thousands(int64(c.Total.Count)) + " in all"
	out.Bought = append(out.Bought, row(all, c.Total, false, false))
	out.Used = append(out.Used, row(all, c.Total, true, false))
	out.Notes = costNotes(r, c)
	return out
}

func costNotes(r *plan.Result, c *plan.Cost) []string {
	notes := []string{
		"Each is the amount over the number, to the nearest 0.01; all other amounts add up.",
		"What is used is priced like the cloth that is bought, or like the cheapest to be had where the stash holds it all.",
	}
	if len(c.Unpriced) > 0 {
		var names []string
		for _, n := range c.Unpriced {
			names = append(names, plain(n))
		}
		notes = append(notes, "Without a price, and left out: "+list(names)+".")
	}
	for _, f := range r.Fabrics {
		for _, n := range f.Solution.Missing {
			if n > 0 {
				return append(notes, "The cloth does not hold every piece, so what is paid for it is not all it will cost.")
			}
		}
	}
	return notes
}

// supplied is how much of a supply is needed, and at what price.
func supplied(p *plan.Plan, s plan.Supply) string {
	if s.Length > 0 {
		per := s.Per.Yards()
		if p.Unit == units.Centimetres {
			per = s.Per.Metres()
		}
		return fmt.Sprintf("%s at %s for %s", s.Length.Format(p.Unit), fineMoney(p.Money, *s.Price), per)
	}
	return fmt.Sprintf("%s at %s", thousands(int64(s.Count)), fineMoney(p.Money, *s.Price))
}

// fineMoney writes hundredths of the smallest coin, "$0.021".
func fineMoney(sign string, hundredths int64) string {
	s := money(sign, hundredths/100)
	if rest := hundredths % 100; rest > 0 {
		s += strings.TrimRight(fmt.Sprintf("%02d", rest), "0")
	}
	return s
}

// WriteText writes the costing for a terminal.
func (c *Costing) WriteText(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "%s: what it costs\n", c.Title)
	section(b, "The bill")
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	for _, l := range c.Bill {
		fmt.Fprintf(t, "%s\t  %s, %s\n", l.Price, l.Name, l.Detail)
	}
	fmt.Fprintf(t, "%s\t  in all\n", c.Total)
	t.Flush()
	rows := func(title string, rows []CostRow) {
		section(b, title)
		t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
		fmt.Fprintln(t, "fabric\tsupplies\ttogether\teach\t  ornaments")
		for _, r := range rows {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t  %s\n", r.Fabric, r.Supplies, r.Together, r.Each, r.What)
		}
		t.Flush()
	}
	rows("Of what is bought: all that is paid, shared by the area of the pieces", c.Bought)
	rows("Of what is used: the cloth in the pieces alone, without waste and spares", c.Used)
	fmt.Fprintln(b)
	for _, n := range c.Notes {
		for _, line := range folded(n, screen) {
			fmt.Fprintln(b, line)
		}
	}
	return b.Flush()
}

// WriteCSV writes cost.csv: one row an order, amounts as bare numbers.
func (c *Costing) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"ornament", "fabrics", "count", "supplies", "fabric bought", "together bought", "each bought", "fabric used", "together used", "each used"}}
	for i, o := range c.cost.Orders {
		order := &c.result.Plan.Make[i]
		row := []string{harmless(order.Ornament), harmless(cloths(c.result, i)), fmt.Sprint(o.Count)}
		for _, n := range []int64{o.Supplies, o.FabricBought, o.Together(false), o.Each(false), o.FabricUsed, o.Together(true), o.Each(true)} {
			row = append(row, fmt.Sprintf("%d.%02d", n/100, n%100))
		}
		rows = append(rows, row)
	}
	if err := out.WriteAll(rows); err != nil {
		return err
	}
	return out.Error()
}

// CostSchema names the version of cost.json.
const CostSchema = "pinfold/cost/1"

// The JSON of a costing: money in the smallest coin, but the price of a supply
// in hundredths of it.
type (
	costJSON struct {
		Schema   string           `json:"schema"`
		Title    string           `json:"title"`
		Money    string           `json:"money"`
		Seed     uint64           `json:"seed"`
		Effort   string           `json:"effort"`
		Bill     []billJSON       `json:"bill"`
		Orders   []orderCostJSON  `json:"orders"`
		Total    orderAmountsJSON `json:"total"`
		Unpriced []string         `json:"unpriced"`
	}
	billJSON struct {
		What   string      `json:"what"`
		Kind   string      `json:"kind"` // "fabric" or "supply"
		Bought int64       `json:"bought"`
		Used   int64       `json:"used"`
		Price  *int64      `json:"price,omitempty"`
		Shares []shareJSON `json:"shares"` // by order
	}
	shareJSON struct {
		Bought int64 `json:"bought"`
		Used   int64 `json:"used"`
	}
	orderCostJSON struct {
		Ornament  string     `json:"ornament"`
		Colourway []roleJSON `json:"colourway"`
		orderAmountsJSON
		EachBought int64 `json:"each_bought"` // to the nearest coin
		EachUsed   int64 `json:"each_used"`
	}
	roleJSON struct {
		Role    string   `json:"role"`
		Fabrics []string `json:"fabrics"` // any of them
	}
	orderAmountsJSON struct {
		Count        int   `json:"count"`
		FabricBought int64 `json:"fabric_bought"`
		FabricUsed   int64 `json:"fabric_used"`
		Supplies     int64 `json:"supplies"`
	}
)

// WriteJSON writes the costing for other programs, on one line.
func (c *Costing) WriteJSON(w io.Writer) error {
	p := c.result.Plan
	out := costJSON{
		Schema: CostSchema, Title: p.Title, Money: p.Money, Seed: c.result.Seed, Effort: c.result.Effort.String(),
		Bill: []billJSON{}, Orders: []orderCostJSON{}, Total: amountsJSON(c.cost.Total), Unpriced: append([]string{}, c.cost.Unpriced...),
	}
	for _, b := range c.cost.Bills {
		line := billJSON{What: b.Name, Kind: "fabric", Bought: b.Bought, Used: b.Used, Price: b.Amount.Price}
		if b.Supply {
			line.Kind = "supply"
		}
		for _, s := range b.Shares {
			line.Shares = append(line.Shares, shareJSON(s))
		}
		out.Bill = append(out.Bill, line)
	}
	for i, o := range c.cost.Orders {
		order := orderCostJSON{
			Ornament: p.Make[i].Ornament, Colourway: []roleJSON{}, orderAmountsJSON: amountsJSON(o),
			EachBought: o.Each(false), EachUsed: o.Each(true),
		}
		for _, f := range p.Make[i].Colourway {
			role := roleJSON{Role: f.Role}
			for _, n := range f.Any() {
				role.Fabrics = append(role.Fabrics, n.Name)
			}
			order.Colourway = append(order.Colourway, role)
		}
		out.Orders = append(out.Orders, order)
	}
	text, err := json.Marshal(out)
	if err != nil {
		return fmt.Errorf("writing the cost as JSON: %w", err)
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

func amountsJSON(o plan.OrderCost) orderAmountsJSON {
	return orderAmountsJSON{o.Count, o.FabricBought, o.FabricUsed, o.Supplies}
}

// Write writes the costing into the folder, as cost.csv, cost.json and cost.pdf,
// whole or not at all, and returns their paths. Other formats are refused.
func (c *Costing) Write(dir string, formats []Format, paper Paper) ([]string, error) {
	files, err := named("cost", formats, writer{CSV, c.WriteCSV}, writer{JSON, c.WriteJSON}, pdfOn(c.WritePDF, paper))
	if err != nil {
		return nil, err
	}
	return place(dir, files)
}
