package reports

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Format is a kind of output file.
type Format string

// The formats.
const (
	PDF  Format = "pdf"
	HTML Format = "html"
	SVG  Format = "svg"
	CSV  Format = "csv"
	JSON Format = "json"
)

// Formats lists all formats in the order in which they are written.
func Formats() []Format { return []Format{PDF, HTML, SVG, CSV, JSON} }

// file is a file to be written, rendered whole.
type file struct {
	name    string
	content []byte
}

// Write writes the formats into the folder, which is made if it is not there,
// and returns the paths of the files in the order written. Every file is
// rendered and stored under a temporary name before the first one takes its
// place, so an error leaves no half-written file; files of the same name are
// replaced, pictures of layouts that are no more removed, others left alone.
func (r *Report) Write(dir string, formats []Format, paper Paper) ([]string, error) {
	files, err := r.render(formats, paper)
	if err != nil {
		return nil, err
	}
	written, err := place(dir, files)
	if err == nil && slices.Contains(formats, SVG) {
		if err := r.removeStale(dir); err != nil {
			return written, unwritable(dir, err)
		}
	}
	return written, err
}

// place stores all files under temporary names in the folder, which is made if
// it is not there, and then gives them their own.
func place(dir string, files []file) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, unwritable(dir, err)
	}
	var temps []string
	defer func() {
		for _, t := range temps {
			os.Remove(t)
		}
	}()
	for _, f := range files {
		t, err := store(dir, f)
		if t != "" {
			temps = append(temps, t)
		}
		if err != nil {
			return nil, unwritable(dir, err)
		}
	}
	var written []string
	for i, f := range files {
		path := filepath.Join(dir, f.name)
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			return written, fmt.Errorf("cannot write %q: there is a folder of that name; move it away or choose another folder", path)
		}
		if err := os.Rename(temps[i], path); err != nil {
			return written, unwritable(dir, err)
		}
		written = append(written, path)
	}
	return written, nil
}

// removeStale removes the pictures of an earlier plan with more layouts: nobody
// should cut by them.
func (r *Report) removeStale(dir string) error {
	for i := len(r.Sheets); ; i++ {
		err := os.Remove(filepath.Join(dir, pictureName(i)))
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

// pictureName is the file of the i-th layout's picture.
func pictureName(i int) string { return fmt.Sprintf("layout-%03d.svg", i+1) }

// store writes the file under a temporary name beside its place.
func store(dir string, f file) (string, error) {
	t, err := os.CreateTemp(dir, "."+f.name+".*")
	if err != nil {
		return "", err
	}
	mode := fs.FileMode(0o644)
	if old, err := os.Stat(filepath.Join(dir, f.name)); err == nil {
		mode = old.Mode().Perm()
	}
	_, err = t.Write(f.content)
	err = errors.Join(err, t.Chmod(mode), t.Sync(), t.Close())
	return t.Name(), err
}

func unwritable(dir string, err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Errorf("cannot write into folder %q: %w; choose another folder or make it writable", dir, err)
}

func (r *Report) render(formats []Format, paper Paper) ([]file, error) {
	var files []file
	add := func(name string, write func(io.Writer) error) error {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			return err
		}
		files = append(files, file{name, b.Bytes()})
		return nil
	}
	for _, f := range Formats() {
		if !slices.Contains(formats, f) {
			continue
		}
		var err error
		switch f {
		case PDF:
			err = add("cutting-plan.pdf", func(w io.Writer) error { return r.WritePDF(w, paper) })
		case HTML:
			err = add("cutting-plan.html", r.WriteHTML)
		case SVG:
			for i := range r.Sheets {
				err = errors.Join(err, add(pictureName(i), func(w io.Writer) error { return r.WriteSVG(w, i) }))
			}
		case CSV:
			err = add("pieces.csv", r.WriteCSV)
		case JSON:
			err = add("result.json", r.WriteJSON)
		}
		if err != nil {
			return nil, err
		}
	}
	return files, nil
}
