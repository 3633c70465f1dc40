package check

// All lists the rules in the order of their names.
func All() []Rule {
	return []Rule{
		CalcOffRecord,
		PartNeverUsed,
		RequirementFails,
	}
}
