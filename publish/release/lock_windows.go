package release

import (
	"errors"
	"fmt"
	"os"

	"golang.org/x/sys/windows"
)

func hold(f *os.File) error {
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &windows.Overlapped{})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return errTaken
	}
	if err != nil {
		return fmt.Errorf("lock the place: %w", err)
	}
	return nil
}

// release lets go of the file and removes it; one that another run has opened by then
// stays, which that run removes.
func (l *lock) release() error {
	name := l.file.Name()
	if err := l.file.Close(); err != nil {
		return err
	}
	_ = os.Remove(name)
	return nil
}
