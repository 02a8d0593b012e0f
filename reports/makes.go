package reports

import (
	"fmt"
	"strconv"
	"strings"

	"pinfold/plan"
	"pinfold/units"
)

// MakesReport tells what the stash alone can make, worked out and worded.
type MakesReport struct {
	Title string
	// Headline is the best mix in one sentence, Standing how good it is known to
	// be.
	Headline, Standing string
	// Ends tells what stops a mix by proportions; "" otherwise.
	Ends    string
	Lines   []MakesRow
	Stopped bool

	makes *plan.Makes
}

// MakesRow is one ornament in one colourway.
type MakesRow struct {
	Name   string // "harbour star in night water and sailcloth"
	Listed int
	Mixed  int    // in the best mix
	Alone  Figure // when everything goes into it
	// Short tells what one more lacks when everything goes into this line, Next
	// when the rest of the mix stays; "" when nothing is to be said.
	Short, Next string
}

// NewMakes works the report out. The answer must not be changed afterwards.
func NewMakes(m *plan.Makes) *MakesReport {
	r := &MakesReport{Title: plain(m.Plan.Title), Stopped: m.Stopped, makes: m}
	if r.Title == "" {
		r.Title = "From the stash"
	}
	listed := 0
	for _, l := range m.Lines {
		listed += l.Count
		row := MakesRow{
			Name: lineName(l), Listed: l.Count, Mixed: l.Mixed,
			Alone: Figure{Count: l.Alone.Found, Most: int64(l.Alone.AtMost)},
		}
		if s := r.short(l.Out); s != "" {
			row.Short = oneMore(l.Alone.Found) + ": " + s
		}
		if s := r.short(l.Next); s != "" {
			row.Next = oneMore(l.Mixed) + ": " + s
		}
		r.Lines = append(r.Lines, row)
	}
	r.Headline = fmt.Sprintf("The stash alone makes %s of the %s on the list", thousands(int64(m.Mix.Found)), counted(listed, "ornament"))
	if m.InProportion {
		r.Headline += ", in the list's proportions"
	}
	if s := m.Plan.Cutting.Spare; s > 0 {
		r.Headline += fmt.Sprintf(", with %s%% spare pieces", strconv.FormatFloat(float64(s)/100, 'f', -1, 64))
	}
	r.Headline += "."
	r.Standing = r.standing(listed)
	r.Ends = r.short(m.Out)
	return r
}

func oneMore(than int) string {
	if than == 0 {
		return "not even one"
	}
	return "one more"
}

func (r *MakesReport) standing(listed int) string {
	m := r.makes.Mix
	more := "no other mix is larger"
	if r.makes.InProportion {
		more = "more cannot be cut"
	}
	switch {
	case m.Found == listed:
		return "That is the whole list."
	case m.Proved():
		return "Proved: " + more + "."
	}
	return fmt.Sprintf("Best found: more than %s are proved impossible.", thousands(int64(m.AtMost)))
}

// lineName is an ornament with the fabrics it is made in, each named once.
func lineName(l plan.MakesLine) string {
	var fabrics []string
	seen := map[string]bool{}
	for _, f := range l.Colourway {
		var any []string
		for _, one := range f.Any() {
			any = append(any, plain(one.Name))
		}
		if s := strings.Join(any, " or "); !seen[s] {
			seen[s] = true
			fabrics = append(fabrics, s)
		}
	}
	return plain(l.Ornament) + " in " + list(fabrics)
}

// short words which fabrics run out and what is missing.
func (r *MakesReport) short(out []plan.RunOut) string {
	var parts []string
	for _, o := range out {
		parts = append(parts, shortOf(o, r.makes.Plan.Unit))
	}
	return strings.Join(parts, "; ")
}

func shortOf(o plan.RunOut, u units.Unit) string {
	name := plain(o.Fabric)
	if o.None {
		return "there is no " + name
	}
	s := name + " runs out"
	if o.ProvedBy == "" {
		s = name + " seems to run out"
	}
	if len(o.Missing) == 0 {
		return s
	}
	q := o.Missing[0]
	s += fmt.Sprintf(", short of %s of %s of %s", thousands(int64(q.Count)), counted(q.Of, "piece"), q.Size.Format(u))
	if n := len(o.Missing) - 1; n > 0 {
		s += " and of " + counted(n, "other size")
	}
	return s
}
