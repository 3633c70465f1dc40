package picture

// A Point is a place on the paper: millimetres from the top-left corner, y
// growing downward.
type Point struct{ X, Y float64 }

// A Picture is one drawing: its paper size, its words for those who cannot see
// it, and its marks in the order they are painted.
type Picture struct {
	Name        string  // file stem, unique in a publication: "drawings/head_plate"
	Title       string  // one line
	Description string  // what it shows, in words
	Width       float64 // mm
	Height      float64 // mm
	Marks       []Mark
}

// A Mark is one thing painted: a path, a circle, a text, a group.
type Mark interface{ mark() }
