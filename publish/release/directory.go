package release

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// The end of a ZIP archive's directory (APPNOTE 4.3.16): where it stands and what is
// read of it, in bytes from its start.
const (
	endBytes     = 22
	endSignature = 0x06054b50
	endSize      = 12
	endOffset    = 16
	endComment   = 20

	// What would stand before it in an archive whose directory may be anywhere
	// (APPNOTE 4.3.15).
	locatorBytes     = 20
	locatorSignature = 0x07064b50
)

// directoryWithin makes sure that an archive's own list of files is at its end, where
// it says, and no larger than the limit, before memory is spent on reading it. What it
// refuses this program does not write: remarks, further data behind or before, archives
// of more than 65,535 files.
func directoryWithin(in io.ReaderAt, size int64, limits Limits) error {
	end := make([]byte, endBytes)
	if size < endBytes {
		return errors.New("no ZIP archive: it is too short")
	}
	if _, err := in.ReadAt(end, size-endBytes); err != nil {
		return err
	}
	if binary.LittleEndian.Uint32(end) != endSignature || binary.LittleEndian.Uint16(end[endComment:]) != 0 {
		return errors.New("no ZIP archive as this program writes them: its directory is not at its end")
	}
	length, from := int64(binary.LittleEndian.Uint32(end[endSize:])), int64(binary.LittleEndian.Uint32(end[endOffset:]))
	switch {
	case length > limits.Directory:
		return fmt.Errorf("the archive's list of its files is larger than %d bytes", limits.Directory)
	case from+length != size-endBytes:
		return errors.New("no ZIP archive as this program writes them: its directory is not where it says")
	case size < endBytes+locatorBytes:
		return nil
	}
	locator := make([]byte, locatorBytes)
	if _, err := in.ReadAt(locator, size-endBytes-locatorBytes); err != nil {
		return err
	}
	if binary.LittleEndian.Uint32(locator) == locatorSignature {
		return errors.New("no ZIP archive as this program writes them: it has a second directory")
	}
	return nil
}
