package main

import "fmt"

// square makes the edges of raw cloth straight.
func (t *table) square(j tableJob) error {
	if _, err := t.take(j); err != nil {
		return err
	}
	sides := map[string]int64{}
	selvages, sum := map[string]bool{}, 0
	for _, trim := range j.Trims {
		long := j.W
		if trim.Side == "left" || trim.Side == "right" {
			long = j.H
		}
		passes, err := t.lie(trim.tableLay, j, 1, long)
		if err != nil {
			return err
		}
		if passes != trim.Passes {
			return fmt.Errorf("%d passes at the %s edge, not %d", passes, trim.Side, trim.Passes)
		}
		if trim.Selvage && (trim.Width != 0 || selvages[trim.Side]) {
			return fmt.Errorf("the selvage at the %s edge is cut twice or takes cloth", trim.Side)
		}
		selvages[trim.Side] = selvages[trim.Side] || trim.Selvage
		sum += passes
		sides[trim.Side] += trim.Width
	}
	if sum != j.Passes {
		return fmt.Errorf("%d passes, not %d", sum, j.Passes)
	}
	t.passes += sum
	for _, l := range j.Lots {
		s := t.sheets[l.Sheet]
		if [4]int64{sides["left"], sides["right"], sides["bottom"], sides["top"]} != s.Squared {
			return fmt.Errorf("sheet %s is squared by %v, not %v", l.Sheet, sides, s.Squared)
		}
		if s.Stock.Kind == "bolt" && !(selvages["left"] && selvages["right"]) {
			return fmt.Errorf("sheet %s off the bolt keeps a selvage", l.Sheet)
		}
		if err := t.lift(place{l.Sheet, -s.Squared[0], -s.Squared[2], j.W, j.H}, l.Copies); err != nil {
			return err
		}
		p := place{l.Sheet, 0, 0, j.W - sides["left"] - sides["right"], j.H - sides["bottom"] - sides["top"]}
		if l.Rest != nil {
			if err := t.becomes(j, l, p, *l.Rest); err != nil {
				return err
			}
			continue
		}
		t.at[p] = l.Copies
		t.put("sheet "+l.Sheet, heap{fabric: t.fabric[l.Sheet].Fabric, w: p.w, h: p.h, count: l.Copies})
	}
	return nil
}

// cut takes the same measure off everything on the mat.
func (t *table) cut(j tableJob) error {
	cloths, err := t.take(j)
	if err != nil {
		return err
	}
	turn := false
	for _, c := range cloths {
		turn = turn || c.axis != "" && c.axis != j.Axis
	}
	if turn != j.Turn {
		return fmt.Errorf("turned: %t, though it should be %t", j.Turn, turn)
	}
	side, long := j.W, j.H
	if j.Axis == "y" {
		side, long = j.H, j.W
	}
	passes, err := t.lie(j.tableLay, j, j.Cuts, long)
	if err != nil {
		return err
	}
	if passes != j.Passes || passes == 0 {
		return fmt.Errorf("%d passes, not %d", passes, j.Passes)
	}
	t.passes += passes
	kerf := t.fabric[j.Lots[0].Sheet].Kerf
	left := side - int64(j.Cuts)*(j.Measure+kerf)
	// The last cut may destroy more than there is.
	if left < -kerf || j.Measure <= 0 || max(left, 0) != j.Left {
		return fmt.Errorf("%d is left of %d, not %d", left, side, j.Left)
	}
	for _, l := range j.Lots {
		if err := t.cutLot(j, l, kerf); err != nil {
			return err
		}
	}
	return nil
}

func (t *table) cutLot(j tableJob, l tableLot, kerf int64) error {
	p := place{l.Sheet, l.X, l.Y, j.W, j.H}
	if err := t.lift(p, l.Copies); err != nil {
		return err
	}
	one := p
	shift := func() {
		if j.Axis == "x" {
			one.x += one.w + kerf
		} else {
			one.y += one.h + kerf
		}
	}
	cuts := 0
	for _, o := range l.Off {
		for range max(o.Times, 1) {
			if j.Axis == "x" {
				one.w = j.Measure
			} else {
				one.h = j.Measure
			}
			if err := t.becomes(j, l, one, o); err != nil {
				return err
			}
			shift()
			cuts++
		}
	}
	if cuts != j.Cuts {
		return fmt.Errorf("%d parts come off in %d cuts", cuts, j.Cuts)
	}
	if j.Axis == "x" {
		one.w = j.Left
	} else {
		one.h = j.Left
	}
	if l.Rest == nil {
		return fmt.Errorf("nothing is said of what is left")
	}
	return t.becomes(j, l, one, *l.Rest)
}

