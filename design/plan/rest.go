package plan

// Bottom is the face that work rests on where no step says otherwise, and Hand what
// holds it where all its sides are free: one's hands, or a vice.
const (
	Bottom = "bottom"
	Hand   = "hand"
)

// A Rest is how the work lies while a step is done.
type Rest struct {
	On     string // a face of the assembly, or Hand
	Before string // in the step before; "" for the first step
}

// Turned reports whether the work must be turned over, or taken up, for the step.
func (r Rest) Turned() bool { return r.Before != "" && r.Before != r.On }

// Rests tells for each of an assembly's steps that a selection takes how the work lies:
// as a step says, and so until another says otherwise.
func (a *Assembly) Rests(sel Selection) map[*Step]Rest {
	out := make(map[*Step]Rest, len(a.Steps))
	on, before := Bottom, ""
	for _, st := range a.Steps {
		if !st.Only.Fits(sel) {
			continue
		}
		if st.RestsOn.Given() {
			on = st.RestsOn.Text
		}
		out[st] = Rest{on, before}
		before = on
	}
	return out
}
