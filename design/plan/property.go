package plan

import "slices"

// AssemblyProperties are the names of what an assembly rolls up from what it holds:
// {frame.mass} in a text, frame.mass in a formula.
func AssemblyProperties() []string { return []string{"mass", "cost", "count", "time", "title"} }

// IsAssemblyProperty reports whether name is one of AssemblyProperties.
func IsAssemblyProperty(name string) bool { return slices.Contains(AssemblyProperties(), name) }
