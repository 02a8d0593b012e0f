package reports

// Write writes the list into the folder, as shopping.pdf and so on, whole or not
// at all, and returns the paths.
func (r *ShopReport) Write(dir string, formats []Format, paper Paper) ([]string, error) {
	files, err := named("shopping", formats, pdfOn(r.WritePDF, paper), writer{HTML, r.WriteHTML}, writer{CSV, r.WriteCSV}, writer{JSON, r.WriteJSON})
	if err != nil {
		return nil, err
	}
	return place(dir, files)
}
