package beam

// depth says where a piece goes, seen from the piece before it.
type depth int8

const (
	newSheet  depth = iota // the first piece of a sheet
	newStrip               // a new strip of the first cut
	newRow                 // a new row of the open strip
	sameRow                // the open row
	numDepths = 4
)

// front is the part of the last sheet that is used up. The first cut parts the
// sheet along x (which is the sheet's height if the first cut divides that), the
// second along y, the third along x again.
//
//	         x1p  x3   x1c
//	+---------+----+----+-----
//	|         |         |        nothing above y2c yet
//	| closed  +----+----+ y2c
//	| strips  | row|      open row, filled up to x3
//	|         +----+----+ y2p
//	|         | closed  |
//	|         |  rows   |
//	+---------+---------+-----
//
// x1c and y2c may still grow. Where no remaining piece can use the room beyond
// a line, the line is pushed to where the room ends: this loses nothing, makes
// equal what is equal, and shows the true waste early.
type front struct {
	x1p, x1c, y2p, y2c, x3 int32
	kind                   int16 // -1 before the first sheet
	axis                   uint8 // that the first cut divides
}

// area is what the front covers of its sheet, where across is the sheet's extent
// across the first axis.
func (f *front) area(across int32) int64 {
	return int64(f.x1p)*int64(across) + int64(f.x1c-f.x1p)*int64(f.y2p) + int64(f.x3-f.x1p)*int64(f.y2c-f.y2p)
}

// mix hashes the front.
func (f *front) mix() uint64 {
	h := uint64(uint32(f.x1p))<<32 | uint64(uint32(f.x1c))
	h = h*0x9e3779b97f4a7c15 ^ (uint64(uint32(f.y2p))<<32 | uint64(uint32(f.y2c)))
	h = h*0xd1342543de82ef95 ^ (uint64(uint32(f.x3))<<24 | uint64(uint16(f.kind))<<8 | uint64(f.axis))
	return mix(h)
}

// inside tells whether everything that can still be done after g can also be
// done after f, on the same kind of sheet cut the same way first.
func (f *front) inside(g *front) bool {
	if f.x1c <= g.x1p {
		return true
	}
	if f.x1p > g.x1p || f.x1c > g.x1c {
		return false
	}
	return f.y2c <= g.y2p || f.y2p <= g.y2p && f.y2c <= g.y2c && f.x3 <= g.x3
}

// node is a partial solution: sheets filled one after another.
type node struct {
	front
	hash     uint64  // of the counts
	cost     int64   // of all sheets, the last one included
	gone     int64   // area of the sheets before the last
	goneDear float64 // the same, weighted by how dear it is
	covered  int64   // area of the pieces
	value    int64   // of the pieces
	packed   int32   // pieces
	trail    int32   // how it came about
}

// candidate is a child before it is taken into the beam.
type candidate struct {
	front
	hash   uint64
	parent int32 // index of the parent in its stage
	level  int32 // of the parent, as index of the ring
	shape  int32
	depth  depth
}

// level is the nodes with about as much area packed; left holds for each node
// the copies left of each item, then of each kind of sheet.
type level struct {
	nodes []node
	left  []int32
}
