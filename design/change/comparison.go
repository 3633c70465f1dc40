package change

import (
	"plansheaf/design/check"
	"plansheaf/design/finding"
)

// A Revision is one side of a comparison: a plan worked out, with what reading and
// checking it found.
type Revision struct {
	Work     *check.Work
	Findings []finding.Finding
}

// A Side names one side of a comparison.
type Side struct {
	Title    string `json:"title"`
	Revision string `json:"revision"`
	Date     string `json:"date,omitempty"`
}

// A Comparison is how a new revision of a plan differs from an old one.
type Comparison struct {
	Old     Side      `json:"old"`
	New     Side      `json:"new"`
	Changes []Change  `json:"changes" about:"what the plan says, by kind and then by name"`
	Effects Effects   `json:"effects" about:"what follows from it"`
	Found   []Finding `json:"found" about:"findings that are new; waived ones are left out"`
	Gone    []Finding `json:"gone" about:"findings that the old revision had"`
	Worse   []string  `json:"worse" about:"why the new revision is worse than the old one; none when it is not"`
	First   []Look    `json:"first" about:"what deserves a look first, by the rule that stands with the type Look"`
}

// Empty reports whether nothing changed.
func (c *Comparison) Empty() bool {
	return len(c.Changes) == 0 && c.Effects.empty() && len(c.Found) == 0 && len(c.Gone) == 0
}

// A Kind is what a change is about.
type Kind string

// The kinds, in the order in which changes are listed.
const (
	OfPlan        Kind = "plan" // identity, tolerances, budgets, spares, waivers, history
	OfChoice      Kind = "choice"
	OfValue       Kind = "value"
	OfMotion      Kind = "motion"
	OfClaim       Kind = "claim"
	OfCalculation Kind = "calculation"
	OfHazard      Kind = "hazard"
	OfPart        Kind = "part"
	OfStock       Kind = "stock"
	OfMaterial    Kind = "material"
	OfAssembly    Kind = "assembly" // title, and the order of its steps
	OfPlacement   Kind = "placement"
	OfJoint       Kind = "joint"
	OfStep        Kind = "step"
	OfDrawing     Kind = "drawing"
	OfPage        Kind = "page"
	OfTool        Kind = "tool"
	OfSupplier    Kind = "supplier"
	OfFile        Kind = "file"
	OfList        Kind = "parts list" // kept elsewhere, compared with the plan
)

// kinds are all kinds in their order.
var kinds = []Kind{OfPlan, OfChoice, OfValue, OfMotion, OfClaim, OfCalculation, OfHazard, OfPart, OfStock, OfMaterial,
	OfAssembly, OfPlacement, OfJoint, OfStep, OfDrawing, OfPage, OfTool, OfSupplier, OfFile, OfList}

// Kinds lists all kinds in the order in which changes are listed.
func Kinds() []Kind { return append([]Kind(nil), kinds...) }

// What became of a thing.
const (
	Added    = "added"
	Removed  = "removed"
	Renamed  = "renamed"
	Replaced = "replaced" // another part in the same places
	Changed  = "changed"
)

// A Change is what became of one thing of a plan.
type Change struct {
	Kind  Kind    `json:"kind"`
	What  string  `json:"what" about:"added, removed, renamed, replaced or changed"`
	ID    string  `json:"id" about:"its name in the new revision, with its assembly's where it has one; in the old one where it was removed"`
	Was   string  `json:"was,omitempty" about:"its name in the old revision, where it has another one now"`
	Title string  `json:"title,omitempty"`
	Had   string  `json:"had,omitempty" about:"its title in the old revision, where it has another one now"`
	Lines []Field `json:"fields,omitempty" about:"what changed of it; of what was added or removed what it says"`
	// Follows is set where the plan says nothing else about it: it changed because
	// something else did.
	Follows bool `json:"follows,omitempty" about:"it changed because something else did"`
	// In are the assemblies and joints that hold a part, those of both revisions.
	In []string `json:"in,omitempty" about:"where a part is used"`

	OldAt finding.Span `json:"old_at,omitzero"`
	NewAt finding.Span `json:"new_at,omitzero"`
}

// A Field is one thing that is said of a thing, before and after; an empty text where
// nothing was or is said.
type Field struct {
	What    string `json:"what"`
	Was     string `json:"was,omitempty" about:"what the old revision called it, where that differs"`
	Old     string `json:"old"`
	New     string `json:"new"`
	Follows bool   `json:"follows,omitempty" about:"not written in the plan but worked out"`
}

