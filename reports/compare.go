package reports

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"text/tabwriter"

	"pinfold/plan"
	"pinfold/units"
)

// Trade is a plan under each preference, worded: what fewer passes cost.
type Trade struct {
	Title string
	Rows  []TradeRow
	Notes []string

	c *plan.Comparison
}

// TradeRow is the plan under one preference.
type TradeRow struct {
	Prefer              string // as the plan file has it
	Money               string // "" where nothing has a price
	Bought, Stash, Kept string // areas
	Passes, Steps, Time string
	Share               string // of the passes of one sheet at a time
}

// NewTrade words a comparison.
func NewTrade(c *plan.Comparison) *Trade {
	t := &Trade{Title: plain(c.Plan.Title), c: c}
	area := func(a units.Area) string {
		return fmt.Sprintf("%s sq %s", thousands(int64(a.In(c.Plan.Unit)+0.5)), c.Plan.Unit)
	}
	for _, r := range c.Rows {
		row := TradeRow{
			Prefer: r.Prefer.String(), Bought: area(r.Bought), Stash: area(r.Hand), Kept: area(r.Kept),
			Passes: thousands(int64(r.Passes)), Steps: thousands(int64(len(r.Result.Session.Jobs))), Time: duration(r.Seconds),
		}
		if len(c.Unpriced) < len(r.Result.Fabrics) {
			row.Money = money(c.Plan.Money, r.Price)
		}
		if c.Singly > 0 {
			row.Share = fmt.Sprintf("%d%%", (200*r.Passes+c.Singly)/(2*c.Singly))
		}
		t.Rows = append(t.Rows, row)
	}
	pace := c.Plan.Cutting.Seconds(1)
	t.Notes = []string{
		fmt.Sprintf("Cut one sheet and one layer at a time, the layouts of thrift take %s, %s.",
			passes(c.Singly), duration(c.Plan.Cutting.Seconds(c.Singly))),
		fmt.Sprintf("The time is a rule of thumb: %s to lay the ruler, cut and move on. Set your own under cutting, like seconds a pass: %d.",
			counted(pace, "second")+" a pass", pace),
		"Money comes first under every preference. Choose one under cutting, like prefer: balanced.",
	}
	if len(c.Unpriced) > 0 {
		var names []string
		for _, n := range c.Unpriced {
			names = append(names, plain(n))
		}
		t.Notes = append(t.Notes, "Without a price, and counted as cloth alone: "+list(names)+".")
	}
	return t
}

// duration rounds to minutes, up: "2 h 05 min".
func duration(seconds int) string {
	minutes := (seconds + 59) / 60
	if minutes < 60 {
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

// WriteText writes the comparison for a terminal.
func (t *Trade) WriteText(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "%s: what fewer passes cost\n\n", t.Title)
	tab := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tab, "money\tbought\tfrom stash\tkept\tsteps\tpasses\tof singly\ttime\t  prefer")
	for _, r := range t.Rows {
		fmt.Fprintf(tab, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t  %s\n", r.Money, r.Bought, r.Stash, r.Kept, r.Steps, r.Passes, r.Share, r.Time, r.Prefer)
	}
	tab.Flush()
	fmt.Fprintln(b)
	for _, n := range t.Notes {
		for _, line := range folded(n, screen) {
			fmt.Fprintln(b, line)
		}
	}
	return b.Flush()
}

// WriteCSV writes compare.csv: one row a preference, numbers bare, areas in square
// inches or centimetres with two decimals.
func (t *Trade) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	u := t.c.Plan.Unit
	rows := [][]string{{"prefer", "money", "bought sq " + u.String(), "stash sq " + u.String(), "kept sq " + u.String(), "steps", "passes", "seconds"}}
	for _, r := range t.c.Rows {
		rows = append(rows, []string{
			r.Prefer.String(), fmt.Sprintf("%d.%02d", r.Price/100, r.Price%100),
			fmt.Sprintf("%.2f", r.Bought.In(u)), fmt.Sprintf("%.2f", r.Hand.In(u)), fmt.Sprintf("%.2f", r.Kept.In(u)),
			fmt.Sprint(len(r.Result.Session.Jobs)), fmt.Sprint(r.Passes), fmt.Sprint(r.Seconds),
		})
	}
	rows = append(rows, []string{"thrift, one sheet at a time", "", "", "", "", "", fmt.Sprint(t.c.Singly), fmt.Sprint(t.c.Plan.Cutting.Seconds(t.c.Singly))})
	if err := out.WriteAll(rows); err != nil {
		return err
	}
	return out.Error()
}

// TradeSchema names the version of compare.json.
const TradeSchema = "pinfold/compare/1"

// The JSON of a comparison: money in the smallest coin, areas in square ticks.
type (
	tradeJSON struct {
		Schema      string         `json:"schema"`
		Title       string         `json:"title"`
		Money       string         `json:"money"`
		Seed        uint64         `json:"seed"`
		Effort      string         `json:"effort"`
		SecondsPass int            `json:"seconds_a_pass"`
		Singly      int            `json:"passes_one_sheet_at_a_time"` // of thrift
		Preferences []tradeRowJSON `json:"preferences"`
		Unpriced    []string       `json:"unpriced"`
	}
	tradeRowJSON struct {
		Prefer  string `json:"prefer"`
		Price   int64  `json:"price"`
		Bought  int64  `json:"bought"`
		Stash   int64  `json:"stash"`
		Kept    int64  `json:"kept"`
		Steps   int    `json:"steps"` // settings of the ruler, and squaring
		Passes  int    `json:"passes"`
		AtLeast int    `json:"at_least"` // bound on the passes of these layouts
		Seconds int    `json:"seconds"`
	}
)

// WriteJSON writes the comparison for other programs, on one line.
func (t *Trade) WriteJSON(w io.Writer) error {
	first := t.c.Rows[0].Result
	out := tradeJSON{
		Schema: TradeSchema, Title: t.c.Plan.Title, Money: t.c.Plan.Money, Seed: first.Seed, Effort: first.Effort.String(),
		SecondsPass: t.c.Plan.Cutting.Seconds(1), Singly: t.c.Singly, Unpriced: append([]string{}, t.c.Unpriced...),
	}
	for _, r := range t.c.Rows {
		out.Preferences = append(out.Preferences, tradeRowJSON{
			r.Prefer.String(), r.Price, int64(r.Bought), int64(r.Hand), int64(r.Kept), len(r.Result.Session.Jobs), r.Passes, r.Result.Session.AtLeast, r.Seconds,
		})
	}
	text, err := json.Marshal(out)
	if err != nil {
		return fmt.Errorf("writing the comparison as JSON: %w", err)
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// Write writes the comparison into the folder, as compare.csv and compare.json,
// whole or not at all, and returns their paths. Other formats are refused.
func (t *Trade) Write(dir string, formats []Format) ([]string, error) {
	files, err := named("compare", formats, writer{CSV, t.WriteCSV}, writer{JSON, t.WriteJSON})
	if err != nil {
		return nil, err
	}
	return place(dir, files)
}
