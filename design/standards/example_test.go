package standards_test

import (
	"fmt"

	"plansheaf/design/standards"
)

func ExampleParse() {
	screw, err := standards.Parse("ISO 4762 M8×25 - 8.8")
	if err != nil {
		fmt.Println(err)
		return
	}
	key, _ := standards.HexKeyFor(screw)
	hole, _ := standards.Clearance(screw.Thread, "medium")
	torque, _ := standards.TighteningTorque(screw.Thread, screw.Class, standards.NutFactor)
	fmt.Println(screw)
	fmt.Println(screw.Title)
	fmt.Printf("head %v mm, key %s, clearance hole %v mm, tap drill %s\n", screw.Head.Diameter, key.Text, hole, screw.Thread.TapDrillText)
	fmt.Printf("torque %.0f N m\n", torque)
	// Output:
	// ISO 4762 M8x25 - 8.8
	// Socket head cap screw M8×25
	// head 13 mm, key 6 mm, clearance hole 9 mm, tap drill 6.8 mm
	// torque 25 N m
}

func ExampleParse_mistaken() {
	_, err := standards.Parse("ISO 4762 M9x25")
	fmt.Println(err)
	// Output: "M9" is no thread of ISO 4762; the nearest known is "ISO 4762 M8x25"
}

func ExampleFastener_Profile() {
	screw, _ := standards.Parse("ISO 4014 M8x60 - 8.8")
	for _, step := range screw.Profile() {
		fmt.Printf("%s ⌀%.1f, %.1f long, threaded %v\n", step.Shape, step.Diameter, step.Length, step.Threaded)
	}
	// Output:
	// hexagon ⌀15.0, 5.3 long, threaded false
	// cylinder ⌀8.0, 38.0 long, threaded false
	// cylinder ⌀8.0, 22.0 long, threaded true
}

func ExampleLimits() {
	lower, upper, _ := standards.Limits(22, "H7")
	fmt.Printf("%+.3f %+.3f\n", lower, upper)
	// Output: +0.000 +0.021
}
