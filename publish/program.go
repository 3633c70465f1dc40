package publish

import (
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/publish/compose"
	"plansheaf/publish/dxf"
)

// A cutout is the contours to cut a part of sheet along, or why there are none.
type cutout struct {
	DXF   []byte
	Fault string
}

// contours makes what cutting machines take of one form of a part, where it is of sheet.
func (s *shape) contours(own *plan.Drawing, kept *memo.Store) {
	if s.part.Part.Made.Text != plan.Sheet {
		return
	}
	name := "cutting/" + s.part.Part.ID.Text + s.mark
	made := memo.Sure(kept, "contours to cut", func() cutout {
		data, err := dxf.Cutting(name, s.part.Solid)
		if err != nil {
			return cutout{Fault: err.Error()}
		}
		return cutout{DXF: data}
	}, name, s.part.Solid)
	if made.Fault != "" {
		s.problem(own, NotDrawable, "contours to cut: "+made.Fault, "draw the part so that it can be cut out of its sheet, or make it another way than sheet")
		return
	}
	s.files = append(s.files, compose.File{
		Path: name + ".dxf", Only: s.only, Cutting: true, Data: made.DXF,
	})
}