// becomes does with a part what the job says.
func (t *table) becomes(j tableJob, l tableLot, p place, o tableOut) error {
	f := t.fabric[l.Sheet]
	kinds := 0
	for _, is := range []bool{o.Piece != "", o.Offcut != "", o.Waste, o.Step != 0} {
		if is {
			kinds++
		}
	}
	if kinds != 1 {
		return fmt.Errorf("a part becomes %+v", o)
	}
	switch {
	case o.Piece != "":
		for _, q := range f.Pieces {
			w, h := q.W, q.H
			if o.Turned {
				w, h = h, w
			}
			if q.ID == o.Piece && p.w == w && p.h == h && (q.Turn || !o.Turned) {
				t.pieces[[2]string{f.Fabric, o.Piece}] += l.Copies
				t.placed[fmt.Sprint(l.Sheet, o.Piece, p.x, p.y, o.Turned)]++
				return t.sound(l.Sheet, p)
			}
		}
		return fmt.Errorf("%d x %d is no piece %q of %s", p.w, p.h, o.Piece, f.Fabric)
	case o.Offcut != "":
		t.offcuts[p] += l.Copies
		return t.sound(l.Sheet, p)
	case o.Waste:
		return nil
	}
	if o.Step <= j.Step || o.Step > len(t.r.Session.Jobs) || t.r.Session.Jobs[o.Step-1].Part != o.Part {
		return fmt.Errorf("%q goes to step %d", o.Part, o.Step)
	}
	name := o.Part
	if name == "" {
		name = fmt.Sprint("left for ", o.Step)
	}
	t.at[p] += l.Copies
	t.put(name, heap{fabric: f.Fabric, axis: j.Axis, w: p.w, h: p.h, count: l.Copies})
	return nil
}

// sound tells whether a place of a sheet is free of bad areas.
func (t *table) sound(sheet string, p place) error {
	for _, b := range t.sheets[sheet].Bad {
		if p.x < b[0]+b[2] && b[0] < p.x+p.w && p.y < b[1]+b[3] && b[1] < p.y+p.h {
			return fmt.Errorf("%d x %d at %d, %d of sheet %s is not usable", p.w, p.h, p.x, p.y, sheet)
		}
	}
	return nil
}

// asTheyAre lays the sheets that need no cut to their pieces: each is one.
func (t *table) asTheyAre() {
	for id, s := range t.sheets {
		f := t.fabric[id]
		name := "sheet " + id
		p := place{id, 0, 0, s.Raw[0], s.Raw[1]}
		if t.at[p] != s.Copies || len(s.Placements) != 1 || s.Squared != [4]int64{} {
			continue
		}
		for _, q := range f.Pieces {
			one := s.Placements[0]
			w, h := q.W, q.H
			if one.Turned {
				w, h = h, w
			}
			if q.ID == one.Piece && w == p.w && h == p.h {
				t.pieces[[2]string{f.Fabric, q.ID}] += s.Copies
				t.placed[fmt.Sprint(id, q.ID, 0, 0, one.Turned)]++
				delete(t.heaps, name)
				delete(t.at, p)
			}
		}
	}
}

// end compares what lies on the table with what is wanted.
func (t *table) end() error {
	t.asTheyAre()
	s := t.r.Session
	if t.passes != s.Passes || t.passes != t.r.Passes || s.AtLeast > t.passes {
		return fmt.Errorf("%d passes, not %d of at least %d", t.passes, s.Passes, s.AtLeast)
	}
	for _, f := range t.r.Fabrics {
		for _, q := range f.Pieces {
			if n := t.pieces[[2]string{f.Fabric, q.ID}]; n != q.Demand-q.Missing {
				return fmt.Errorf("%d pieces %s of %s, not %d", n, q.ID, f.Fabric, q.Demand-q.Missing)
			}
		}
		for _, sheet := range f.Sheets {
			for _, o := range sheet.Offcuts {
				p := place{sheet.ID, o.X, o.Y, o.W, o.H}
				if t.offcuts[p] != sheet.Copies {
					return fmt.Errorf("%d offcuts %d x %d of sheet %s, not %d", t.offcuts[p], o.W, o.H, sheet.ID, sheet.Copies)
				}
				delete(t.offcuts, p)
			}
			for _, q := range sheet.Placements {
				key := fmt.Sprint(sheet.ID, q.Piece, q.X, q.Y, q.Turned)
				if t.placed[key] != 1 {
					return fmt.Errorf("piece %s at %d, %d of sheet %s is cut %d times", q.Piece, q.X, q.Y, sheet.ID, t.placed[key])
				}
				delete(t.placed, key)
			}
		}
	}
	if len(t.offcuts)+len(t.placed)+len(t.heaps)+len(t.at) > 0 {
		return fmt.Errorf("left on the table: %v %v %v %v", t.offcuts, t.placed, t.heaps, t.at)
	}
	return nil
}
