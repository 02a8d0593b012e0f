package reports

import (
	"errors"
	"slices"
)

// Write writes the layouts of the mix into the folder as [Report.Write] does, and
// the answer itself beside them as makes.csv and makes.json if those formats are
// asked for; all files whole, or none. It returns their paths. Nothing can be
// written when the stash makes nothing.
func (r *MakesReport) Write(dir string, formats []Format, paper Paper) ([]string, error) {
	if r.makes.Result == nil {
		return nil, errors.New("the stash alone makes none of these ornaments, so there is nothing to lay out")
	}
	layouts := New(r.makes.Result)
	own := slices.DeleteFunc(slices.Clone(formats), func(f Format) bool { return f != CSV && f != JSON })
	answer, err := named("makes", own, writer{CSV, r.WriteCSV}, writer{JSON, r.WriteJSON})
	if err != nil {
		return nil, err
	}
	written, err := place(dir, append(layouts.files(formats, paper), answer...))
	if err == nil && slices.Contains(formats, SVG) {
		if err := layouts.removeStale(dir); err != nil {
			return written, unwritable(dir, err)
		}
	}
	return written, err
}
