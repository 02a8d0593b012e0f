package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"pinfold/pack"
)

// runs is what -out writes. The first fields tell which run it was.
type runs struct {
	Family string   `json:"family"`
	Effort string   `json:"effort"`
	Turn   bool     `json:"turn"`
	Stages int      `json:"stages"`
	Seed   uint64   `json:"seed"`
	Runs   []record `json:"runs"`
}

// record is the result of one instance. Value and Bound are sheets, cost, value
// or length, as the problem asks.
type record struct {
	Name     string   `json:"name"`
	Problem  string   `json:"problem"`
	Turn     bool     `json:"turn"`
	Value    int64    `json:"value"`
	Bound    int64    `json:"bound"`
	Proved   bool     `json:"proved"`
	ProvedBy string   `json:"proved_by,omitempty"`
	MS       int64    `json:"ms"`
	Kerf     int64    `json:"kerf"`
	Best     *float64 `json:"best,omitempty"` // published
	Missing  int      `json:"missing,omitempty"`
	Items    []item   `json:"items"`
	Sheets   []sheet  `json:"sheets"`
}

type item struct {
	ID      string `json:"id"`
	W       int64  `json:"w"`
	H       int64  `json:"h"`
	Demand  *int64 `json:"demand"`
	Turn    bool   `json:"turn"`
	Value   *int64 `json:"value"`
	Missing int    `json:"missing,omitempty"`
}

type sheet struct {
	ID         string      `json:"id"`
	Cost       int64       `json:"cost,omitempty"`
	Width      int64       `json:"width"`
	Height     int64       `json:"height"`
	Copies     int         `json:"copies"`
	Placements []placement `json:"placements"`
	Offcuts    []rect      `json:"offcuts"`
	Cuts       tree        `json:"cuts"`
}

type rect struct {
	X int64 `json:"x"`
	Y int64 `json:"y"`
	W int64 `json:"w"`
	H int64 `json:"h"`
}

type placement struct {
	Piece string `json:"piece"`
	rect
	Turned bool `json:"turned"`
}

// tree is a cut with its parts, or a leaf.
type tree map[string]any

func describe(pieces []pack.Piece, in instance) []item {
	out := make([]item, len(pieces))
	for i, q := range pieces {
		out[i] = item{ID: q.ID, W: int64(q.W), H: int64(q.H), Demand: in.Items[i][2], Turn: q.Turn, Value: in.Items[i][3]}
	}
	return out
}

func rectOf(r pack.Rect) rect { return rect{int64(r.X), int64(r.Y), int64(r.W), int64(r.H)} }

func sheetOf(id string, p pack.Problem, l pack.Layout) sheet {
	s := sheet{ID: id, Width: int64(l.W), Height: int64(l.H), Copies: l.Copies, Placements: []placement{}, Offcuts: []rect{}}
	if l.Stock.Sheet != pack.FromRoll {
		s.Cost = p.Sheets[l.Stock.Sheet].Price
	}
	for _, q := range l.Placements(p.Rules.Kerf) {
		s.Placements = append(s.Placements, placement{p.Pieces[q.Piece].ID, rectOf(q.Rect), q.Turned})
	}
	for _, o := range l.Offcuts(p.Rules.Kerf) {
		s.Offcuts = append(s.Offcuts, rectOf(o))
	}
	s.Cuts = treeOf(p, l.Cuts)
	return s
}

func treeOf(p pack.Problem, n *pack.Node) tree {
	switch n.Leaf {
	case pack.PieceLeaf:
		return tree{"piece": p.Pieces[n.Piece].ID, "turned": n.Turned}
	case pack.OffcutLeaf:
		return tree{"offcut": true}
	case pack.WasteLeaf:
		return tree{"waste": true}
	}
	parts := make([]tree, len(n.Parts))
	for i, q := range n.Parts {
		parts[i] = treeOf(p, q)
	}
	return tree{"axis": n.Axis.String(), "at": n.At, "parts": parts}
}

// readRuns reads an earlier -out; a file that does not exist holds no runs.
func readRuns(file string) (runs, error) {
	var r runs
	b, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return r, nil
	}
	if err != nil {
		return r, err
	}
	if err := json.Unmarshal(b, &r); err != nil {
		return r, fmt.Errorf("%s: %w", file, err)
	}
	return r, nil
}

// write replaces the file as a whole.
func (r runs) write(file string) error {
	b, err := json.Marshal(r)
	if err != nil {
		return err
	}
	return replace(file, append(b, '\n'))
}

// replace writes a file beside its old content, then puts it there.
func replace(file string, b []byte) error {
	if err := os.WriteFile(file+".new", b, 0o666); err != nil {
		return err
	}
	return os.Rename(file+".new", file)
}

// byName finds runs again.
func (r runs) byName() map[string]record {
	m := make(map[string]record, len(r.Runs))
	for _, q := range r.Runs {
		m[q.Name] = q
	}
	return m
}
