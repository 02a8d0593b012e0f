package pack

// Effort says how long [Solve] looks for something better. Each is a number of
// search nodes, not of seconds; the times are those of two ordinary cores.
type Effort uint8

// The efforts: about 0.3 s, 3 s and 60 s for a whole problem.
const (
	Normal Effort = iota
	Quick
	Thorough
)

// String returns the word used on the command line.
func (e Effort) String() string { return [...]string{"normal", "quick", "thorough"}[e] }

// Options steer [Solve]; the zero value is a normal effort with seed 0 on all
// cores.
type Options struct {
	Effort Effort
	// Seed chooses the random streams. The same problem, options and build give
	// the same solution, whatever the number of workers.
	Seed uint64
	// Workers is how many cores are used; 0 for all.
	Workers int
	// Share is the part of the effort this problem may use, in percent; 0 is all.
	Share int
	// Progress, if set, is called from one goroutine with each better solution
	// or bound.
	Progress func(Progress)
}

// Progress is what [Solve] reports on the way.
type Progress struct {
	Cost, Bound int64
	Sheets      int
	Missing     int
	Nodes       int64
}

// better tells whether a is the better solution: fewer pieces' area missing,
// then the smaller cost, then less stock area cut into, then the larger sum of
// area^1.2 of the offcuts worth keeping.
type rank struct {
	missing  int64
	cost     int64
	touched  int64
	leftover int64
}

func (a rank) better(b rank) bool {
	switch {
	case a.missing != b.missing:
		return a.missing < b.missing
	case a.cost != b.cost:
		return a.cost < b.cost
	case a.touched != b.touched:
		return a.touched < b.touched
	}
	return a.leftover > b.leftover
}
