package reports

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
)

// writer is a format with what writes it.
type writer struct {
	format Format
	write  func(io.Writer) error
}

// pdfOn is a writer of a PDF for a paper.
func pdfOn(write func(io.Writer, Paper) error, paper Paper) writer {
	return writer{PDF, func(w io.Writer) error { return write(w, paper) }}
}

// named lists the formats that are asked for, in the writers' order, as files of
// one name. A format that no writer has is refused, with those there are.
func named(name string, formats []Format, writers ...writer) ([]file, error) {
	for _, f := range formats {
		if !slices.ContainsFunc(writers, func(w writer) bool { return w.format == f }) {
			known := []string{"text"}
			for _, w := range writers {
				known = append(known, string(w.format))
			}
			return nil, fmt.Errorf("a %s cannot be written as %s: write %s or %s", name, f, strings.Join(known[:len(known)-1], ", "), known[len(known)-1])
		}
	}
	var files []file
	for _, w := range writers {
		if slices.Contains(formats, w.format) {
			files = append(files, file{name + "." + string(w.format), w.write})
		}
	}
	return files, nil
}

// keysTo returns what writes the top-level keys of a JSON file, one a line.
func keysTo(b io.Writer) func(name string, v any) error {
	return func(name string, v any) error {
		text, err := json.Marshal(v)
		if err == nil {
			_, err = fmt.Fprintf(b, "  %q: %s,\n", name, text)
		}
		return err
	}
}
