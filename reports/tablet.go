package reports

import (
	_ "embed"
	"html/template"
	"io"
	"slices"
	"strings"
)

// The page, with its style and script written into it: it is one file.
var (
	//go:embed tablet_page.html
	tabletPage string
	//go:embed tablet_style.css
	tabletStyle string
	//go:embed tablet_script.js
	tabletScript string
)

// WriteHTML writes the plan as one page for the table where the cutting is done:
// it works from disk without a network, ticks steps off and remembers them.
func (r *Report) WriteHTML(w io.Writer) error {
	t := template.New("").Funcs(template.FuncMap{"set": typeset, "commas": commas})
	for name, text := range map[string]string{"tablet": tabletPage, "style": tabletStyle, "script": tabletScript} {
		if _, err := t.New(name).Parse(text); err != nil {
			return err
		}
	}
	p, err := r.tablet()
	if err != nil {
		return err
	}
	return t.ExecuteTemplate(w, "tablet", p)
}

func commas(words []string) string { return strings.Join(words, ", ") }

// tablet is what the page shows beside the report itself.
type tablet struct {
	*Report
	Benches []tabletBench
	// Uncut are the sheets that are one piece as they come.
	Uncut []tabletSheet
	Keeps []tabletKeep
	// Cutting and Making are the cautions, where each belongs.
	Cutting, Making []Caution
	Data            tabletData
}

// tabletBench is a group of sheets that are cut together, with its steps.
type tabletBench struct {
	Number int
	Sheets []tabletSheet
	Steps  []tabletStep
}

type tabletSheet struct {
	*Sheet
	Picture template.HTML
}

type tabletStep struct {
	*Step
	Picture template.HTML
}

// tabletKeep is cloth that is left and worth keeping.
type tabletKeep struct {
	Label, Size, Fabric string
	Count, Sheet        int
}

// tabletData is what the script reads.
type tabletData struct {
	// Key names the result in the browser's store, so that no plan takes another
	// one's ticks.
	Key string `json:"key"`
	// Sheets are the numbers of the sheets that each step touches.
	Sheets [][]int `json:"sheets"`
}

func (r *Report) tablet() (*tablet, error) {
	hash, err := r.hashed(io.Discard)
	if err != nil {
		return nil, err
	}
	p := &tablet{Report: r, Data: tabletData{Key: "pinfold " + hash, Sheets: make([][]int, len(r.Steps))}}
	for i := range r.Sheets {
		for _, n := range r.Sheets[i].Steps {
			p.Data.Sheets[n-1] = append(p.Data.Sheets[n-1], r.Sheets[i].Number)
		}
	}
	r.benches(p)
	for i := range r.Sheets {
		s := &r.Sheets[i]
		for _, o := range s.Offcuts {
			p.Keeps = append(p.Keeps, tabletKeep{o.Label, sizeSaid(o.Size(), r.Unit), s.Fabric, s.Copies, s.Number})
		}
	}
	for _, c := range r.Cautions {
		if c.Cutting {
			p.Cutting = append(p.Cutting, c)
		} else {
			p.Making = append(p.Making, c)
		}
	}
	return p, nil
}

// benches deals steps and sheets out to the benches.
func (r *Report) benches(p *tablet) {
	for i := range r.Steps {
		st := &r.Steps[i]
		at := slices.IndexFunc(p.Benches, func(b tabletBench) bool { return b.Number == st.Bench })
		if at < 0 {
			at = len(p.Benches)
			p.Benches = append(p.Benches, tabletBench{Number: st.Bench})
		}
		b := &p.Benches[at]
		b.Steps = append(b.Steps, tabletStep{st, partPicture(st)})
		for _, n := range p.Data.Sheets[i] {
			if !slices.ContainsFunc(b.Sheets, func(s tabletSheet) bool { return s.Number == n }) {
				s := &r.Sheets[n-1]
				b.Sheets = append(b.Sheets, tabletSheet{s, r.sheetPicture(s)})
			}
		}
	}
	for _, b := range p.Benches {
		slices.SortFunc(b.Sheets, func(x, y tabletSheet) int { return x.Number - y.Number })
	}
	for i := range r.Sheets {
		if s := &r.Sheets[i]; len(s.Steps) == 0 {
			p.Uncut = append(p.Uncut, tabletSheet{s, r.sheetPicture(s)})
		}
	}
}
