package ledger

import (
	"os"
	"path/filepath"
)

// newPending starts the file that is to take the place of the one at path, in the
// same folder; renameio does not do Windows.
func newPending(path string) (pending, error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"*")
	if err != nil {
		return nil, err
	}
	return &windowsPending{f, path}, nil
}

type windowsPending struct {
	*os.File
	path string
}

func (p *windowsPending) CloseAtomicallyReplace() error {
	if err := p.Close(); err != nil {
		return err
	}
	return os.Rename(p.Name(), p.path)
}

func (p *windowsPending) Cleanup() error {
	_ = p.Close() // it may be closed already
	return os.Remove(p.Name())
}
