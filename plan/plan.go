// Package plan reads what a maker wants to make and from what cloth, gathers
// the pieces by fabric, has each fabric cut by package pack and collects the
// answer: what to buy, what to cut, what is left.
//
// Start with [Read], or with [Parse] for a plan that is no file: either gives a [Plan]
// or [Errors], everything wrong with it at once. [Solve] answers the plan as it stands,
// as a [Result]. What else can be asked of a plan: [SolveShop], what to say at the
// counter; [SolveMakes], what the stash alone makes; [Compare], the preferences side by
// side; [CostOf], what each ornament of a Result costs.
//
// The way through is Plan -> [Gather] or [Decide] -> [Gathered] -> [FabricProblem] ->
// a problem of package pack -> Result. Lengths are whole ticks and areas square ticks,
// as in package units; money is whole numbers of the smallest coin.
package plan

import (
	"pinfold/pack"
	"pinfold/units"
)

// Plan is a plan file with its stash, read and validated. Slices keep the order
// of the file.
type Plan struct {
	Title     string
	Unit      units.Unit
	Money     string // the currency's sign, printed before amounts
	Budget    *int64 // the most to spend on cloth, in the smallest coin; nil for no limit
	Ornaments []Ornament
	Make      []Order
	Fabrics   []Fabric
	Stash     []StashPiece
	Cutting   Cutting
	// Warnings are things worth telling that do not stop the plan; Notes are
	// facts and assumptions worth a look, with nothing wrong about them.
	Warnings, Notes []string
}

// Ornament is one design on a foam ball.
type Ornament struct {
	At       Pos // of its name
	Name     string
	Ball     units.Length // the ball's diameter
	Pieces   []Round
	Band     *Band // nil for an ornament without one
	Supplies []Supply
	// Same lists the roles whose pieces are all of one fabric on each ornament,
	// where a colourway gives several to choose from.
	Same []Named
}

// Named is a name with the place where it was written.
type Named struct {
	At   Pos
	Name string
}

// Side tells on which half of the ball a round lies.
type Side uint8

// The sides.
const (
	Both Side = iota
	Front
	Back
)

// Round is one layer of equal pieces, pinned at one distance from the pole.
type Round struct {
	At   Pos // of its size
	Name string
	Size units.Size
	// Roles lists the fabric roles with their number of pieces on the whole
	// ball, in order of first appearance.
	Roles []RoleCount
	// Around lists the role of each place around the pole of one side, when the
	// plan gives it; nil when the round has one role.
	Around []string
	Side   Side
	// From is how far from the pole the round starts; nil when not given.
	From *units.Length
}

// Count returns the round's pieces on the whole ball.
func (r Round) Count() int {
	n := 0
	for _, rc := range r.Roles {
		n += rc.Count
	}
	return n
}

// RoleCount is a number of pieces of one fabric role.
type RoleCount struct {
	Role  string
	Count int
}

// Band is the strip that wraps the ball's middle.
type Band struct {
	At             Pos
	Width, Overlap units.Length
	Shows          units.Length // its width once folded; Width when not given
	Role           string
}

// Supply is anything an ornament needs that is not fabric: counted or measured,
// never both.
type Supply struct {
	Name   string
	Count  int
	Length units.Length
	// Price is in hundredths of the smallest coin: of one where Count is given,
	// of the length Per where Length is; nil when the plan gives none, and in the
	// totals of [Gathered].
	Price *int64
	Per   units.Length
}

// Order is one line of what to make.
type Order struct {
	At        Pos // of the ornament's name
	Ornament  string
	Count     int
	Colourway []Filling // in the order of the file
}

// Filling says which fabric fills a role.
type Filling struct {
	At           Pos // of the fabric's name
	Role, Fabric string
	// Or lists more fabrics that will do as well: [Solve] divides the pieces
	// among them.
	Or []Named
}

// Any lists every fabric that will do, in the order of the file.
func (f Filling) Any() []Named {
	return append([]Named{{f.At, f.Fabric}}, f.Or...)
}

// Direction says how a print may lie.
type Direction uint8

// The directions: AnyWay pieces may be turned a quarter; the others may not
// (TwoWay ones end for end only, which a rectangle does not show).
const (
	AnyWay Direction = iota
	TwoWay
	OneWay
)

