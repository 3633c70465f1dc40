package layout_test

import (
	"fmt"
	"math"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/trial"
)

const hardware = `m8: {standard: ISO 4762 M8x40 - 8.8}
csk: {standard: ISO 10642 M8x40 - 8.8}
grub: {standard: ISO 4026 M6x10 - 45H}
washer: {standard: ISO 7089 8}
nut: {standard: ISO 4032 M8 - 8}
slot_nut: {title: Slot nut, made: bought, fastener: {nut: M8, slot: 8 mm, height: 6 mm}}
insert: {title: Insert, made: bought, fastener: {insert: M8, seat: 10 mm, length: 9 mm}}
thick_washer: {title: Thick washer, made: bought, fastener: {washer: M8, outside: 30 mm, height: 3 mm}}
deep: {title: Deep, made: sheet, stock: plate, outline: {rectangle: [40 mm, 40 mm]}, holes: {h: {at: [20 mm, 20 mm], for: M8, counterbore: {d: 15 mm, depth: 6 mm}}}}
sunk: {title: Sunk, made: sheet, stock: plate, outline: {rectangle: [40 mm, 40 mm]}, holes: {h: {at: [20 mm, 20 mm], for: M8, countersink: {d: 18.92 mm, angle: 90 deg}}}}
flat: {title: Flat, made: sheet, stock: plate, outline: {rectangle: [40 mm, 40 mm]}, holes: {h: {at: [20 mm, 20 mm], for: M8}}}
seat: {title: Seat, made: machined, material: petg, shape: [{box: [40 mm, 40 mm, 30 mm]}], holes: {h: {at: [20 mm, 20 mm], insert: M8, depth: 12 mm}}}
hub: {title: Hub, made: machined, material: steel_s235, shape: [{box: [40 mm, 40 mm, 20 mm]}], holes: {bore: {at: [20 mm, 20 mm], bore: 12 mm}, set: {face: front, at: [20 mm, 10 mm], tap: M6}}}
shaft: {title: Shaft, made: machined, material: steel_s235, shape: [{cylinder: {d: 12 mm, l: 50 mm}, name: body}]}
`

// Where what a joint brings begins and ends along its axis, from the plane that the
// undermost washer or the head bears on, by hand. Sizes: ISO 4762 head 8 high, ISO
// 7089 washer 1.6, ISO 4032 nut 6.8; ISO 10642 head 17.92 wide, so a countersink of
// 18.92 and 90 degrees takes it 0.5 below its mouth.
func TestHardware(t *testing.T) {
	cases := []struct {
		name, holds, joint string
		want               []string // part, from, to
	}{
		{
			name:  "washers and nut",
			holds: "low: {part: flat, at: [0 mm, 0 mm, 0 mm]}, top: {part: flat, at: [0 mm, 0 mm, 10 mm]}",
			joint: "screw: m8, under_head: [washer, thick_washer], under_nut: [washer], through: [top.h, low.h], into: nut",
			want:  []string{"m8 -12.6 35.4", "washer -4.6 -3", "thick_washer -3 0", "washer 20 21.6", "nut 21.6 28.4"},
		},
		{
			name:  "from below",
			holds: "low: {part: flat, at: [0 mm, 0 mm, 0 mm]}, top: {part: flat, at: [0 mm, 0 mm, 10 mm]}",
			joint: "screw: m8, under_head: [washer], through: [low.h, top.h], into: nut",
			want:  []string{"m8 -9.6 38.4", "washer -1.6 0", "nut 20 26.8"},
		},
		{
			name:  "head in a counterbore",
			holds: "low: {part: flat, at: [0 mm, 0 mm, 0 mm]}, top: {part: deep, at: [0 mm, 0 mm, 10 mm]}",
			joint: "screw: m8, through: [top.h, low.h], into: nut",
			want:  []string{"m8 -8 40", "nut 14 20.8"},
		},
		{
			name:  "nut in a counterbore",
			holds: "low: {part: deep, at: [0 mm, 0 mm, 0 mm], turn: x 180 deg}, top: {part: flat, at: [0 mm, 0 mm, 10 mm]}",
			joint: "screw: m8, through: [top.h, low.h], into: nut",
			want:  []string{"m8 -8 40", "nut 14 20.8"},
		},
		{
			name:  "head in a countersink",
			holds: "low: {part: flat, at: [0 mm, 0 mm, 0 mm]}, top: {part: sunk, at: [0 mm, 0 mm, 10 mm]}",
			joint: "screw: csk, through: [top.h, low.h], into: nut",
			want:  []string{"csk 0.5 40.5", "nut 20 26.8"},
		},
		{
			name:  "slot nut behind its lip",
			holds: "mast: {part: mast, at: [0 mm, 0 mm, 0 mm]}, lid: {part: flat, at: [-5 mm, -10 mm, 20 mm], turn: x 90 deg}",
			joint: "screw: m8, through: [lid.h, mast.slot_front], into: slot_nut",
			want:  []string{"m8 -8 40", "slot_nut 12 18"},
		},
		{
			name:  "insert in its seat",
			holds: "low: {part: seat, at: [0 mm, 0 mm, 0 mm]}, top: {part: flat, at: [0 mm, 0 mm, 30 mm]}",
			joint: "screw: m8, through: [top.h, low.h], into: insert",
			want:  []string{"m8 -8 40", "insert 10 19"},
		},
		{
			// The hub's wall is 20 - 6 = 14 thick: of 10 mm the tip is at 14.
			name:  "set screw on a shaft",
			holds: "hub: {part: hub, at: [0 mm, 0 mm, 0 mm]}, shaft: {part: shaft, at: [14 mm, 14 mm, -10 mm]}",
			joint: "grip: shaft.body, by: hub.bore, screw: grub, through: [hub.set]",
			want:  []string{"grub 4 14"},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := stand(map[string]string{"stand": "title: Stand\nholds: {" + c.holds + "}\njoints:\n  hold: {" + c.joint + "}\n"})
			files["parts/hardware.yaml"] = hardware
			r := trial.Reckoning(t, files)
			l := layout.Of(r)
			trial.Clean(t, l.Findings())
			a := r.Plan.Assembly("stand")
			all := l.Fastenings(a, a.Joint("hold"))
			if len(all) != 1 {
				t.Fatalf("%d places, want 1", len(all))
			}
			s := all[0]
			var got []string
			for _, p := range s.Hardware() {
				box := p.Solid.BoxUnder(p.At)
				one, two := box.Min.Sub(s.Seat).Dot(s.Dir), box.Max.Sub(s.Seat).Dot(s.Dir)
				got = append(got, fmt.Sprintf("%s %s %s", p.Part.Part.ID.Text, short(min(one, two)), short(max(one, two))))
			}
			if fmt.Sprint(got) != fmt.Sprint(c.want) {
				t.Errorf("stands as %q, want %q", got, c.want)
			}
		})
	}
}

func short(v float64) string { return fmt.Sprint(math.Round(v*1000)/1000 + 0) }
