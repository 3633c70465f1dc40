package memo

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
)

const (
	// mostIdle is after how many runs without being asked for a result is let go of.
	mostIdle = 5
	// mostBytes bounds a store: what was not asked for the longest goes first.
	mostBytes = 512 << 20
)

// ErrForeign is of a pack that another program wrote, or that is not whole.
var ErrForeign = errors.New("not a whole pack of this program")

// mark begins every pack.
const mark = "plansheaf memo 1\n"

// Next begins another run: results that have not been asked for in some runs are let go of,
// the counts of uses begin anew.
func (s *Store) Next() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.uses = Uses{}
	for key, e := range s.kept {
		if e.idle++; e.idle > mostIdle {
			delete(s.kept, key)
			continue
		}
		s.kept[key] = e
	}
}

// Save writes all that is kept, for the program that the key stands for: its own hash, so
// that a changed program works everything out anew.
//
// A pack is its mark, the program's key, then for each result key, runs without use and
// length as 32-bit numbers, and the bytes; the SHA-256 of it all ends it.
func (s *Store) Save(to io.Writer, program Key) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	sum := sha256.New()
	out := io.MultiWriter(to, sum)
	if _, err := out.Write(append([]byte(mark), program[:]...)); err != nil {
		return fmt.Errorf("save what was worked out: %w", err)
	}
	size := 0
	for _, key := range s.order() {
		e := s.kept[key]
		if size += len(e.data); size > mostBytes {
			break
		}
		head := binary.LittleEndian.AppendUint32(slices.Clone(key[:]), uint32(e.idle))
		head = binary.LittleEndian.AppendUint32(head, uint32(len(e.data)))
		for _, part := range [][]byte{head, e.data} {
			if _, err := out.Write(part); err != nil {
				return fmt.Errorf("save what was worked out: %w", err)
			}
		}
	}
	if _, err := to.Write(sum.Sum(nil)); err != nil {
		return fmt.Errorf("save what was worked out: %w", err)
	}
	return nil
}

// order are the keys, what was asked for last first.
func (s *Store) order() []Key {
	return slices.SortedFunc(maps.Keys(s.kept), func(a, b Key) int {
		return cmp.Or(cmp.Compare(s.kept[a].idle, s.kept[b].idle), bytes.Compare(a[:], b[:]))
	})
}

// Load reads a pack that the program wrote, as for its next run. The error is [ErrForeign]
// for what another program wrote or what is not whole.
func Load(data []byte, program Key) (*Store, error) {
	head := append([]byte(mark), program[:]...)
	end := len(data) - sha256.Size
	if end < len(head) || !bytes.HasPrefix(data, head) {
		return nil, ErrForeign
	}
	if sum := sha256.Sum256(data[:end]); !bytes.Equal(sum[:], data[end:]) {
		return nil, ErrForeign
	}
	s := New()
	const entryHead = len(Key{}) + 8
	for rest := data[len(head):end]; len(rest) > 0; {
		if len(rest) < entryHead {
			return nil, ErrForeign
		}
		key := Key(rest[:len(Key{})])
		idle, size := binary.LittleEndian.Uint32(rest[len(key):]), binary.LittleEndian.Uint32(rest[len(key)+4:])
		if rest = rest[entryHead:]; uint64(size) > uint64(len(rest)) || idle > mostIdle {
			return nil, ErrForeign
		}
		s.kept[key] = entry{data: rest[:size:size], idle: int(idle)}
		rest = rest[size:]
	}
	s.Next()
	return s, nil
}