// String returns the plan file's word.
func (d Direction) String() string { return [...]string{"any", "two-way", "one-way"}[d] }

// Fabric is one real cloth.
type Fabric struct {
	At        Pos // of its name
	Name      string
	Direction Direction
	Bolt      units.Length // the bolt's width with selvages; 0 when not given
	// Usable is the width between the selvages. When the plan does not give it,
	// it is the bolt's width less 4 in (10 cm), or 40 in (100 cm) when that is
	// not given either: 40 in is the width makers count on in 44 in cloth
	// unless they measured (common practice).
	Usable units.Length
	// ShrinksLength and ShrinksWidth are in hundredths of a percent.
	ShrinksLength, ShrinksWidth int
	Buy                         []Offer
}

// OfferKind says how an offer is sold.
type OfferKind uint8

// The kinds of offers: a cut of fixed size, or a length off the bolt.
const (
	SoldCut OfferKind = iota
	SoldByLength
)

// Offer is one way a fabric is sold.
type Offer struct {
	At   Pos
	Kind OfferKind
	Name string // "fat quarter", "fat eighth", "yard", "metre" or the plan's own
	// Price is in the smallest coin; nil when the plan gives none. For
	// SoldByLength it is the price of Per.
	Price *int64
	Per   units.Length // Yard or Metre, for SoldByLength
	Size  units.Size   // for SoldCut, before shrinking and squaring
	// RawSides is how many long sides of a sold cut are cut edges rather than
	// selvage: 1 for half-width cuts, 2 for a cut of own size.
	RawSides int
	Step     units.Length // for SoldByLength
	Least    units.Length
	Most     units.Length // 0 for no limit
	// Available is how many cuts can be had; -1 for no limit.
	Available int
}

// StashPiece is cloth at hand, Count pieces of the same measures.
type StashPiece struct {
	At      Pos
	ID      string // the file's, or made up from the piece's place in the list
	Fabric  string
	Size    units.Size
	Count   int
	Bad     []Bad
	Squared bool
	Where   string
	Note    string
	// Shape is the outline of a piece that is no rectangle, nil for one that is;
	// Size is then the smallest rectangle around it, at whose lower left corner x
	// and y begin. Measured is the shape as it was written, and Origin where its
	// places were measured from.
	Shape    pack.Outline
	Measured string
	Origin   pack.Point
}

// Bad is an area of a stash piece that cannot be used, measured from its lower
// left corner, x across and y along the selvage.
type Bad struct {
	X, Y, W, H units.Length
	// What it is, as the file says: "hole", "stain", "missing" or "".
	What string
}

// Preference is what a maker wants most after money.
type Preference uint8

// The preferences.
const (
	Thrift Preference = iota
	FewerPasses
	Balanced
)

// String returns the plan file's words.
func (p Preference) String() string {
	return [...]string{"thrift", "fewer passes", "balanced"}[p]
}

// Cutting says how cloth is cut.
type Cutting struct {
	Squaring units.Length // off every raw edge
	Keep     units.Size   // the smallest offcut worth keeping
	Spare    int          // extra pieces, in hundredths of a percent
	Ruler    units.Length
	Layers   int
	Kerf     units.Length
	Stages   int // how often the direction of cutting may change; 0 no limit
	Prefer   Preference
	BinFirst bool // most of the pieces from scraps, before anything else
	Pace     int  // the seconds a pass takes, by the maker's rule of thumb
	// KeepSizes are the widths of the strips that offcuts are cut down to before
	// they go into the stash, widest first; none leaves offcuts as they are.
	KeepSizes []units.Length
}

// Ornament returns the ornament of that name, or nil.
func (p *Plan) Ornament(name string) *Ornament {
	for i := range p.Ornaments {
		if p.Ornaments[i].Name == name {
			return &p.Ornaments[i]
		}
	}
	return nil
}

// Fabric returns the fabric of that name, or nil.
func (p *Plan) Fabric(name string) *Fabric {
	for i := range p.Fabrics {
		if p.Fabrics[i].Name == name {
			return &p.Fabrics[i]
		}
	}
	return nil
}
