package check

// All lists the rules in the order of their names.
func All() []Rule {
	return []Rule{
		AssemblyNeverUsed,
		BoughtPartWithoutSupplier,
		BudgetExceeded,
		CalcNeverUsed,
		CalcOffRecord,
		ChoiceChangesNothing,
		ClaimNotMet,
		CostUnknown,
		FastenerNeverUsed,
		FileLicenseNarrower,
		FileNeverUsed,
		FileShowsOtherRevision,
		HistoryDateDiffers,
		HoleWithoutFastener,
		LicenseMissing,
		LicenseUnknown,
		MassUnknown,
		MotionNeverUsed,
		PartNeverUsed,
		PatternPartlyUsed,
		PriceMissing,
		PriceOutOfDate,
		RequirementFails,
		RevisionNotInHistory,
		StandardTwice,
		StockNeverUsed,
		StockWithoutSupplier,
		TitleTwice,
		TooManyCases,
		TranslationBehind,
		ValueNeverUsed,
	}
}
