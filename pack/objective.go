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
