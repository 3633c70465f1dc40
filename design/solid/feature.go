package solid

// FeatureKind tells what sort of thing a feature is.
type FeatureKind int

// The kinds of feature.
const (
	FlatFace    FeatureKind = iota // a flat side: left right front back top bottom, start, end
	SlotFeature                    // a slot of a slotted bar
	AxisFeature                    // the axis of a round bar or a turned piece
	BodyFeature                    // the round side of a bar or a turned piece
	HoleFeature                    // a hole, each of a pattern for itself
	NamedShape                     // a member of a group that has a name
)

// Feature is something on a part that dimensions and joints can name.
type Feature struct {
	// Name as a plan spells it after the part: top, slot_front_2, axis, posts.1.
	Name string
	Kind FeatureKind
	// At is the reference point. Flat face: the middle of its extents. Slot: the
	// middle of its mouth. Axis, body: the middle of the axis. Hole: the middle
	// of the mouth, on the plane where its rim first meets material.
	At Vec
	// Dir is a unit vector. Flat face: out of the material. Slot: out of its
	// mouth. Axis, body: along the axis. Hole: from the mouth into the material.
	Dir Vec
	// Along is a unit vector. Slot: the way it runs. Obround hole: its long way.
	// Zero for the others.
	Along Vec
	// Box is the extent of the feature.
	Box Box
	// D is the diameter in mm of a round bar, body, hole; the width of a slot.
	D float64
	// Depth in mm: a blind hole's depth of full diameter, a slot's depth from
	// its mouth, the length of an axis or body, and how deep a through hole
	// reaches from its mouth to the end of the wall.
	Depth float64
	// Through tells that a hole has no floor: it goes through one wall or all.
	Through bool
	// Hole is the hole as asked for, nil for other features. Its At holds the
	// whole pattern.
	Hole *Hole
	// Pattern is the hole's name without the number: posts for posts.1.
	Pattern string
	// Face is the face a hole was made from: left right front back top bottom.
	Face string
	// Thread of a tapped hole or a threaded bar, nil for none.
	Thread *Thread
	// Faces are the indices of the solid's faces that bear the feature's name;
	// empty where later cuts took all of it away.
	Faces []int
}
