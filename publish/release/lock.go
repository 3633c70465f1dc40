package release

import (
	"errors"
	"fmt"
	"os"
)

// errTaken says that another run holds a lock.
var errTaken = errors.New("another run is publishing there now; wait for it and try again")

// A lock is a file that one process at a time holds. The system lets go of it when the
// process ends, however it ends, so that an interrupted run locks nobody out.
type lock struct{ file *os.File }

// take locks the file name, which is made where it is missing.
func take(name string) (*lock, error) {
	const tries = 100 // each lost to a run that ended in between
	for range tries {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			return nil, fmt.Errorf("lock the place: %w", err)
		}
		if err := hold(f); err != nil {
			return nil, errors.Join(err, f.Close())
		}
		// A run that just ended has removed the file that we opened: what we hold
		// then is no longer what the next one opens.
		mine, err := f.Stat()
		if there, other := os.Stat(name); err == nil && other == nil && os.SameFile(mine, there) {
			return &lock{f}, nil
		}
		if err := f.Close(); err != nil {
			return nil, fmt.Errorf("lock the place: %w", err)
		}
	}
	return nil, errTaken
}
