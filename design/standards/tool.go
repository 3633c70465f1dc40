package standards

import (
	"math"
	"sync"
)

// A HexKey is a key for hexagon sockets. Arms are nominal lengths in
// millimetres, each over the outside of the bend, 0 where the tables lack them (odd
// inch keys, the longer series of large and of the smallest ones).
type HexKey struct {
	Size             float64 // width across flats, mm
	Text             string  // "6 mm", "3/16 in"
	ShortArm         float64
	LongArm          float64 // of the standard series
	LongArmLong      float64
	LongArmExtraLong float64
}

// HexKeyFor returns the key that turns a fastener, false when it has no hexagon
// socket. Source: ISO 2936; for inch keys ASME B18.3, from memory.
func HexKeyFor(f Fastener) (HexKey, bool) {
	if f.Drive.Kind != HexSocket {
		return HexKey{}, false
	}
	if f.Inch {
		for _, key := range inchKeys() {
			if key.Text == f.Drive.Text {
				return key, true
			}
		}
		return HexKey{Size: f.Drive.Size, Text: f.Drive.Text}, true
	}
	for _, key := range hexKeys() {
		if key.Size == f.Drive.Size {
			return key, true
		}
	}
	return HexKey{}, false
}

// Corners returns the width across the corners of a key's hexagon, mm: what its
// arms are thick.
func (k HexKey) Corners() float64 { return k.Size * 2 / math.Sqrt(3) }

// HexKeys returns every metric key, by size.
func HexKeys() []HexKey {
	return append([]HexKey(nil), hexKeys()...)
}

var hexKeys = sync.OnceValue(func() []HexKey {
	var keys []HexKey
	for _, r := range readTable("hex-keys").rows {
		keys = append(keys, HexKey{
			Size: r.number("s_mm"), Text: r.text("s_mm") + " mm", ShortArm: r.number("short_arm_mm"),
			LongArm: r.number("long_arm_mm"), LongArmLong: r.number("long_arm_long_mm"), LongArmExtraLong: r.number("long_arm_extra_long_mm"),
		})
	}
	return keys
})

var inchKeys = sync.OnceValue(func() []HexKey {
	var keys []HexKey
	for _, r := range readTable("hex-keys-inch").rows {
		keys = append(keys, HexKey{Size: r.inches("flats_in"), Text: r.text("flats_in") + " in", ShortArm: r.inches("short_arm_in"), LongArm: r.inches("long_arm_in")})
	}
	return keys
})

// A Spanner turns a hexagon from outside. Lengths are millimetres.
type Spanner struct {
	Size float64 // width across flats
	Text string  // "13 mm", "7/16 in"
	Inch bool

	// RingWidth is the largest outside diameter of a ring (box) head, HeadThick and
	// RingThick how thick the open and the ring head are, Length that of the whole;
	// but for the widths of some inch rings good for judging, not for proof. They are
	// 0 for a size that is not sold.
	RingWidth, HeadThick, RingThick, Length float64
}

// SpannerFor returns the spanner or socket that turns a fastener, false when it
// has no hexagon outside.
func SpannerFor(f Fastener) (Spanner, bool) {
	if f.Drive.Kind != ExternalHex {
		return Spanner{}, false
	}
	for _, sold := range spanners() {
		if sold.Text == f.Drive.Text {
			return sold, true
		}
	}
	return Spanner{Size: f.Drive.Size, Text: f.Drive.Text, Inch: f.Inch}, true
}

// SpannerOf returns the spanner for a width across flats in mm, false where none is
// sold.
func SpannerOf(flats float64) (Spanner, bool) {
	for _, sold := range spanners() {
		if math.Abs(sold.Size-flats) < 0.01 {
			return sold, true
		}
	}
	return Spanner{}, false
}

// Spanners returns the widths across flats that spanners are sold in, metric
// (ISO 272) before inch, by size.
func Spanners() []Spanner {
	return append([]Spanner(nil), spanners()...)
}

var spanners = sync.OnceValue(func() []Spanner {
	var all []Spanner
	for _, r := range readTable("spanners").rows {
		s := Spanner{
			Text: r.text("size") + " " + r.text("unit"), Inch: r.text("unit") == "in", RingWidth: r.inches("ring_width_in"),
			HeadThick: r.number("head_thick_mm"), RingThick: r.number("ring_thick_mm"), Length: r.number("length_mm"),
		}
		if s.RingWidth == 0 {
			s.RingWidth = r.number("ring_width_mm")
		}
		if s.Inch {
			s.Size = r.inches("size")
		} else {
			s.Size = r.number("size")
		}
		all = append(all, s)
	}
	return all
})

// Opening returns the least and the largest opening of an inch spanner in
// millimetres, and false for a metric one.
// Source: ASME B18.2.2 appendix: 1.005 W + 0.001 in, and 0.005 W + 0.004 in more.
func (s Spanner) Opening() (least, most float64, known bool) {
	if !s.Inch {
		return 0, 0, false
	}
	width := s.Size / inch
	smallest := 1.005*width + 0.001
	return smallest * inch, (smallest + 0.005*width + 0.004) * inch, true
}

// HeadWidth returns the largest width in millimetres of an open-ended spanner's
// head, for judging whether there is room for it.
// Source: ISO 3318, b = 2.1 s + 7 mm, from memory: good for judging, not for
// proof. Inch spanners are taken to be alike.
func (s Spanner) HeadWidth() float64 {
	return math.Round((2.1*s.Size+7)*10) / 10
}
