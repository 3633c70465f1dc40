//go:build unix

package release

import (
	"errors"
	"fmt"
	"os"

	"golang.org/x/sys/unix"
)

func hold(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return errTaken
	}
	if err != nil {
		return fmt.Errorf("lock the place: %w", err)
	}
	return nil
}

// release removes the file and then lets go of it.
func (l *lock) release() error {
	return errors.Join(os.Remove(l.file.Name()), l.file.Close())
}
