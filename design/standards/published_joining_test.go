package standards

import (
	"math"
	"testing"
)

func TestRetainingRingsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "retaining-rings") {
		name := p["standard"] + " " + p["size"]
		f := mustParse(t, name)
		p.expect(t, name, "size", f.Groove.Seat, 0)
		p.expect(t, name, "thick_mm", f.Groove.Thick, 0)
		p.expect(t, name, "groove_mm", f.Groove.Diameter, 0)
		p.expect(t, name, "width_mm", f.Groove.Width, 0)
		p.expect(t, name, "edge_mm", f.Groove.Edge, 0)
		p.expect(t, name, "lug_mm", f.Groove.Lug, 0)
		p.expect(t, name, "beam_mm", f.Groove.Beam, 0)
		if inside := p["standard"] == "DIN 472"; f.Groove.Inside != inside {
			t.Errorf("%s: inside %v", name, f.Groove.Inside)
		}
	}
}

func TestSpringPinsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "spring-pins") {
		f := mustParse(t, "ISO 8752 "+p["size"]+"x20")
		p.expect(t, p["size"], "outside_min_mm", f.PinFree.Least, 0)
		p.expect(t, p["size"], "outside_max_mm", f.PinFree.Most, 0)
		p.expect(t, p["size"], "inside_mm", f.PinBore, 0)
		_, upper, err := Limits(f.PinDiameter, "H12")
		if err != nil {
			t.Error(err)
		}
		p.expect(t, p["size"], "hole_max_mm", f.PinDiameter+upper, exact)
	}
}

func TestRivetGripsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "rivet-grips") {
		f := mustParse(t, "ISO 15981 "+p["size"]+"x"+p["length_mm"])
		p.expect(t, f.String(), "least_mm", f.Grip.Least, 0)
		p.expect(t, f.String(), "most_mm", f.Grip.Most, 0)
	}
}

func TestWoodScrewHeadsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "wood-screw-heads") {
		f := mustParse(t, "DIN 7997 "+p["size"]+"x25")
		p.expect(t, f.String(), "head_diameter_mm", f.Head.Diameter, 0)
		p.expect(t, f.String(), "head_height_mm", f.Head.Height, 0)
	}
}

func TestDriverHeadsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "driver-heads") {
		f := mustParse(t, p["standard"]+" "+p["size"]+"x"+p["length_mm"])
		p.expect(t, f.String(), "head_diameter_mm", f.Head.Diameter, 0)
		p.expect(t, f.String(), "head_height_mm", f.Head.Height, 0)
		if f.Drive.Text != p["drive"] || !f.Drive.ByDriver() {
			t.Errorf("%s: drive %+v, want %s", f, f.Drive, p["drive"])
		}
	}
}

func TestSetCollarsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "set-collars") {
		f := mustParse(t, "DIN 705 A "+p["size"])
		p.expect(t, f.String(), "size", f.CollarBore, 0)
		p.expect(t, f.String(), "outside_mm", f.CollarOutside, 0)
		p.expect(t, f.String(), "width_mm", f.CollarWidth, 0)
		if key, known := HexKeyFor(f); !known || f.Thread.Major >= f.CollarWidth {
			t.Errorf("%s: screw %s, key %+v", f, f.Thread.Name, key)
		}
	}
}

// A countersunk blind rivet's length counts its head: ISO 15978.
func TestCountersunkRivets(t *testing.T) {
	f := mustParse(t, "ISO 15978 4x10")
	if f.Head.Form != Countersunk || f.Head.Angle != 120 {
		t.Errorf("%s: head %+v", f, f.Head)
	}
	for _, r := range readTable("iso-15978").rows {
		d, _ := parseDecimal(r.text("size"))
		cone := (r.number("head_diameter_mm") - d) / 2 / math.Tan(math.Pi/3)
		if high := r.number("head_height_mm"); math.Abs(high-cone) > 0.02 {
			t.Errorf("ISO 15978 %s: head %v high, a cone of 120 degrees is %v", r.text("size"), high, cone)
		}
	}
}
