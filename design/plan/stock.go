package plan

import "plansheaf/design/finding"

// Stock is what parts are cut from, as sold.
type Stock struct {
	ID       Word
	Title    Text
	Section  *Section // nil for sheets
	Thick    Quantity // the key "sheet"; not given for bars
	Material Word
	Mass     Quantity // per length or per area; not given: computed
	Grain    Word     // along, across or none
	Sold     []Sold
	Offcuts  []Offcut
	Kerf     Quantity
	Trim     Quantity
	Most     Quantity // pieces a bar, at most
	Aim      Word     // cost or bars; not given: cost
	CutBy    Word     // sheets: saw or router; not given: saw
	Buy      *Buy
	Has      []Named
	At       finding.Span
}

// Sold is one way in which stock is sold.
type Sold struct {
	Length Quantity   // of a bar
	Size   []Quantity // of a sheet
	Cut    bool       // cut to length: Price is per length
	Price  Quantity
	PerCut Quantity
	From   Word // supplier id; not given: as the stock says
	Code   Text
	// Checked is the day on which price and code were looked up; not given: as the
	// stock says.
	Checked Word
	At      finding.Span
}

// A Section is the shape across a bar. Kind is round, square, rectangle, tube, box,
// angle, channel, slotted, thread or outline; only the fields of its kind are given.
type Section struct {
	Kind    Word
	D       Quantity   // round, tube
	Side    Quantity   // square
	Size    []Quantity // rectangle, box, angle, channel, slotted
	Wall    Quantity   // tube, box, angle, channel
	Slot    Quantity   // slotted: width between the lips
	Lip     Quantity   // slotted: thickness of a lip
	Depth   Quantity   // slotted: face to floor
	Pocket  Quantity   // slotted: width behind the lip
	Core    Quantity   // slotted: bore along the middle; not given: none
	Corner  Quantity   // outer corner radius; not given: sharp
	Inner   Quantity   // inner corner radius of box, angle, channel
	Thread  Word       // thread: designation
	Outline *Outline   // outline
	At      finding.Span
}

// An Outline is a closed shape of lines and arcs. Kind is rectangle, circle, polygon
// or path.
type Outline struct {
	Kind    Word
	Size    []Quantity // rectangle
	D       Quantity   // circle
	Points  []Point    // polygon
	Path    []Segment  // path
	Corners Corners
	At      finding.Span
}

// Corners says how an outline's corners are finished; neither given: sharp.
type Corners struct {
	Round, Chamfer Quantity
	At             finding.Span
}

// A Segment is one piece of a path: the first is its start ({from: [x, y]}), the
// others lead on from where the one before ended ({to: [x, y]}, or {arc: [x, y],
// radius, turn: left or right}).
type Segment struct {
	Kind   Word // from, to, arc
	End    Point
	Radius Quantity // arc
	Turn   Word     // arc: left or right
	Large  bool     // arc: the longer way round
	At     finding.Span
}

// A Material is one that the built-in table lacks, or one that replaces it.
type Material struct {
	ID    Word
	Title Text
	Has   []Named // density, modulus, yield, strength, softens, and the author's own
	// Conducts says that it conducts electricity.
	Conducts bool
	At       finding.Span
}

// A Tool is one that a builder is taken to own, or a special one.
type Tool struct {
	ID    Word
	Title Text
	Owned bool
	Kind  Word     // what lists call it: "saw", "drill"; of all sizes where it gives none
	Size  Word     // a key's or spanner's size, as in "5 mm"
	Ball  bool     // a set of hex keys with ball ends
	Lifts Quantity // a hoist: how much it lifts
	Buy   *Buy
	Has   []Named
	At    finding.Span
}

// Spares reports whether a builder, who is taken to own the tool, need not get another
// of a kind and size. A tool that names no kind does for all kinds of its size.
func (t *Tool) Spares(kind, size string) bool {
	if !t.Owned || t.Kind.Given() && t.Kind.Text != kind {
		return false
	}
	return t.Kind.Given() && !t.Size.Given() || t.Size.Given() && t.Size.Text == size
}

// An Offcut is a rest of stock that is on hand.
type Offcut struct {
	Length Quantity   // of a bar
	Size   []Quantity // of a sheet
	Count  Quantity   // not given: one
	At     finding.Span
}
