package reports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"pinfold/plan"
	"pinfold/units"
)

// MakesSchema names the version of makes.json.
const MakesSchema = "pinfold/makes/1"

// The JSON of what a stash makes; lengths in ticks.
type (
	mostJSON struct {
		Found  int  `json:"found"`
		AtMost int  `json:"at_most"`
		Proved bool `json:"proved"`
	}
	makesLineJSON struct {
		Ornament  string        `json:"ornament"`
		Colourway []fillingJSON `json:"colourway"`
		Listed    int           `json:"listed"`
		Mixed     int           `json:"mixed"`
		Next      []runOutJSON  `json:"next"`
		Alone     mostJSON      `json:"alone"`
		Out       []runOutJSON  `json:"out"`
	}
	fillingJSON struct {
		Role    string   `json:"role"`
		Fabrics []string `json:"fabrics"` // any of them
	}
	runOutJSON struct {
		Fabric   string        `json:"fabric"`
		None     bool          `json:"none"`
		ProvedBy *string       `json:"proved_by"`
		Missing  []missingJSON `json:"missing"`
	}
	missingJSON struct {
		ID    string       `json:"id"` // the size's letter in the whole plan
		W     units.Length `json:"w"`
		H     units.Length `json:"h"`
		Count int          `json:"count"`
		Of    int          `json:"of"`
	}
)

// WriteJSON writes makes.json: one top-level key a line, one line of the list a
// line, the hash of everything above it last, as in result.json.
func (r *MakesReport) WriteJSON(w io.Writer) error {
	var b bytes.Buffer
	m := r.makes
	key := keysTo(&b)
	b.WriteString("{\n")
	err := firstOf(
		key("schema", MakesSchema),
		key("ticks_per_inch", units.Inch),
		key("title", m.Plan.Title),
		key("unit", m.Plan.Unit.String()),
		key("seed", m.Seed),
		key("effort", m.Effort.String()),
		key("stopped", m.Stopped),
		key("in_proportion", m.InProportion),
		key("mix", most(m.Mix)),
		key("out", runOuts(m.Out)),
		r.linesJSON(&b),
	)
	if err != nil {
		return fmt.Errorf("writing what the stash makes as JSON: %w", err)
	}
	b.WriteString(hashJSON(b.Bytes()))
	_, err = w.Write(b.Bytes())
	return err
}

func most(m plan.Most) mostJSON { return mostJSON{m.Found, m.AtMost, m.Proved()} }

func (r *MakesReport) linesJSON(b *bytes.Buffer) error {
	b.WriteString("  \"lines\": [")
	for i, l := range r.makes.Lines {
		row := makesLineJSON{
			Ornament: l.Ornament, Colourway: []fillingJSON{}, Listed: l.Count, Mixed: l.Mixed,
			Next: runOuts(l.Next), Alone: most(l.Alone), Out: runOuts(l.Out),
		}
		for _, f := range l.Colourway {
			fill := fillingJSON{Role: f.Role}
			for _, one := range f.Any() {
				fill.Fabrics = append(fill.Fabrics, one.Name)
			}
			row.Colourway = append(row.Colourway, fill)
		}
		text, err := json.Marshal(row)
		if err != nil {
			return err
		}
		fmt.Fprintf(b, "%s\n    %s", comma(i), text)
	}
	b.WriteString("],\n")
	return nil
}

func runOuts(out []plan.RunOut) []runOutJSON {
	rows := []runOutJSON{}
	for _, o := range out {
		row := runOutJSON{Fabric: o.Fabric, None: o.None, Missing: []missingJSON{}}
		if o.ProvedBy != "" {
			row.ProvedBy = &o.ProvedBy
		}
		for _, q := range o.Missing {
			row.Missing = append(row.Missing, missingJSON{q.ID, q.Size.Across, q.Size.Along, q.Count, q.Of})
		}
		rows = append(rows, row)
	}
	return rows
}
