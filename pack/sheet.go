package pack

import (
	"fmt"
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/units"
)

// Sheet is a rectangle of cloth that can be had, Copies times at most.
type Sheet struct {
	ID string
	// W and H are the whole cloth's measures before squaring.
	W, H units.Length
	// Squared is trimmed off each side before the first cut.
	Squared Margins
	// Selvages is how many woven edges, outside W, are cut off as well; they
	// count as passes only.
	Selvages int
	// Copies is how many there are; Unlimited for as many as wanted.
	Copies int
	// Price is the price of one, in the smallest coin. 0 is free.
	Price int64
	// Free marks cloth at hand: it costs nothing under either goal.
	Free bool
	// Scrap marks cloth at hand that [Problem.UseUp] uses up first.
	Scrap bool
	// Bad areas, in the coordinates of the usable area, hold no piece and no
	// offcut.
	Bad []Rect
	// Outline, if the cloth is no rectangle, is its edge: the usable area is the
	// smallest rectangle around it, at 0, 0, and nothing is squared off.
	Outline Outline
}

// Unlimited as Sheet.Copies means as many as wanted.
const Unlimited = -1

// Margins are the widths trimmed off a sheet's sides.
type Margins struct {
	Left, Right, Bottom, Top units.Length
}

// Usable returns the measures left after squaring; one is 0 or less when
// nothing is left.
func (s Sheet) Usable() (w, h units.Length) {
	return s.W - s.Squared.Left - s.Squared.Right, s.H - s.Squared.Bottom - s.Squared.Top
}

// shaped tells what is wrong with the outline.
func (s Sheet) shaped() error {
	if err := s.Outline.Validate(); err != nil {
		return err
	}
	if s.Squared != (Margins{}) || s.Selvages != 0 || s.Outline.Box() != (Rect{0, 0, s.W, s.H}) {
		return fmt.Errorf("a shape is not squared and fills the %v x %v around it", s.H, s.W)
	}
	return nil
}

// Sound tells whether the rectangle of the usable area lies on cloth that can be
// used: inside the outline, off the bad areas.
func (s Sheet) Sound(r Rect) bool {
	return (s.Outline == nil || s.Outline.Holds(r)) && !slices.ContainsFunc(s.Bad, r.Meets)
}

// Area is the area of the whole cloth, bad areas included.
func (s Sheet) Area() units.Area {
	if s.Outline != nil {
		return s.Outline.Area()
	}
	return units.AreaOf(s.W, s.H)
}

// UsableArea is what of it is left after squaring, 0 when nothing is.
func (s Sheet) UsableArea() units.Area {
	if s.Outline != nil {
		return s.Outline.Area()
	}
	w, h := s.Usable()
	return units.AreaOf(max(w, 0), max(h, 0))
}

// scrap tells whether [Problem.UseUp] uses the sheet up first.
func (s Sheet) scrap() bool { return s.Scrap && s.Free }

// whole tells whether the sheet is a rectangle without bad areas.
func (s Sheet) whole() bool { return len(s.Bad) == 0 && s.Outline == nil }

// room is the usable area less what is bad of it.
func (s Sheet) room() units.Area {
	w, h := s.Usable()
	st := model.Stock{W: int(max(w, 0)), H: int(max(h, 0))}
	for _, b := range s.Bad {
		st.Bad = append(st.Bad, model.Rect{X: int(b.X), Y: int(b.Y), W: int(b.W), H: int(b.H)})
	}
	return max(s.UsableArea()-units.Area(st.Area()-st.Room()), 0)
}

func (m Margins) negative() bool {
	return m.Left < 0 || m.Right < 0 || m.Bottom < 0 || m.Top < 0
}
