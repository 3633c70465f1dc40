package check

// All lists the rules in the order of their names.
func All() []Rule {
	return []Rule{
		AssemblyNeverUsed,
		CalcNeverUsed,
		CalcOffRecord,
		ChoiceChangesNothing,
		FastenerNeverUsed,
		FileNeverUsed,
		HoleWithoutFastener,
		MotionNeverUsed,
		PartNeverUsed,
		PatternPartlyUsed,
		RequirementFails,
		StandardTwice,
		StockNeverUsed,
		TitleTwice,
		ValueNeverUsed,
	}
}
