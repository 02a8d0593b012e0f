package reports

import "pinfold/units"

// front sets what comes before the cut sheets: the cover, what to buy and take
// out, all pieces, what to mind, and templates.
func (b *book) front() {
	b.faces = NewFaces(b.r.result.Plan, b.r.result.Gathered)
	b.cover()
	b.coverEnds = b.y
	if b.r.result.Gathered.Pieces == 0 {
		b.shortNotes()
		return
	}
	b.counter()
	b.pieces()
	b.before()
	b.templates()
	b.begin("Cutting")
}

// shortNotes sets what there is to say of a plan without pieces.
func (b *book) shortNotes() {
	b.notes("Mind", b.r.Warnings)
	b.notes("Assumed", b.r.Notes)
	b.notes("Signs the printed letters lack", b.words.legend())
}

// back sets what comes after the cut sheets, and the contents on the cover.
func (b *book) back() {
	b.coming = "" // nothing was cut, if the chapter still waits
	if b.r.result.Gathered.Pieces > 0 {
		groups := groupBags(b.r.result.Plan, b.r.result.Plan.Bags(b.r.result.Gathered))
		b.sorting(groups)
		b.bagLabels(groups)
		b.planningSheets()
		b.leftovers()
	}
	b.index()
	b.contents(b.coverEnds)
}

// matter is what the pages around the cut sheets share.
type matter struct {
	faces     *Faces
	coverEnds units.Length // where the cover's own text ends
}
