package standards

// A Kind says what sort of fastener something is.
type Kind string

// The kinds of fastener that the tables hold.
const (
	Screw    Kind = "screw"     // has a head, a drive and a thread
	SetScrew Kind = "set screw" // threaded all over, no head
	Nut      Kind = "nut"
	Washer   Kind = "washer"
	Pin      Kind = "pin" // parallel pin without thread

	SpringPin Kind = "spring pin" // rolled with a slot, closes as it is driven in
	Rivet     Kind = "rivet"      // blind rivet, set from one side
	Ring      Kind = "ring"       // retaining ring in a groove
	WoodScrew Kind = "wood screw"
	Collar    Kind = "collar" // set collar, its own set screw holds it on a shaft
)

// A HeadForm says what shape a screw's head has.
type HeadForm string

// The forms of head that the tables hold.
const (
	NoHead      HeadForm = ""
	Cylindrical HeadForm = "cylindrical" // socket head cap screw
	Button      HeadForm = "button"      // domed
	Pan         HeadForm = "pan"         // low, with a rounded top
	Countersunk HeadForm = "countersunk" // flat on top, its length counts in the screw's
	Hexagonal   HeadForm = "hexagonal"
)

// A Head is the head of a screw, in millimetres. Sizes are the largest the
// standard allows where it gives a limit, otherwise nominal. A hexagonal head
// has Flats, and Diameter over its corners.
type Head struct {
	Form     HeadForm
	Diameter float64 // without knurl
	Knurled  float64 // over the knurl that an ISO 4762 head may have, otherwise 0: what a counterbore must clear
	Height   float64
	Flats    float64 // width across flats of a hexagonal head, otherwise 0
	Angle    float64 // included angle of a countersunk head in degrees, otherwise 0
}

// A DriveKind says what turns a fastener.
type DriveKind string

// The kinds of drive that the tables hold.
const (
	NoDrive     DriveKind = ""
	HexSocket   DriveKind = "hexagon socket"
	ExternalHex DriveKind = "hexagon"
	CrossRecess DriveKind = "cross recess" // type Z (PZ) or H (PH)
	Slotted     DriveKind = "slot"
	Hexalobular DriveKind = "hexalobular socket"
)

// A Drive is what a tool takes hold of. Size is the width across flats in
// millimetres, Text the same as sold ("6 mm", "3/16 in"), Depth the least depth
// of a socket.
type Drive struct {
	Kind  DriveKind
	Size  float64
	Text  string
	Depth float64
}

// ByDriver reports whether a screwdriver or a bit of the size that Text names turns
// the drive from above.
func (d Drive) ByDriver() bool {
	return d.Kind == CrossRecess || d.Kind == Slotted || d.Kind == Hexalobular
}

// A Range goes from a least to a largest length, mm.
type Range struct{ Least, Most float64 }

// Holds reports whether a length lies in the range, within a rounding.
func (r Range) Holds(mm float64) bool {
	const rounding = 1e-6
	return mm >= r.Least-rounding && mm <= r.Most+rounding
}

// A Groove is what a retaining ring lies in, and the ring's own sizes, mm.
type Groove struct {
	Seat     float64 // diameter of the shaft or bore that the groove is cut into
	Diameter float64 // of its floor
	Width    float64
	Edge     float64 // least length of shaft or bore between it and the end
	Inside   bool    // it lies in a bore
	Thick    float64 // of the ring
	Lug      float64 // widest place of the ring, across
	Beam     float64 // width of the ring opposite to its gap
	Pliers   string  // size of the pliers, DIN 5254 and 5256: "A1"
}

// A Fastener is one standard fastener with the sizes that follow from its
// designation. Lengths are millimetres. Fields that do not apply to its Kind are
// zero.
type Fastener struct {
	Standard   string // "ISO 4762"
	Kind       Kind
	Title      string  // "Socket head cap screw M8×25"
	Size       string  // as designated: "M8", "M8x1", "8" for a washer, "1/4-20"
	Thread     Thread  // zero for pins, rivets and rings; for a washer, the coarse thread it goes with
	Length     float64 // nominal: under the head, or overall for countersunk and headless ones
	LengthText string  // as the standard writes it: "25", "1 1/4"
	Class      string  // property class or grade as designated, "" when left out
	Material   string  // id for [MaterialByID], from the class

	Head         Head
	Drive        Drive
	ThreadLength float64 // threaded part of Length

	WasherInside, WasherOutside, WasherThick float64 // nominal sizes

	NutHeight  float64 // largest height, with the insert where it has one
	NutHexagon float64 // hexagonal part of NutHeight, less only in a nut with an insert
	Flats      float64 // width across flats of a nut or hexagonal head
	Locking    bool    // prevailing torque: a nut with an insert

	PointDiameter float64 // of a set screw's end
	PointLength   float64 // of a set screw's dog point, otherwise 0

	// Mass is kilograms for one, worked out from the nominal shape of Profile
	// less the socket, with the thread counted at its pitch diameter; expect it
	// within about a tenth of the weighed mass.
	Mass float64

	PinDiameter  float64 // nominal diameter of a pin
	PinTolerance string  // of a parallel pin: "m6" or "h8"
	PinFree      Range   // outer diameter of a spring pin before it is driven in
	PinBore      float64 // of a spring pin once it is

	Grip Range // thickness that a rivet may hold
	Hole Range // width of the hole that a rivet is for

	Groove Groove // of a retaining ring

	// Of a set collar, mm: its bore, outer diameter and width, and the set screw that
	// goes through its wall, of which Thread, Drive and Length tell.
	CollarBore, CollarOutside, CollarWidth float64

	Inch bool // sized in inches
}
