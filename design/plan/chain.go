package plan

import "plansheaf/design/finding"

// Gap is the name that a tolerance chain's result has in formulas: bearing_play.gap.
const Gap = "gap"

// A Chain is a tolerance chain: the gap between two features of placed parts, and
// the features in which the parts between them touch.
type Chain struct {
	Along   Word // x, y, z or -x, -y, -z of the assembly that In names: the gap is how far To lies beyond From that way
	In      Word // an assembly; not given: the machine
	From    ChainEnd
	To      ChainEnd
	Through []ChainEnd // what the chain passes on its way, in order; the rest is found
	Shift   Word       // centred: screws and shafts stand in the middle of their holes; not given: anywhere in them
	Also    []Extra
	At      finding.Span
}

// A ChainEnd is a feature that a chain passes: a face, the axis of a hole or a shaft
// that lies across the chain, or its wall, or the end of a named shape.
type ChainEnd struct {
	Feature Word // from the chain's assembly, in dots
	Towards Word // which wall or end: the one that lies farthest that way, x or -x; not given: face, floor or axis
	At      finding.Span
}

// An Extra is what else moves the gap than sizes of parts: a gasket's squeeze, a
// tolerance of form, growth by heat.
type Extra struct {
	Name    Word
	Is      Quantity // what it adds to the gap, with its spread
	Because Text
}

// The words of a chain's shift.
const (
	Centred = "centred"
)

// Ends are all features that a chain names, in the order in which it passes them.
func (c *Chain) Ends() []ChainEnd {
	ends := make([]ChainEnd, 0, len(c.Through)+2)
	ends = append(ends, c.From)
	ends = append(ends, c.Through...)
	return append(ends, c.To)
}