// Effects are what changes bring about.
type Effects struct {
	Figures   []Figure   `json:"figures" about:"cost, mass and time of the whole machine"`
	Counts    []Count    `json:"counts" about:"parts of which another number is taken"`
	Purchases []Purchase `json:"purchases" about:"packs, bars and sheets to buy"`
	Cuts      []Cut      `json:"cuts" about:"what pieces are cut from"`
	Margins   []Margin   `json:"margins" about:"requirements and claims, each in its worst case"`
	Gained    []string   `json:"tools_gained" about:"tools that the old revision did without"`
	Lost      []string   `json:"tools_lost" about:"tools no longer called for"`
}

func (e *Effects) empty() bool {
	return len(e.Figures)+len(e.Counts)+len(e.Purchases)+len(e.Cuts)+len(e.Margins)+len(e.Gained)+len(e.Lost) == 0
}

// A Figure is one number of the whole machine.
type Figure struct {
	What    string `json:"what" about:"cost, mass or time"`
	Choices string `json:"choices,omitempty" about:"the choices it holds for, where not the plan's own"`
	Old     string `json:"old"`
	New     string `json:"new"`
	More    string `json:"more" about:"by how much the new one is more, with its sign"`
}

// A Count is how many of a part the machine takes.
type Count struct {
	ID      string `json:"id"`
	Was     string `json:"was,omitempty"`
	Title   string `json:"title"`
	Had     string `json:"had,omitempty"`
	Choices string `json:"choices,omitempty"`
	Old     int    `json:"old"`
	New     int    `json:"new"`
}

// A Purchase is how many packs, bars or sheets are bought.
type Purchase struct {
	ID    string `json:"id"`
	Was   string `json:"was,omitempty"`
	Title string `json:"title"`
	Had   string `json:"had,omitempty"`
	Size  string `json:"size,omitempty"`
	Old   int    `json:"old"`
	New   int    `json:"new"`
}

// A Cut is how the pieces of one stock are cut.
type Cut struct {
	Stock string `json:"stock"`
	Was   string `json:"was,omitempty"`
	Title string `json:"title"`
	Had   string `json:"had,omitempty"`
	Old   string `json:"old"`
	New   string `json:"new"`
}

// A Margin is how far a requirement of a calculation, or a claim, holds, as a share of
// its limit, in the worst of all cases: 0.25 is a quarter to spare, negative is missed.
type Margin struct {
	Of   string  `json:"of" about:"the calculation, or claim"`
	Was  string  `json:"was,omitempty"`
	That string  `json:"that" about:"the condition"`
	Had  string  `json:"had,omitempty" about:"the condition in the old revision, where it differs"`
	Old  Holding `json:"old"`
	New  Holding `json:"new"`
}

// A Holding is a condition in one revision.
type Holding struct {
	There  bool     `json:"there" about:"the revision makes the condition"`
	Holds  bool     `json:"holds"`
	Margin *float64 `json:"margin,omitempty" about:"share of the limit to spare"`
}

// A Finding is one that is new or gone.
type Finding struct {
	Rule     string           `json:"rule"`
	Severity finding.Severity `json:"severity"`
	Subject  string           `json:"subject,omitempty"`
	Message  string           `json:"message"`
	Choices  []string         `json:"choices,omitempty"`
	At       finding.Span     `json:"at"`
}

// A Look is one of the few things that deserve a look first. They come in the order of
// the reasons below, at most MostFirst in all and three of a reason; within a reason what
// touches the most places first, then by name:
//
//  1. new errors;
//  2. requirements and claims that held and do not any more;
//  3. hazards added, graded worse, or with a measure less;
//  4. margins lost, and requirements and recorded values dropped or changed;
//  5. parts replaced, or changed in material, strength or standard;
//  6. joints with another screw, another torque or other layers;
//  7. choices, values and motions;
//  8. other changes of parts: sizes, shape, holes, stock;
//  9. new warnings;
//  10. what was added or removed, and the order of steps.
type Look struct {
	Rank int    `json:"rank"`
	Why  string `json:"why"`
	Say  string `json:"say"`
}

// MostFirst is how many things are shown first, at most.
const MostFirst = 7
