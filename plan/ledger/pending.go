//go:build !windows

package ledger

import (
	"path/filepath"

	"github.com/google/renameio/v2"
)

// newPending starts the file that is to take the place of the one at path, with
// its permissions, in the same folder.
func newPending(path string) (pending, error) {
	return renameio.NewPendingFile(path, renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(0o644), renameio.WithExistingPermissions())
}
