package reports

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"
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

// file is a file to be written, rendered as it is stored.
type file struct {
	name  string
	write func(io.Writer) error
}

// Write writes the formats into the folder, which is made if it is not there,
// and returns the paths of the files in the order written. Every file is
// rendered straight into storage under a temporary name before the first one takes its
// place, so an error leaves no half-written file; files of the same name are
// replaced, pictures of layouts that are no more removed, others left alone.
func (r *Report) Write(dir string, formats []Format, paper Paper) ([]string, error) {
	written, err := place(dir, r.files(formats, paper))
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
	made := ""
	defer func() {
		for _, t := range temps {
			os.Remove(t)
		}
		if made != "" {
			_ = os.Remove(made) // fails, as it should, once something lies in it
		}
	}()
	for _, f := range files {
		in := filepath.Join(dir, filepath.Dir(f.name))
		if err := os.Mkdir(in, 0o755); err == nil {
			made = in
		} else if !errors.Is(err, fs.ErrExist) {
			return nil, unwritable(in, err)
		}
		t, err := store(dir, f)
		if t != "" {
			temps = append(temps, t)
		}
		if err != nil {
			return nil, err
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

// removeStale removes the pictures of an earlier plan with more layouts, or with
// pictures in the other place: nobody should cut by them.
func (r *Report) removeStale(dir string) error {
	n := len(r.Sheets)
	for _, in := range []string{"", pictureFolder} {
		from := 0
		if in == picturesIn(n) {
			from = n
		}
		for i := from; ; i++ {
			err := os.Remove(filepath.Join(dir, in, pictureFile(i)))
			if missing(err) {
				break
			}
			if err != nil {
				return err
			}
		}
	}
	if picturesIn(n) == "" {
		_ = os.Remove(filepath.Join(dir, pictureFolder)) // unless something else lies in it
	}
	return nil
}

// missing tells that there is no such file, or no such folder for it to lie in.
func missing(err error) bool {
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR)
}

// A plan of many layouts has its pictures in a folder of their own, so that the
// other files can be found.
const (
	pictureFolder = "layouts"
	mostBeside    = 40 // pictures beside the other files
)

// picturesIn is the folder, within the one written into, of n pictures.
func picturesIn(n int) string {
	if n > mostBeside {
		return pictureFolder
	}
	return ""
}

// pictureFile is the file of the i-th layout's picture, without its folder.
func pictureFile(i int) string { return fmt.Sprintf("layout-%03d.svg", i+1) }

// store renders the file under a temporary name beside its place.
func store(dir string, f file) (string, error) {
	dir, name := filepath.Split(filepath.Join(dir, f.name))
	t, err := os.CreateTemp(dir, "."+name+".*")
	if err != nil {
		return "", unwritable(filepath.Clean(dir), err)
	}
	mode := fs.FileMode(0o644)
	if old, err := os.Stat(filepath.Join(dir, name)); err == nil {
		mode = old.Mode().Perm()
	}
	disk := &disk{Writer: t}
	b := bufio.NewWriterSize(disk, 1<<16)
	faulty := f.write(b)
	err = errors.Join(b.Flush(), t.Chmod(mode), t.Sync(), t.Close())
	switch {
	case disk.err != nil:
		return t.Name(), unwritable(filepath.Clean(dir), disk.err)
	case faulty != nil:
		return t.Name(), faulty
	case err != nil:
		return t.Name(), unwritable(filepath.Clean(dir), err)
	}
	return t.Name(), nil
}

// disk remembers what went wrong where it is written to, however the renderer
// words it.
type disk struct {
	io.Writer
	err error
}

func (d *disk) Write(p []byte) (int, error) {
	n, err := d.Writer.Write(p)
	if err != nil && d.err == nil {
		d.err = err
	}
	return n, err
}

func unwritable(dir string, err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Errorf("cannot write into folder %q: %w; choose another folder or make it writable", dir, err)
}

// files lists what is written for the formats.
func (r *Report) files(formats []Format, paper Paper) []file {
	var files []file
	add := func(name string, write func(io.Writer) error) { files = append(files, file{name, write}) }
	for _, f := range Formats() {
		if !slices.Contains(formats, f) {
			continue
		}
		switch f {
		case PDF:
			add("cutting-plan.pdf", func(w io.Writer) error { return r.WritePDF(w, paper) })
		case HTML:
			add("cutting-plan.html", r.WriteHTML)
		case SVG:
			for i := range r.Sheets {
				add(filepath.Join(picturesIn(len(r.Sheets)), pictureFile(i)), func(w io.Writer) error { return r.WriteSVG(w, i) })
			}
		case CSV:
			add("pieces.csv", r.WriteCSV)
		case JSON:
			add("result.json", r.WriteJSON)
		}
	}
	return files
}
