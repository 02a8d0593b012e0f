package reports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"pinfold/pack"
	"pinfold/units"
)

// The JSON of the cutting session. Who has the cloth and this can cut the plan,
// job by job, without knowing the cut trees.
type (
	// sessionJSON is all but the jobs, which stand one on a line.
	sessionJSON struct {
		Passes  int `json:"passes"`
		AtLeast int `json:"at_least"`
		// Layers is the most cloth under one pass, Ruler the longest cut one lay of
		// the ruler guides, 0 for no limit; Flat lists the fabrics never folded.
		Layers int          `json:"layers"`
		Ruler  units.Length `json:"ruler"`
		Flat   []string     `json:"flat"`
	}
	// jobJSON is one step. A job that squares has trims, w and h being those of the
	// raw cloth; any other takes measure off the left (axis x) or bottom (axis y)
	// edge of each region on the mat, cuts times. Part is what the regions are
	// called, "" for whole sheets and for what an earlier job leaves on the mat.
	jobJSON struct {
		Step    int          `json:"step"`
		Bench   int          `json:"bench"`
		Part    string       `json:"part,omitempty"`
		W       units.Length `json:"w"`
		H       units.Length `json:"h"`
		Count   int          `json:"count"`
		Turn    bool         `json:"turn,omitempty"`
		Axis    string       `json:"axis,omitempty"`
		Measure units.Length `json:"measure,omitempty"`
		Cuts    int          `json:"cuts,omitempty"`
		*layJSON
		Left   *units.Length `json:"left,omitempty"`
		Trims  []trimJSON    `json:"trims,omitempty"`
		Passes int           `json:"passes"`
		Lots   []lotJSON     `json:"lots"`
	}
	// layJSON is how regions lie: in how many layers each is folded, how often the
	// ruler is laid along a cut, how many regions are in each stack.
	layJSON struct {
		Fold   int   `json:"fold"`
		Lays   int   `json:"lays"`
		Stacks []int `json:"stacks"`
	}
	trimJSON struct {
		Side    string       `json:"side"`
		Selvage bool         `json:"selvage,omitempty"` // beyond w; takes nothing off it
		Width   units.Length `json:"width"`
		layJSON
		Passes int `json:"passes"`
	}
	// lotJSON is a region in all copies of a sheet. Whole is set for the sheet's
	// whole cloth, X and Y are where the region lies on it. Off is what comes off,
	// cut by cut, Rest what remains when all cuts are made; after squaring it is
	// missing where the sheet is cut further.
	lotJSON struct {
		Sheet  string       `json:"sheet"`
		Copies int          `json:"copies"`
		Whole  bool         `json:"whole,omitempty"`
		X      units.Length `json:"x"`
		Y      units.Length `json:"y"`
		Off    []outJSON    `json:"off,omitempty"`
		Rest   *outJSON     `json:"rest,omitempty"`
	}
	// outJSON is a piece, an offcut with its label, waste, or what the job named
	// by Step cuts further: under the name of Part, or left on the mat for it.
	outJSON struct {
		Piece  string `json:"piece,omitempty"`
		Turned bool   `json:"turned,omitempty"`
		Offcut string `json:"offcut,omitempty"`
		Waste  bool   `json:"waste,omitempty"`
		Part   string `json:"part,omitempty"`
		Step   int    `json:"step,omitempty"`
		Times  int    `json:"times,omitempty"` // how many in a row come off; 1 if missing
	}
)

// sessionJSON writes the session, one job a line.
func (r *Report) sessionJSON(b io.Writer) error {
	head := sessionJSON{Passes: r.result.Session.Passes, AtLeast: r.result.Session.AtLeast, Flat: []string{}}
	for i, f := range r.result.Fabrics {
		if i == 0 {
			head.Layers, head.Ruler = max(f.Problem.Rules.Layers, 1), f.Problem.Rules.Ruler
		}
		if f.Problem.Rules.Flat {
			head.Flat = append(head.Flat, f.Need.Fabric)
		}
	}
	text, err := json.Marshal(head)
	if err != nil {
		return err
	}
	fmt.Fprintf(b, "  \"session\": %s, \"jobs\": [", bytes.TrimSuffix(text, []byte("}")))
	for i := range r.Steps {
		text, err := json.Marshal(r.Steps[i].json())
		if err != nil {
			return err
		}
		fmt.Fprintf(b, "%s\n    %s", comma(i), text)
	}
	_, err = fmt.Fprint(b, "]},\n")
	return err
}

func (st *Step) json() jobJSON {
	j := st.job
	out := jobJSON{
		Step: st.Number, Bench: st.Bench, Part: st.Letter, W: j.W, H: j.H, Count: j.Count, Turn: st.Turn,
		Passes: st.Passes, Lots: st.lots,
	}
	if st.Square {
		for _, t := range st.Trims {
			out.Trims = append(out.Trims, trimJSON{t.Side.String(), t.Selvage, t.Width, layJSON{t.Fold, t.Lays, t.Heights}, t.Passes})
		}
		return out
	}
	out.Axis, out.Measure, out.Cuts, out.Left = j.Axis.String(), j.Measure, j.Cuts, &st.Left
	out.layJSON = &layJSON{st.Fold, st.Lays, st.Heights}
	return out
}

// lot is a lot of a job as JSON.
func (s *stepper) lot(j *pack.Job, l pack.Lot) lotJSON {
	sh := s.sheet(l)
	out := lotJSON{
		Sheet: fmt.Sprint(sh.Number), Copies: l.Copies, Whole: s.root(l) && l.From == 0,
		X: l.Rect.X, Y: l.Rect.Y,
	}
	if j.Square {
		if l.Node.Leaf != pack.NoLeaf {
			rest := s.out(l, cuttingOf(l), l.Rect)
			out.Rest = &rest
		}
		return out
	}
	for p := l.From; p < l.From+j.Cuts; p++ {
		c, r := s.part(l, p)
		o := s.out(l, c, r)
		if n := len(out.Off); n > 0 && out.Off[n-1].same(o) {
			out.Off[n-1].Times = max(out.Off[n-1].Times, 1) + 1
		} else {
			out.Off = append(out.Off, o)
		}
	}
	c, r := s.rest(*j, l)
	rest := s.out(l, c, r)
	out.Rest = &rest
	return out
}

func (o outJSON) same(p outJSON) bool {
	o.Times, p.Times = 0, 0
	return o == p
}

// out is what a part of a lot becomes.
func (s *stepper) out(l pack.Lot, c cutting, r pack.Rect) outJSON {
	switch c.node.Leaf {
	case pack.PieceLeaf:
		return outJSON{Piece: s.piece(l, c.node).ID, Turned: c.node.Turned}
	case pack.OffcutLeaf:
		return outJSON{Offcut: s.sheet(l).offcutAt(r)}
	case pack.WasteLeaf:
		return outJSON{Waste: true}
	}
	next := s.cutBy[c]
	return outJSON{Part: s.refs[next].letter, Step: next + 1}
}
