package source

// Limits bound what reading may cost, whatever a plan holds. Going past one is a
// finding, never a failure.
type Limits struct {
	Files      int   // files in the whole plan
	Depth      int   // directories below the plan's root
	TextFile   int64 // bytes of one YAML, Markdown or table file
	OtherFile  int64 // bytes of one other file under files/
	AllFiles   int64 // bytes of all files under files/ together
	AllText    int64 // bytes of all the plan's own files together
	Nesting    int   // maps and lists within each other in one YAML file
	Nodes      int   // values, keys included, in one YAML file
	AllNodes   int   // values in all of them together
	Prose      int   // bytes of one text
	Findings   int   // findings reported for one file
	ProseWork  int   // marks in texts, each text's squared, in the whole plan
	TableCells int   // numbers in one table
}

// DefaultLimits leave room for plans some ten times larger than the largest that
// one person keeps in order, and keep reading within seconds and a few hundred
// megabytes.
func DefaultLimits() Limits {
	return Limits{
		Files:      5_000,
		Depth:      8,
		TextFile:   2 << 20,
		OtherFile:  64 << 20,
		AllFiles:   256 << 20,
		AllText:    32 << 20,
		Nesting:    32,
		Nodes:      400_000,
		AllNodes:   2_000_000,
		Prose:      64 << 10,
		Findings:   1_000,
		ProseWork:  100_000_000,
		TableCells: 1_000_000,
	}
}
