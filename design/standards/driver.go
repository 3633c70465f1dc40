package standards

import (
	"math"
	"strconv"
	"sync"
)

// A Socket turns a hexagon from above. Lengths are millimetres.
type Socket struct {
	Size    float64 // width across flats
	Drive   string  // its square drive in inches, as sold: "1/4"
	Outside float64 // outside diameter
	Length  float64
	Deep    float64 // length of the deep kind, which takes a bolt's end
}

// SocketsFor returns the sockets that fit a hexagon of the given width across
// flats, smallest drive first. Inch hexagons get the next metric socket's outside.
// Source: see the table; for judging whether there is room, not for proof.
func SocketsFor(flats float64) []Socket {
	var list []Socket
	taken := map[string]bool{}
	for _, s := range sockets() {
		if s.Size >= flats-0.01 && !taken[s.Drive] {
			taken[s.Drive] = true
			if s.Size < flats*1.2 {
				list = append(list, s)
			}
		}
	}
	return list
}

var sockets = sync.OnceValue(func() []Socket {
	var all []Socket
	for _, r := range readTable("sockets").rows {
		all = append(all, Socket{
			Size: r.number("size_mm"), Drive: r.text("drive"), Outside: r.number("outside_mm"), Length: r.number("length_mm"), Deep: r.number("deep_mm"),
		})
	}
	return all
})

// Sockets returns every socket, by drive, then by size.
func Sockets() []Socket { return append([]Socket(nil), sockets()...) }

// A Ratchet turns sockets, plainly or through an extension. Lengths are
// millimetres.
type Ratchet struct {
	Drive      string // its square drive in inches, as sold: "1/4"
	Head       float64
	Height     float64 // of the head, with its square
	Length     float64
	Extension  float64   // largest diameter of an extension
	Extensions []float64 // lengths of extensions as sold
}

// RatchetFor returns the ratchet of a square drive. Source: see the table.
func RatchetFor(drive string) (Ratchet, bool) {
	for _, r := range ratchets() {
		if r.Drive == drive {
			return r, true
		}
	}
	return Ratchet{}, false
}

var ratchets = sync.OnceValue(func() []Ratchet {
	var all []Ratchet
	for _, r := range readTable("drive-tools").rows {
		one := Ratchet{Drive: r.text("drive"), Head: r.number("head_mm"), Height: r.number("height_mm"), Length: r.number("length_mm"), Extension: r.number("extension_mm")}
		for _, word := range r.words("extension_lengths") {
			if v, err := strconv.ParseFloat(word, 64); err == nil {
				one.Extensions = append(one.Extensions, v)
			}
		}
		all = append(all, one)
	}
	return all
})

// A HexDriver is a hexagon blade with a straight grip. Lengths are millimetres.
type HexDriver struct {
	Size       float64 // width across flats
	Blade      float64 // length of the blade
	Grip       float64 // diameter of the grip
	GripLength float64
}

// HexDriverFor returns the driver for a hexagon socket of the given width across
// flats, false where none is sold. Source: see the table.
func HexDriverFor(flats float64) (HexDriver, bool) {
	for _, d := range hexDrivers() {
		if d.Size == flats {
			return d, true
		}
	}
	return HexDriver{}, false
}

var hexDrivers = sync.OnceValue(func() []HexDriver {
	var all []HexDriver
	for _, r := range readTable("hex-drivers").rows {
		all = append(all, HexDriver{Size: r.number("s_mm"), Blade: r.number("blade_mm"), Grip: r.number("grip_mm"), GripLength: r.number("grip_length_mm")})
	}
	return all
})

// A Swing says how a kind of tool is worked: how far it must turn before it can be
// put back on, and how far it may lean, radians.
type Swing struct {
	Tool       string // "hex key", "ball end", "open-ended spanner", "ring spanner", "ratchet", "driver"
	Turn, Lean float64
}

// SwingOf returns how a kind of tool is worked; false for a kind that the table
// does not hold. Source: see the table.
func SwingOf(tool string) (Swing, bool) {
	for _, s := range swings() {
		if s.Tool == tool {
			return s, true
		}
	}
	return Swing{}, false
}

var swings = sync.OnceValue(func() []Swing {
	var all []Swing
	for _, r := range readTable("tool-swings").rows {
		all = append(all, Swing{Tool: r.text("tool"), Turn: r.number("swing_deg") * math.Pi / 180, Lean: r.number("lean_deg") * math.Pi / 180})
	}
	return all
})

// LiftLimit returns the mass in kilograms that so many people may lift together by
// hand, and how many people that counts at most: more than three get in each other's
// way. Source: ISO 11228-1, see the table.
func LiftLimit(people int) (kg float64, counted int) {
	for _, l := range lifts() {
		if l.people <= max(people, 1) {
			kg, counted = l.kg, l.people
		}
	}
	return kg, counted
}

type lift struct {
	people int
	kg     float64
}

var lifts = sync.OnceValue(func() []lift {
	var all []lift
	for _, r := range readTable("lifting").rows {
		all = append(all, lift{int(r.number("people")), r.number("mass_kg")})
	}
	return all
})

// A HexBit is a hexagon bit that stands out of a socket with a square drive. Lengths
// are millimetres.
type HexBit struct {
	Size   float64 // width across flats
	Drive  string  // its square drive in inches, as sold: "1/4"
	Blade  float64 // how far the bit stands out
	Body   float64 // diameter of the socket
	Length float64 // of both
}

// HexBitsFor returns the bits for a hexagon socket of the given width across flats,
// smallest drive first. Source: see the table.
func HexBitsFor(flats float64) []HexBit {
	var list []HexBit
	for _, b := range hexBits() {
		if b.Size == flats {
			list = append(list, b)
		}
	}
	return list
}

var hexBits = sync.OnceValue(func() []HexBit {
	var all []HexBit
	for _, r := range readTable("hex-bits").rows {
		all = append(all, HexBit{Size: r.number("s_mm"), Drive: r.text("drive"), Blade: r.number("blade_mm"), Body: r.number("body_mm"), Length: r.number("length_mm")})
	}
	return all
})
