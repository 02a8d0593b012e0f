// Package reports turns a solved plan into paper and files.
//
// [New] works everything out and words it once, into a [Report]; the writers
// only format what stands there:
//
//	WriteText   a summary for the terminal
//	WritePDF    the cutting plan: a cover, then the cut sheets
//	WriteSVG    one picture per distinct layout
//	WriteCSV    the pieces, one row for each fabric and size
//	WriteJSON   the whole result, exact, for other programs
//
// [Report.Write] puts any of them into a folder, each file whole or not at all.
//
// A [Chart] is no plan: how many pieces come out of a cut of cloth. A [Costing]
// is what a result costs. Both have writers of their own.
//
// Pictures are drawn once, in lengths on paper, into a [Drawing] that the PDF
// and the SVG writer replay. The same result gives the same bytes.
//
// # The hash of a result
//
// The last key of result.json is "hash". It is the SHA-256, in hexadecimal, of
// every byte of the file above the line the hash stands on, the ends of those
// lines included; so it can be checked without knowing JSON:
//
//	head -n -2 result.json | sha256sum
package reports
