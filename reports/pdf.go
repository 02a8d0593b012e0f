package reports

import "io"

// WritePDF writes the cutting plan: a cover with everything to buy, to count and
// to mind, then the cut sheets, one for each distinct layout. The zero paper is
// the one of the plan's unit. The same report gives the same bytes.
func (r *Report) WritePDF(w io.Writer, paper Paper) error {
	// What the fonts lack is known only once all pages are set, and its legend
	// may push pages on: the second setting has the whole legend.
	var words lexicon
	r.set(paper, &words)
	pages := r.set(paper, &words)
	return printPDF(w, words.say(r.Title), pages)
}

// set composes all pages.
func (r *Report) set(paper Paper, words *lexicon) []sheetOfPaper {
	b := &book{r: r, title: r.Title, paper: paper.or(r.Unit), words: words}
	b.front()
	b.cutPages()
	b.back()
	b.feet()
	return b.pages
}
