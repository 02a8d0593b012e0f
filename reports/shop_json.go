package reports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"pinfold/plan"
	"pinfold/units"
)

// ShopSchema names the version of shopping.json.
const ShopSchema = "pinfold/shop/1"

// The JSON of a shopping list: lengths in ticks, areas in square ticks, money in
// the smallest coin. Every purchase carries its cutting, in the form a fabric
// has in result.json.
type (
	shopFabricJSON struct {
		Fabric  string         `json:"fabric"`
		Goal    string         `json:"goal"` // "price" or "area"
		Answer  *shopBuyJSON   `json:"answer"`
		Why     shopWhyJSON    `json:"why"`
		Cheaper *shopBuyJSON   `json:"cheaper"`
		Safer   *shopBuyJSON   `json:"safer"`
		Spares  []shopSpare    `json:"spares"`
		Holds   []shopHoldJSON `json:"holds"`
		Ways    []shopWayJSON  `json:"ways"`
	}
	shopBuyJSON struct {
		Buy     []purchaseJSON  `json:"buy"`
		Cost    int64           `json:"cost"` // in the goal
		Verdict string          `json:"verdict"`
		Spares  []shopSpare     `json:"spares,omitempty"`
		Cut     json.RawMessage `json:"cut"`
	}
	shopWhyJSON struct {
		Text     string         `json:"text"`
		Less     []purchaseJSON `json:"less"` // the most cloth for less
		Pieces   units.Area     `json:"pieces"`
		Stash    units.Area     `json:"stash"`
		Cloth    units.Area     `json:"cloth"` // of less
		Floor    int64          `json:"floor"` // proved: nothing costs less
		ProvedBy string         `json:"proved_by,omitempty"`
	}
	shopSpare struct {
		ID      string `json:"id"`
		Planned int    `json:"planned"`
		Left    int    `json:"left"`
		Room    int    `json:"room"`
	}
	shopHoldJSON struct {
		Offer    string       `json:"offer"`
		Along    bool         `json:"along"`
		Promised units.Length `json:"promised"`
		Down     units.Length `json:"down"`
		Fails    units.Length `json:"fails"` // 0 when none is proved
	}
	shopWayJSON struct {
		Way    string          `json:"way"`
		Sold   bool            `json:"sold"`
		Status string          `json:"status,omitempty"`
		Cost   *int64          `json:"cost"`
		Bound  *int64          `json:"bound"` // null when pieces are missing
		Buy    []purchaseJSON  `json:"buy"`
		Cut    json.RawMessage `json:"cut"`
	}
	shopBudgetJSON struct {
		Limit  int64             `json:"limit"`
		Spent  int64             `json:"spent"`
		Fits   bool              `json:"fits"`
		Least  int64             `json:"least"` // proved
		Bought []json.RawMessage `json:"bought"`
	}
)

// wayNames are the ways' names in the JSON and the table to reckon with.
var wayNames = map[plan.WayKind]string{
	plan.StashFirst: "cheapest", plan.OnlyCuts: "only cuts", plan.OnlyLength: "only by length", plan.WithoutStash: "without the stash",
}

// WriteJSON writes the list for other programs, the hash of everything above it
// last, as in result.json.
func (r *ShopReport) WriteJSON(w io.Writer) error {
	var b bytes.Buffer
	res := r.shop.Result
	key := keysTo(&b)
	b.WriteString("{\n")
	err := firstOf(
		key("schema", ShopSchema),
		key("ticks_per_inch", units.Inch),
		key("title", res.Plan.Title),
		key("unit", res.Plan.Unit.String()),
		key("money", res.Plan.Money),
		key("seed", res.Seed),
		key("effort", res.Effort.String()),
		key("stopped", r.Stopped),
		key("total", r.shop.Price),
		r.shopFabricsJSON(&b),
		key("budget", r.shopBudgetJSON()),
		(&Report{result: res}).splitsJSON(key),
		key("changed", append([]string{}, r.Changed...)),
		key("missing", append([]string{}, r.Missing...)),
		key("warnings", append([]string{}, r.Warnings...)),
		key("notes", append([]string{}, r.Notes...)),
	)
	if err != nil {
		return fmt.Errorf("writing the shopping list as JSON: %w", err)
	}
	b.WriteString(hashJSON(b.Bytes()))
	_, err = w.Write(b.Bytes())
	return err
}

