package reports

import (
	"pinfold/pack"
	"pinfold/units"
)

// Step is one job at the table: one setting of the ruler, cut through all that
// is cut alike, whichever sheets and fabrics it comes from. Steps are numbered
// over the whole plan in the order in which they are done.
type Step struct {
	Number int
	// Bench counts, from 1, the groups of sheets that are cut together: each is
	// done from end to end before the next is begun.
	Bench int
	// Square marks a step that makes raw edges straight, side by side as Trims
	// lists them; Axis, Measure, Cuts, Edge and Left say nothing then.
	Square bool
	Trims  []Trim

	// What lies on the mat: its name, "the whole cloth of sheet 3", "the rest of
	// strip b" or "strip b"; the letter if it has one ("b"); its measures; the
	// pieces of cloth by origin, and how many they are.
	Name   string
	Letter string
	// After is the step that leaves exactly this cloth on the mat, or 0.
	After int
	Size  units.Size
	From  []Source
	Count int
	// Heights are the layers of cloth in each stack, not counting folds. Fold is
	// in how many layers each cloth lies (1 is flat), Lays how often the ruler is
	// laid along one cut, Long how far a cut goes.
	Heights    []int
	Fold, Lays int
	Long       units.Length
	// Turn tells that the cloth is turned a quarter since it was cut last.
	Turn bool
	// OneWay tells that a print with a top lies in it, which is never folded.
	OneWay bool
	// Spoiled tells that a bad place lies in it, Crooked that one of its edges is
	// that of a scrap that is no rectangle.
	Spoiled, Crooked bool
	// Ends says for each crooked sheet where its first cut ends on the crooked edge.
	Ends []string

	// Edge is the edge of the cloth, as the sheet's diagram shows it, from which
	// Measure is taken, Axis the axis the cuts divide, Cuts how often each stack
	// is cut, Passes how often the cutter runs in all.
	Edge Side
	// Far tells that what is left is a part or a piece narrower than what comes
	// off: the words measure it, from the far edge, which the ruler reaches.
	Far     bool
	Axis    pack.Axis
	Measure units.Length
	Cuts    int
	Passes  int
	// Off is what comes off, Rest what is left of the cloths, and Left its width.
	Off, Rest []Output
	Left      units.Length

	// Words is the step as it is read at the table.
	Words StepWords

	unit units.Unit
	job  *pack.Job
	lots []lotJSON
}

// Source is where cloth on the mat comes from.
type Source struct {
	Step   int  // that made it; 0 for cloth as it comes
	Rest   bool // it is what the step left, not what came off
	Whole  bool // it is the sheet's cloth, or what is left of it
	Sheet  int  // its number
	Fabric string
	Count  int
}

// Output is what a step makes of its cloth.
type Output struct {
	Kind OutputKind
	// Name is a piece's letter ("A"), a part's name ("strip b", "the rest of
	// strip b"), an offcut's label ("K1") or "waste"; Letter a part's letter, "" if
	// it keeps the name of what it is cut from.
	Name, Letter string
	Size         units.Size
	Sheet        int // its number
	Fabric       string
	Count        int // of all cloths together
	Next         int // the step that cuts it further, or 0
}

// OutputKind says what comes of an output.
type OutputKind uint8

// The kinds of outputs.
const (
	PieceOut  OutputKind = iota // to its pile
	PartOut                     // to be cut further
	OffcutOut                   // to keep
	WasteOut
)

// Trim is one edge that a step makes straight.
type Trim struct {
	Side    Side
	Selvage bool         // the woven edge, whose width is not counted
	Width   units.Length // what comes off; 0 for a selvage alone
	Long    units.Length // how far the cut goes

	// Fold, Lays and Heights are as in [Step].
	Fold, Lays int
	Heights    []int
	Passes     int
}

// Line is a cut from one end to the other, in the sheet's measures.
type Line struct {
	X1, Y1, X2, Y2 units.Length
}

// CutLine is a cut of one sheet and the step that makes it. Cuts that square an
// edge lie on the edge of the usable area.
type CutLine struct {
	Step int
	Line
}

// PartMark names a part of a sheet that is cut further.
type PartMark struct {
	Letter string // "" for the rest of what lies before it
	Step   int    // that cuts it
	// Level is how often the direction of cutting has changed before it was cut
	// off: 1 is a strip off the whole cloth.
	Level int
	pack.Rect
}

// StepWords is a step in words, each a sentence or less; what is not needed is
// empty. Measures in them carry their unit but for Measure.
type StepWords struct {
	Take  string // what lies on the mat: "the 24 strips b (2½ × 42 in)"
	From  string // "cut in step 2"
	Cloth string // of which fabrics it is: "16 of sailcloth and 4 of night water"
	Turn  string // "Turn them a quarter."
	Lay   string // how they lie: stacks, folds, the ruler laid again, and why
	// Edge is the edge from which Measure is taken, as the diagram lies: "short
	// left edge"; Times how often. A step that squares has them only if all edges
	// are cut alike.
	Edge    string
	Measure string // "2½"
	Unit    string // of Measure, "" if it carries its own
	Times   string // "16 times"
	// Off and Rest are lists with an entry for each thing: what, and where it
	// goes. Left is the check, "left over: 2 in".
	Off  []string
	Left string
	Rest []string
	// Mind is what is easily done wrong with this cloth.
	Mind []string
}
