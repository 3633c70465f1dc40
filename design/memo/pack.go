package memo

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
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

// LargestPack is the size that no pack exceeds, in bytes.
const LargestPack = mostBytes + len(mark) + len(Key{}) + crc32.Size

// ErrForeign is of a pack that another program wrote, or that is not whole.
var ErrForeign = errors.New("not a whole pack of this program")

// mark begins every pack.
const mark = "plansheaf memo 1\n"

// Next begins another run after one that did all the work on its plan: results that have
// not been asked for in some such runs are let go of, the counts of uses begin anew. After
// a run that broke off it is not called: what that did not come to is no older for it.
func (s *Store) Next() { s.next(true) }

// NextOfPart is [Store.Next] after a run that did a part of the work only, as checking
// without drawing is: results that a whole run once asked for are no older for it.
func (s *Store) NextOfPart() { s.next(false) }

func (s *Store) next(whole bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.uses = Uses{}
	for key, e := range s.kept {
		switch {
		case e.asked:
			e.asked, e.idle, e.part = false, 0, e.part && !whole
		case whole || e.part:
			e.idle++
		}
		if e.idle > mostIdle {
			s.drop(key)
			continue
		}
		s.kept[key] = e
	}
}

// size is what the result takes in a pack.
func (e entry) size() int { return entryHead + len(e.data) }

func (s *Store) drop(key Key) {
	s.size -= s.kept[key].size()
	delete(s.kept, key)
}

// trim lets go of what was not asked for the longest, until a quarter of the room is free.
func (s *Store) trim() {
	keys := s.order()
	for s.size > s.most*3/4 && len(keys) > 0 {
		s.drop(keys[len(keys)-1])
		keys = keys[:len(keys)-1]
	}
}

// packed is the check sum of packs: it finds what a disk or a copy broke, no more is
// needed of it, and it costs next to nothing.
var packed = crc32.MakeTable(crc32.Castagnoli)

// entryHead is the size of what stands before each result in a pack.
const entryHead = len(Key{}) + 8

// ofPart marks, beside the runs without use, what no whole run asked for.
const ofPart = 1 << 31

// Save writes all that is kept, for the program that the key stands for: its own hash, so
// that a changed program works everything out anew.
//
// A pack is its mark, the program's key, then for each result key, runs without use and
// length as 32-bit numbers, and the bytes; the CRC-32C of it all ends it.
func (s *Store) Save(to io.Writer, program Key) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	sum := crc32.New(packed)
	out := bufio.NewWriterSize(io.MultiWriter(to, sum), 1<<18)
	out.WriteString(mark) // the writer keeps its first error for Flush
	out.Write(program[:])
	for _, key := range s.order() {
		e := s.kept[key]
		idle := uint32(e.idle)
		if e.asked {
			idle = 0
		}
		if e.part {
			idle |= ofPart
		}
		head := binary.LittleEndian.AppendUint32(slices.Clone(key[:]), idle)
		out.Write(binary.LittleEndian.AppendUint32(head, uint32(len(e.data))))
		out.Write(e.data)
	}
	err := out.Flush()
	if err == nil {
		_, err = to.Write(binary.LittleEndian.AppendUint32(nil, sum.Sum32()))
	}
	if err != nil {
		return fmt.Errorf("save what was worked out: %w", err)
	}
	s.fresh = false
	return nil
}

// order are the keys, what was asked for last first.
func (s *Store) order() []Key {
	idle := func(e entry) int {
		if e.asked {
			return -1
		}
		return e.idle
	}
	return slices.SortedFunc(maps.Keys(s.kept), func(a, b Key) int {
		return cmp.Or(cmp.Compare(idle(s.kept[a]), idle(s.kept[b])), bytes.Compare(a[:], b[:]))
	})
}

// Load reads a pack that the program wrote; the store holds on to the data. The error is
// [ErrForeign] for what another program wrote or what is not whole.
func Load(data []byte, program Key) (*Store, error) {
	head := append([]byte(mark), program[:]...)
	end := len(data) - crc32.Size
	if end < len(head) || !bytes.HasPrefix(data, head) {
		return nil, ErrForeign
	}
	if crc32.Checksum(data[:end], packed) != binary.LittleEndian.Uint32(data[end:]) {
		return nil, ErrForeign
	}
	s := New()
	for rest := data[len(head):end]; len(rest) > 0; {
		if len(rest) < entryHead {
			return nil, ErrForeign
		}
		key := Key(rest[:len(Key{})])
		idle, size := binary.LittleEndian.Uint32(rest[len(key):]), binary.LittleEndian.Uint32(rest[len(key)+4:])
		part := idle&ofPart != 0
		idle &^= ofPart
		_, twice := s.kept[key]
		if rest = rest[entryHead:]; uint64(size) > uint64(len(rest)) || idle > mostIdle || twice {
			return nil, ErrForeign
		}
		e := entry{data: rest[:size:size], idle: int(idle), part: part}
		s.kept[key] = e
		s.size += e.size()
		rest = rest[size:]
	}
	return s, nil
}