func (r *ShopReport) shopFabricsJSON(b *bytes.Buffer) error {
	b.WriteString("  \"fabrics\": [")
	for i, c := range r.shop.Counters {
		f := &r.shop.Result.Fabrics[i]
		out := shopFabricJSON{
			Fabric: f.Need.Fabric, Goal: map[bool]string{true: "price", false: "area"}[f.Priced],
			Answer: r.buyJSON(&c.Answer, nil), Cheaper: r.buyJSON(c.Cheaper, nil), Safer: r.buyJSON(c.Safer, c.SaferSpares),
			Why: shopWhyJSON{
				Text: r.Cards[i].Why, Less: r.purchasesJSON(c.Reason.Less), Pieces: c.Reason.Pieces, Stash: c.Reason.Stash,
				Cloth: c.Reason.Cloth, Floor: c.Reason.Floor, ProvedBy: c.Reason.ProvedBy,
			},
			Spares: sparesJSON(c.Spares), Holds: []shopHoldJSON{},
		}
		for _, h := range c.Holds {
			out.Holds = append(out.Holds, shopHoldJSON{h.Offer.Name, h.Along, h.Promised, h.Down, h.Fails})
		}
		for _, way := range r.shop.Ways {
			out.Ways = append(out.Ways, r.wayJSON(way.Kind, way.Answers[i]))
		}
		text, err := json.Marshal(out)
		if err != nil {
			return err
		}
		fmt.Fprintf(b, "%s\n    %s", comma(i), text)
	}
	b.WriteString("],\n")
	return nil
}

func (r *ShopReport) buyJSON(c *plan.Choice, spares []plan.SpareCount) *shopBuyJSON {
	if c == nil {
		return nil
	}
	out := &shopBuyJSON{Buy: r.purchasesJSON(c.Purchases), Cost: c.Cost, Verdict: c.Verdict.String(), Cut: r.cutJSON(&c.Cut)}
	if len(spares) > 0 {
		out.Spares = sparesJSON(spares)
	}
	return out
}

func sparesJSON(counts []plan.SpareCount) []shopSpare {
	out := []shopSpare{}
	for _, s := range counts {
		out = append(out, shopSpare{s.ID, s.Planned, s.Left, s.Room})
	}
	return out
}

func (r *ShopReport) wayJSON(kind plan.WayKind, a plan.WayAnswer) shopWayJSON {
	out := shopWayJSON{Way: wayNames[kind], Sold: a.Sold, Buy: r.purchasesJSON(a.Purchases), Cut: json.RawMessage("null")}
	if !a.Sold {
		return out
	}
	s := a.Cut.Solution
	out.Status, out.Cost, out.Cut = s.Status.String(), &s.Cost, r.cutJSON(&a.Cut)
	if !short(&a.Cut) {
		out.Bound = &s.Bound
	}
	return out
}

func (r *ShopReport) shopBudgetJSON() *shopBudgetJSON {
	b := r.shop.Budget
	if b == nil {
		return nil
	}
	out := &shopBudgetJSON{Limit: b.Limit, Spent: b.Spent, Fits: b.Fits, Least: b.Least, Bought: []json.RawMessage{}}
	for _, c := range b.Bought {
		out.Bought = append(out.Bought, r.cutJSON(&c.Cut))
	}
	return out
}

func (r *ShopReport) purchasesJSON(list []plan.Purchase) []purchaseJSON {
	one := Report{Shopping: shopping(&plan.Result{Plan: r.shop.Result.Plan, Shopping: list}), result: &plan.Result{Shopping: list}}
	return one.shoppingJSON()
}

// cutJSON is a fabric of result.json on one line.
func (r *ShopReport) cutJSON(f *plan.FabricResult) json.RawMessage {
	res := &plan.Result{Plan: r.shop.Result.Plan, Gathered: r.shop.Result.Gathered, Fabrics: []plan.FabricResult{*f}}
	one := Report{result: res}
	one.Sheets, _ = sheets(res, 0, 0)
	one.Fabrics = []Fabric{fabric(res, 0, one.Sheets)}
	var b bytes.Buffer
	if err := one.fabricsJSON(&b); err != nil {
		panic(err) // only plain data is marshalled
	}
	// "fabrics": [ {...} ],
	text := b.Bytes()
	text = text[bytes.IndexByte(text, '[')+1 : bytes.LastIndexByte(text, ']')]
	return json.RawMessage(bytes.TrimSpace(text))
}
