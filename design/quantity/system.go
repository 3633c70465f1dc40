package quantity

import "fmt"

// A System is a plan's preferred units.
type System int

// The systems.
const (
	Metric System = iota
	Inch
)

// ParseSystem reads "metric" or "inch".
func ParseSystem(text string) (System, error) {
	switch text {
	case "metric":
		return Metric, nil
	case "inch":
		return Inch, nil
	}
	return Metric, fmt.Errorf("unknown unit system %q: write metric or inch", text)
}

// String returns "metric" or "inch".
func (s System) String() string {
	if s == Inch {
		return "inch"
	}
	return "metric"
}

// Other returns the other system.
func (s System) Other() System {
	if s == Inch {
		return Metric
	}
	return Inch
}
