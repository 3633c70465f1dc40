//go:build !linux && !darwin

package release

import "errors"

// exchange would swap two folders in one move; here no call does.
func exchange(string, string) error { return errors.ErrUnsupported }

// settle waits until all files of a folder are on disk.
func settle(dir string) error { return settleEach(dir) }
