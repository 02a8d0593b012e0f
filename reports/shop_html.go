package reports

import (
	_ "embed"
	"html/template"
	"io"
)

//go:embed shop_page.html
var shopPage string

// WriteHTML writes the list as one page for a phone: no scripts, nothing fetched.
func (r *ShopReport) WriteHTML(w io.Writer) error {
	t, err := template.New("shopping").Funcs(template.FuncMap{
		"set":     typeset,
		"stopped": func() string { return stoppedEarly },
		"notes":   r.notes,
	}).Parse(shopPage)
	if err != nil {
		return err
	}
	return t.Execute(w, r)
}
