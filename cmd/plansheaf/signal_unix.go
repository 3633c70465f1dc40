//go:build unix

package main

import (
	"os/signal"

	"golang.org/x/sys/unix"
)

// A write past the largest file that the process may make is to fail with an error that
// says so, as on a full disk, rather than end the program.
func init() { signal.Ignore(unix.SIGXFSZ) }
