package release

import (
	"errors"
	"fmt"

	"golang.org/x/sys/unix"
)

// exchange swaps two folders in one move; errors.ErrUnsupported where the file system
// cannot.
func exchange(a, b string) error {
	err := unix.RenamexNp(a, b, unix.RENAME_SWAP)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		return fmt.Errorf("%w: %w", errors.ErrUnsupported, err)
	}
	return err
}

// settle waits until all files of a folder are on disk.
func settle(dir string) error { return settleEach(dir) }
