// Package reports turns a solved plan into paper and files.
//
// [New] works everything out and words it once, into a [Report]; the writers
// only format what stands there:
//
//	WriteText   a summary for the terminal
//	WritePDF    the cutting plan: a cover, then the cut sheets
//	WriteHTML   the same as one page for a tablet, whose steps can be ticked
//	WriteSVG    one picture per distinct layout
//	WriteCSV    the pieces, one row for each fabric and size
//	WriteJSON   the whole result, exact, for other programs
//
// [Report.Write] puts any of them into a folder, each file whole or not at all.
// [ReadResult] reads result.json back once the cloth is cut.
//
// Other answers have writers of their own: [NewShop] is the list for the counter,
// [NewMakes] what the stash makes, [NewCosting] what a result costs, [NewTrade] the
// preferences side by side, [NewFaces] the ornaments as they look. A [Chart] is no
// plan: how many pieces come out of a cut of cloth.
//
// Pictures are drawn once, in lengths on paper, into a [Drawing] that the PDF
// and the SVG writer replay. The same result gives the same bytes.
//
// # The session of a result
//
// The key "session" of result.json is the work at the table: "passes", the bound
// "at_least", and "jobs" in the order in which they are done, one a line. A job
// takes regions of the measures "w" x "h" out of its "lots" (whole sheets, what
// an earlier job named a "part", or what the last one left on the mat), lays them
// in "stacks", each region folded to "fold" layers, and takes "measure" off their
// left (axis x) or bottom (axis y) edge, "cuts" times, laying the ruler "lays"
// times along each cut; "left" must remain. "off" and "rest" say what each part
// becomes. A job with "trims" squares raw cloth and takes off what stands there.
// The passes of a job are its cuts times lays times stacks.
//
// # The sizes to keep
//
// The key "keep" of result.json stands only where a plan has sizes to keep: offcuts
// are cut into strips of these "widths", widest first, and the rest is kept if it is
// not smaller than "least" (across, along), either way round.
//
// # The hash of a result
//
// The last key of result.json is "hash". It is the SHA-256, in hexadecimal, of
// every byte of the file above the line the hash stands on, the ends of those
// lines included; so it can be checked without knowing JSON:
//
//	head -n -2 result.json | sha256sum
package reports
