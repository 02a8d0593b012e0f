package plan

import (
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"pinfold/units"
)

// The columns of a stash file, which are also the keys of a stash in place. A
// stash without crooked pieces needs no shape.
var (
	stashKeys  = []string{"id", "fabric", "size", "count", "bad areas", "squared", "where", "note"}
	knownStash = append(slices.Clone(stashKeys), "shape")
)

// readStash reads the stash: the name of a file, or a list in place.
func (r *reader) readStash(n *yaml.Node, fetch StashFile) {
	if n.Kind == yaml.SequenceNode {
		for i, item := range r.items(n, "stash", "- {fabric: navy dot, size: 9 x 14}", maxStash) {
			if m, ok := r.mapping(item, r.pos(item), "a stash piece", knownStash...); ok {
				r.stashPiece(r.stashCells(m), m.at, i+1)
			}
		}
		r.stashIDs()
		return
	}
	c, ok := r.scalar(n, "stash")
	if !ok {
		return
	}
	if !localFile(c.text) {
		r.fault(c.at, "write a name like stash.csv, in the plan's folder or below", "stash %s leaves the plan's folder", quoted(c.text))
		return
	}
	if fetch == nil {
		r.fault(c.at, "list the pieces in place", "there is no folder to read stash %s from", quoted(c.text))
		return
	}
	data, shown, err := fetch(c.text)
	if err != nil {
		msg, hint := reason(err)
		if hint == "" {
			hint = "write the name of a CSV file in the plan's folder, or list the pieces in place"
		}
		r.fault(c.at, hint, "stash %s: %s", quoted(c.text), msg)
		return
	}
	sheet := reader{file: shown, plan: r.plan, broken: r.broken}
	sheet.readCSV(data)
	sheet.stashIDs()
	r.faults = append(r.faults, sheet.faults...)
	r.more += sheet.more
}

// stashCells takes the values of a stash piece in place; its bad areas and the
// corners of its shape may be a list of texts.
func (r *reader) stashCells(m mapping) map[string]cell {
	cells := map[string]cell{}
	for _, k := range knownStash {
		n := m.get(k)
		if n == nil {
			continue
		}
		if (k == "bad areas" || k == "shape") && n.Kind == yaml.SequenceNode {
			var texts []string
			for _, item := range n.Content {
				if c, ok := r.scalar(item, k); ok {
					texts = append(texts, c.text)
				}
			}
			cells[k] = cell{strings.Join(texts, "; "), r.pos(n)}
			continue
		}
		if c, ok := r.scalar(n, k); ok {
			cells[k] = c
		}
	}
	return cells
}

// stashPiece adds the piece described by cells, the nth of the stash. Cells
// that are blank count as missing.
func (r *reader) stashPiece(cells map[string]cell, at Pos, nth int) {
	for k, c := range cells {
		if strings.TrimSpace(c.text) == "" {
			delete(cells, k)
		}
	}
	s := StashPiece{At: at, ID: "", Count: 1, Where: cells["where"].text, Note: cells["note"].text}
	if c, ok := cells["id"]; ok {
		s.ID, _ = r.named(c, "stash piece")
	}
	if c, ok := cells["fabric"]; !ok {
		r.fault(at, "write the fabric's name as the plan does", "stash piece %d has no fabric", nth)
	} else {
		s.Fabric, _ = r.named(c, "fabric")
	}
	sized := r.stashSize(&s, cells, at, nth)
	if c, ok := cells["count"]; ok {
		n, err := whole(c.text, 1, maxCopies)
		if err != nil {
			r.wrong(c.at, "count", err)
		}
		s.Count = n
	}
	if c, ok := cells["squared"]; ok {
		switch strings.ToLower(strings.TrimSpace(c.text)) {
		case "yes", "y", "true":
			s.Squared = true
		case "no", "n", "false":
		default:
			r.fault(c.at, "write yes when all four edges are straight and square, else no", "squared cannot be %s", quoted(c.text))
		}
	}
	if c, ok := cells["bad areas"]; ok && sized {
		s.Bad = r.badAreas(c, s.Size, s.Origin)
	}
	r.plan.Stash = append(r.plan.Stash, s)
}

// stashSize reads the size or the shape of a piece, and tells whether it could.
// Beside a shape no size is needed; one that is given must be that of the rectangle
// around it, as a check on the measures.
func (r *reader) stashSize(s *StashPiece, cells map[string]cell, at Pos, nth int) bool {
	size, sized := cells["size"]
	drawn, shaped := cells["shape"]
	switch {
	case !sized && !shaped:
		r.fault(at, "write along the selvage x across, like 9 x 14", "stash piece %d has no size", nth)
		return false
	case !shaped:
		s.Size, sized = r.sizeOf(size, "size", units.Down)
		return sized
	}
	sh, err := parseShape(drawn.text, r.plan.Unit)
	if err != nil {
		r.wrong(drawn.at, "shape", err)
		return false
	}
	box := sh.outline.Box()
	s.Shape, s.Measured, s.Origin = sh.outline, strings.TrimSpace(drawn.text), sh.from
	s.Size = units.Size{Along: box.H, Across: box.W}
	if !sized {
		return true
	}
	said, ok := r.sizeOf(size, "size", units.Down)
	off := max(said.Along-box.H, box.H-said.Along, said.Across-box.W, box.W-said.Across)
	if ok && off > r.plan.Unit.Grid() {
		r.fault(size.at, "leave it out, or measure again", "size %s is not that of the rectangle around the shape, %s", quoted(size.text), roundSize(s.Size, r.plan.Unit))
	}
	return ok
}

// roundSize prints a size to the grid for cutting.
func roundSize(s units.Size, u units.Unit) string {
	g := u.Grid()
	return units.Size{Along: (s.Along + g/2).RoundDown(g), Across: (s.Across + g/2).RoundDown(g)}.Format(u)
}

// stashIDs reports ids that stand twice and makes up the missing ones: the
// place in the list, with a prefix that no id of the file has.
func (r *reader) stashIDs() {
	seen := map[string]Pos{}
	for _, s := range r.plan.Stash {
		if s.ID == "" {
			continue
		}
		if first, twice := seen[s.ID]; twice {
			where := "on line"
			if r.rows {
				where = "in row"
			}
			r.fault(s.At, "give each piece its own id; equal pieces are one line with a count", "stash id %q stands twice, first %s %d", s.ID, where, first.Line)
		}
		seen[s.ID] = s.At
	}
	for i := range r.plan.Stash {
		if r.plan.Stash[i].ID != "" {
			continue
		}
		id := "stash " + strconv.Itoa(i+1)
		for _, taken := seen[id]; taken; _, taken = seen[id] {
			id = "unnamed " + id
		}
		seen[id] = r.plan.Stash[i].At
		r.plan.Stash[i].ID = id
	}
}
