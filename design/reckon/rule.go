package reckon

import "plansheaf/design/finding"

// The rules that working out a plan reports under.
var (
	UnknownName = finding.Rule{
		Name: "unknown-name", Severity: finding.Error,
		Reason: "A formula names something that the plan does not hold, so its value is unknown and everything that follows from it too.",
		Remedy: "name a value, a part's property or a calculation's result that exists",
	}
	BadArithmetic = finding.Rule{
		Name: "bad-arithmetic", Severity: finding.Error,
		Reason: "The formula has no value: its dimensions do not agree, or it divides by zero, or takes the root of a negative number.",
		Remedy: "mend the formula, or the value that it meets",
	}
	CircularFormula = finding.Rule{
		Name: "circular-formula", Severity: finding.Error,
		Reason: "Values that depend on each other in a circle can never be worked out.",
		Remedy: "give one of them a value of its own",
	}
	WrongDimension = finding.Rule{
		Name: "wrong-dimension", Severity: finding.Error,
		Reason: "The field needs another kind of quantity than the formula gives; a builder would read it wrongly.",
		Remedy: "give the quantity that the field asks for, with its unit",
	}
	OtherChoice = finding.Rule{
		Name: "value-of-another-choice", Severity: finding.Error,
		Reason: "The value belongs to a choice that this builder did not make, so for them it does not exist.",
		Remedy: "give the value by choice, {by: ...}, or tie what uses it to the same choice with only",
	}
	BadShape = finding.Rule{
		Name: "bad-shape", Severity: finding.Error,
		Reason: "The part cannot be made, drawn or weighed as it is described.",
		Remedy: "change the size or the place that is named",
	}
	UnknownDesignation = finding.Rule{
		Name: "unknown-designation", Severity: finding.Error,
		Reason: "A designation that no standard answers to cannot be bought, and its sizes are unknown.",
		Remedy: "write the designation as the standard has it: ISO 4762 M8x25 - 8.8",
	}
	UnknownThread = finding.Rule{
		Name: "unknown-thread", Severity: finding.Error,
		Reason: "Without the thread's sizes the hole cannot be drilled nor the screw chosen.",
		Remedy: "name a thread as M8, M8x1 or 1/4-20",
	}
	SpeedMeetsLead = finding.Rule{
		Name: "turn-left-out", Severity: finding.Warning,
		Reason: "A speed in rpm counts radians; times a lead, which is length per turn, the feed comes out 6.28 times too large.",
		Remedy: "divide by 1 turn: speed * lead / 1 turn",
	}
	SpreadNotFollowed = finding.Rule{
		Name: "spread-not-followed", Severity: finding.Warning,
		Reason: "The value is shown as more exact than it is: following all spreads that lead to it would take too long, or leads to where it has no value.",
		Remedy: "give fewer inputs a spread, split the calculation, or mend the formula so that it holds over the whole spread",
	}
)

// Rules lists the rules of this package.
func Rules() []finding.Rule {
	return []finding.Rule{
		UnknownName, BadArithmetic, CircularFormula, WrongDimension, OtherChoice,
		BadShape, UnknownDesignation, UnknownThread, SpeedMeetsLead, SpreadNotFollowed,
	}
}
