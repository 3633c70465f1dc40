package source

import (
	"plansheaf/design/plan"
)

// A proseText is a text whose braces reach into the plan.
type proseText struct {
	r        *reader
	text     plan.Text
	assembly *plan.Assembly // where steps and joints may be named plainly
}

// checkProse looks up what the braces of all texts name.
func (g *reading) checkProse() {}
