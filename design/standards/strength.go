package standards

import "sync"

// A Class is the strength of a property class or grade of screws for a range of
// diameters, in megapascals. A stainless steel has no proof stress; its yield
// strength stands in for it.
type Class struct {
	Name     string // "8.8", "A2-70", "grade 5"
	Standard string // "ISO 898-1"
	Tensile  float64
	Yield    float64
	Proof    float64
}

// ScrewClass returns the strength of a screw's class for a nominal diameter in
// millimetres, false when the tables lack it.
func ScrewClass(name string, diameter float64) (Class, bool) {
	for _, r := range strengths().classes {
		if r.text("class") != name || diameter <= r.number("over_mm") {
			continue
		}
		if most := r.number("up_to_mm"); most > 0 && diameter > most {
			continue
		}
		c := Class{
			Name: name, Standard: r.text("standard"),
			Tensile: r.number("tensile_mpa"), Yield: r.number("yield_mpa"), Proof: r.number("proof_mpa"),
		}
		if c.Proof == 0 {
			c.Proof = c.Yield
		}
		return c, true
	}
	return Class{}, false
}

// NutMate returns the highest screw class that a nut class holds to full
// strength, false for thin nuts, which hold none, and for unknown classes.
// Source: ISO 898-2.
func NutMate(class string) (string, bool) {
	mate := strengths().mates[class]
	return mate, mate != ""
}

// ProofLoad returns the load in newtons that a screw of a class bears without
// lasting stretch: the printed value of ISO 898-1 for coarse threads where there
// is one, otherwise stress area times proof stress.
func ProofLoad(thread Thread, class string) (float64, bool) {
	if r, printed := strengths().loads[loadKey{thread.Name, class}]; printed {
		return r.number("proof_n"), true
	}
	c, known := ScrewClass(class, thread.Major)
	return c.Proof * thread.StressArea, known && thread.StressArea > 0
}

// TensileLoad returns the least load in newtons that breaks a screw of a class,
// on the terms of [ProofLoad].
func TensileLoad(thread Thread, class string) (float64, bool) {
	if r, printed := strengths().loads[loadKey{thread.Name, class}]; printed && r.text("tensile_min_n") != "" {
		return r.number("tensile_min_n"), true
	}
	c, known := ScrewClass(class, thread.Major)
	return c.Tensile * thread.StressArea, known && thread.StressArea > 0
}

// PreloadOfProof is the part of its proof load that a screw is tightened to when
// it may be undone again. Source: Shigley, Mechanical Engineering Design, 9th
// ed., equation 8-31.
const PreloadOfProof = 0.75

// NutFactor is the torque factor K of plain or zinc-plated screws that are not
// oiled. Source: Shigley, Mechanical Engineering Design, 9th ed., table 8-15.
const NutFactor = 0.2

// Preload returns the clamping force in newtons that a screw is tightened to:
// [PreloadOfProof] of its proof load.
func Preload(thread Thread, class string) (float64, bool) {
	load, known := ProofLoad(thread, class)
	return PreloadOfProof * load, known
}

// TighteningTorque returns the torque in newton metres that gives the preload of
// a screw, T = K F d. A nutFactor of 0 means [NutFactor].
// Source: Shigley, Mechanical Engineering Design, 9th ed., equation 8-27.
func TighteningTorque(thread Thread, class string, nutFactor float64) (float64, bool) {
	if nutFactor == 0 {
		nutFactor = NutFactor
	}
	preload, known := Preload(thread, class)
	const millimetresPerMetre = 1000
	return nutFactor * preload * thread.Major / millimetresPerMetre, known
}

// SetScrewTorque returns the torque in newton metres that the socket of a set
// screw of class 45H must bear, a limit and no advice. Source: ISO 898-5.
func SetScrewTorque(thread Thread) (float64, bool) {
	torque, known := strengths().setScrews[thread.Name]
	return torque, known
}

type loadKey struct{ thread, class string }

type strengthTables struct {
	classes   []row
	loads     map[loadKey]row
	mates     map[string]string
	setScrews map[string]float64
}

var strengths = sync.OnceValue(func() strengthTables {
	t := strengthTables{
		classes: readTable("property-classes").rows, loads: make(map[loadKey]row),
		mates: make(map[string]string), setScrews: make(map[string]float64),
	}
	for _, r := range readTable("proof-loads").rows {
		t.loads[loadKey{r.text("size"), r.text("class")}] = r
	}
	for _, r := range readTable("nut-classes").rows {
		t.mates[r.text("class")] = r.text("mates")
	}
	for _, r := range readTable("set-screw-torques").rows {
		t.setScrews[r.text("size")] = r.number("proof_n_m")
	}
	return t
})
