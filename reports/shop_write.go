package reports

import (
	"fmt"
	"slices"
	"strings"
)

// shopFormats lists the formats of a shopping list in the order in which they
// are written.
func shopFormats() []Format { return []Format{PDF, HTML, CSV, JSON} }

// ParseShopFormats reads a list like "pdf,html".
func ParseShopFormats(s string) ([]Format, error) {
	var out []Format
	for word := range strings.SplitSeq(s, ",") {
		f := Format(strings.ToLower(strings.TrimSpace(word)))
		if !slices.Contains(shopFormats(), f) {
			return nil, fmt.Errorf("unknown format %q: write one or more of text, pdf, html, csv, json with commas between", word)
		}
		if !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out, nil
}

// Write writes the list into the folder, as shopping.pdf and so on, whole or not
// at all, and returns the paths.
func (r *ShopReport) Write(dir string, formats []Format, paper Paper) ([]string, error) {
	files, err := named("shopping", formats, pdfOn(r.WritePDF, paper), writer{HTML, r.WriteHTML}, writer{CSV, r.WriteCSV}, writer{JSON, r.WriteJSON})
	if err != nil {
		return nil, err
	}
	return place(dir, files)
}
