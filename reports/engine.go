package reports

import (
	"fmt"
	"io"
	"time"

	"github.com/jung-kurt/gofpdf"

	"pinfold/units"
)

// This file alone knows the PDF library.

// sheetOfPaper is one page with its entry in the reader's list of contents.
type sheetOfPaper struct {
	Drawing
	bookmark string        // "" for none
	chapters []chapterMark // the chapters that begin on this page, above the bookmark
	nested   bool          // whether the bookmark belongs to a chapter
	sheets   []sheetMark   // the cut sheets that begin on this page
}

// sheetMark is where a cut sheet begins on its page.
type sheetMark struct {
	number        int
	fabric, title string
	y             units.Length
}

// chapterMark is where a chapter begins on its page.
type chapterMark struct {
	title string
	y     units.Length
}

// printPDF replays the pages into a PDF. The same pages give the same bytes: the
// file carries no time of its own. Texts must hold only characters the embedded
// faces have.
func printPDF(w io.Writer, title string, pages []sheetOfPaper) error {
	pdf := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "pt", Size: gofpdf.SizeType{Wd: 612, Ht: 792}})
	born := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	pdf.SetCreationDate(born)
	pdf.SetModificationDate(born)
	pdf.SetCatalogSort(true)
	pdf.SetTitle(title, true)
	pdf.SetCreator("pinfold", true)
	pdf.SetProducer("pinfold", true)
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddUTF8FontFromBytes("go", "", regular().bytes())
	pdf.AddUTF8FontFromBytes("go", "B", bold().bytes())
	pdf.SetLineCapStyle("butt")
	c := pdfCanvas{pdf}
	fabric := "" // of the bookmarks above
	for _, p := range pages {
		pdf.AddPageFormat("P", gofpdf.SizeType{Wd: pt(p.W), Ht: pt(p.H)})
		// The library encodes a bookmark by the font that is set.
		pdf.SetFont("go", "", 10)
		for _, c := range p.chapters {
			fabric = ""
			pdf.Bookmark(c.title, 0, pt(c.y))
		}
		if p.bookmark != "" {
			level := 0
			if p.nested {
				level = 1
			}
			pdf.Bookmark(p.bookmark, level, 0)
			fabric = ""
		}
		for _, s := range p.sheets {
			if s.fabric != fabric {
				fabric = s.fabric
				pdf.Bookmark(fabric, 1, pt(s.y))
			}
			pdf.Bookmark(s.title, 2, pt(s.y))
		}
		p.Replay(c)
	}
	if err := pdf.Output(w); err != nil {
		return fmt.Errorf("making the PDF: %w", err)
	}
	return nil
}

// pt converts a length on paper to printer's points.
func pt(l units.Length) float64 { return float64(l) * 72 / float64(units.Inch) }

// pdfCanvas draws on the current page.
type pdfCanvas struct{ pdf *gofpdf.Fpdf }

var _ Canvas = pdfCanvas{}

// paint sets the style and returns the library's word for what is to be painted,
// "" for nothing.
func (c pdfCanvas) paint(s Style) string {
	how := ""
	if s.Fill != NoColour {
		c.pdf.SetFillColor(s.Fill.RGB())
		how = "F"
	}
	if s.Stroke != NoColour {
		c.pdf.SetDrawColor(s.Stroke.RGB())
		c.pdf.SetLineWidth(pt(s.Width))
		var dash []float64
		if s.Dash > 0 {
			dash = []float64{pt(s.Dash), pt(s.Dash)}
		}
		c.pdf.SetDashPattern(dash, 0)
		how += "D"
	}
	return how
}

// Rect implements [Canvas].
func (c pdfCanvas) Rect(x, y, w, h units.Length, s Style) {
	if how := c.paint(s); how != "" {
		c.pdf.Rect(pt(x), pt(y), pt(w), pt(h), how)
	}
}

// Line implements [Canvas].
func (c pdfCanvas) Line(x1, y1, x2, y2 units.Length, s Style) {
	if c.paint(s) != "" {
		c.pdf.Line(pt(x1), pt(y1), pt(x2), pt(y2))
	}
}

// Circle implements [Canvas].
func (c pdfCanvas) Circle(x, y, r units.Length, s Style) {
	if how := c.paint(s); how != "" {
		c.pdf.Circle(pt(x), pt(y), pt(r), how)
	}
}

// Polygon implements [Canvas].
func (c pdfCanvas) Polygon(corners []Spot, s Style) {
	how := c.paint(s)
	if how == "" {
		return
	}
	at := make([]gofpdf.PointType, len(corners))
	for i, p := range corners {
		at[i] = gofpdf.PointType{X: pt(p.X), Y: pt(p.Y)}
	}
	c.pdf.SetLineJoinStyle("round")
	c.pdf.Polygon(at, how)
	c.pdf.SetLineJoinStyle("miter")
}

// Text implements [Canvas].
func (c pdfCanvas) Text(x, y units.Length, text string, f Font) {
	style := ""
	if f.Bold {
		style = "B"
	}
	c.pdf.SetFont("go", style, pt(f.Size))
	c.pdf.SetTextColor(f.Colour.RGB())
	at := pt(x)
	left := at
	switch f.Align {
	case Middle:
		left -= pt(f.width(text)) / 2
	case End:
		left -= pt(f.width(text))
	}
	if f.Up {
		c.pdf.TransformBegin()
		c.pdf.TransformRotate(90, at, pt(y))
	}
	c.pdf.Text(left, pt(y), text)
	if f.Up {
		c.pdf.TransformEnd()
	}
}
