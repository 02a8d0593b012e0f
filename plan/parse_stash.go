package plan

import (
	"fmt"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"pinfold/units"
)

// The columns of a stash file, which are also the keys of a stash in place.
var stashKeys = []string{"id", "fabric", "size", "count", "bad areas", "squared", "where", "note"}

// readStash reads the stash: the name of a file, or a list in place.
func (r *reader) readStash(n *yaml.Node, fetch StashFile) {
	if n.Kind == yaml.SequenceNode {
		for i, item := range r.items(n, "stash", "- {fabric: navy dot, size: 9 x 14}", maxStash) {
			if m, ok := r.mapping(item, r.pos(item), "a stash piece", stashKeys...); ok {
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

// stashCells takes the values of a stash piece in place; its bad areas may be a
// list of texts.
func (r *reader) stashCells(m mapping) map[string]cell {
	cells := map[string]cell{}
	for _, k := range stashKeys {
		n := m.get(k)
		if n == nil {
			continue
		}
		if k == "bad areas" && n.Kind == yaml.SequenceNode {
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
	if c, ok := cells["id"]; ok && r.named(c, "stash piece") {
		s.ID = strings.TrimSpace(c.text)
	}
	if c, ok := cells["fabric"]; !ok {
		r.fault(at, "write the fabric's name as the plan does", "stash piece %d has no fabric", nth)
	} else if r.named(c, "fabric") {
		s.Fabric = strings.TrimSpace(c.text)
	}
	size, sized := cells["size"]
	if !sized {
		r.fault(at, "write along the selvage x across, like 9 x 14", "stash piece %d has no size", nth)
	} else {
		s.Size, sized = r.sizeOf(size, "size", units.Down)
	}
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
		s.Bad = r.badAreas(c, s.Size)
	}
	r.plan.Stash = append(r.plan.Stash, s)
}

// badAreas reads areas parted by semicolons, each a size and the place of its
// lower left corner, all along the selvage first: "2 x 3 at 0, 4" is 2 along
// and 3 across, beginning at the lower edge and 4 from the left one. In place
// of the two numbers may stand bottom left, bottom right, top left or top
// right. Areas are widened to the grid they are printed on, never narrowed.
func (r *reader) badAreas(c cell, of units.Size) []Bad {
	var out []Bad
	parts := strings.Split(c.text, ";")
	if len(parts) > maxBad {
		r.fault(c.at, fmt.Sprintf("the most is %d", maxBad), "%d bad areas are too many", len(parts))
		return nil
	}
	for _, part := range parts {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		b, err := badArea(part, of, r.plan.Unit)
		if err != nil {
			r.wrong(c.at, "bad area "+quoted(part), err)
			continue
		}
		if b.X >= of.Across || b.Y >= of.Along {
			r.fault(c.at, "measure from the lower left corner, along the selvage first", "bad area %s lies outside a piece of %s", quoted(part), of.Format(r.plan.Unit))
			continue
		}
		out = append(out, b)
	}
	return out
}

func badArea(s string, of units.Size, u units.Unit) (Bad, error) {
	const form = "write one like 2 x 3 at 0, 4 or 2 x 3 at top left"
	measures, place, ok := strings.Cut(s, " at ")
	if !ok {
		return Bad{}, fmt.Errorf("it does not say where: %s", form)
	}
	size, err := units.ParseSizeRounded(measures, u, units.Up)
	if err != nil {
		return Bad{}, err
	}
	place = strings.Join(strings.Fields(strings.TrimSuffix(strings.TrimSpace(strings.ToLower(place)), "corner")), " ")
	right, top := max(of.Across-size.Across, 0), max(of.Along-size.Along, 0)
	switch place {
	case "bottom left":
		return Bad{0, 0, size.Across, size.Along}, nil
	case "bottom right":
		return Bad{right, 0, size.Across, size.Along}, nil
	case "top left":
		return Bad{0, top, size.Across, size.Along}, nil
	case "top right":
		return Bad{right, top, size.Across, size.Along}, nil
	}
	along, across, ok := strings.Cut(place, ", ")
	if !ok {
		return Bad{}, fmt.Errorf("cannot read the place %q: %s", place, form)
	}
	y, h, err := span(along, size.Along, u)
	if err != nil {
		return Bad{}, err
	}
	x, w, err := span(across, size.Across, u)
	return Bad{x, y, w, h}, err
}

// span reads where an area begins and returns that, rounded down, and how far
// it goes on from there at most.
func span(at string, width units.Length, u units.Unit) (from, length units.Length, err error) {
	if from, err = units.ParseRounded(at, u, units.Down); err != nil {
		return 0, 0, err
	}
	up, err := units.ParseRounded(at, u, units.Up)
	return from, up + width - from, err
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
			r.fault(s.At, "give each piece its own id; equal pieces are one line with a count", "stash id %q stands twice, first on line %d", s.ID, first.Line)
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
