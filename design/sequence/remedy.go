package sequence

import (
	"fmt"
	"strings"

	"plansheaf/design/plan"
)

// doing is what a step does with what does not go.
var doing = map[Kind]string{
	OutOfReach: "tighten it", NoWayForTool: "tighten it", NutNotHeld: "tighten it", ScrewShutOut: "put it in", NutShutOut: "put the nut in",
	PartShutOut: "add it", PartMeets: "add it", WayBlocked: "add it",
}

// Remedy says in words what would let an obstruction's step go; "" where nothing
// better is known than the rule's own words.
func (rec *Record) Remedy(o Obstruction) string {
	if o.Kind == OnlyBench {
		return rec.layOtherwise(o)
	}
	what := doing[o.Kind]
	switch {
	case what == "":
		return ""
	case o.Latest >= 0:
		return fmt.Sprintf("%s right after %s at the latest, while there is room", what, rec.Graph.Say(o.Latest))
	case o.Since >= 0 && o.Since != o.Step && o.Step >= 0:
		return fmt.Sprintf("do %s before %s, which brings %s, or make room", rec.Graph.Say(o.Step), rec.Graph.Say(o.Since), o.Blocks.Name())
	}
	return ""
}

// layOtherwise says how the work must lie so that the bench is not in the way of a step,
// and which other step would do.
func (rec *Record) layOtherwise(o Obstruction) string {
	var ways []string
	if len(o.Faces) == 0 {
		ways = append(ways, fmt.Sprintf("write rests_on: %s in %s: on no face does all of it go", plan.Hand, rec.Graph.Say(o.Step)))
	} else {
		also := ""
		if more := o.Faces[1:]; len(more) > 0 {
			also = fmt.Sprintf(" (or %s)", strings.Join(more, ", "))
		}
		ways = append(ways, fmt.Sprintf("write rests_on: %s%s in %s: then all that it does goes", o.Faces[0], also, rec.Graph.Say(o.Step)))
	}
	what := doing[o.What]
	if o.Latest >= 0 && what != "" {
		ways = append(ways, fmt.Sprintf("%s right after %s", what, rec.Graph.Say(o.Latest)))
	}
	if o.Later >= 0 && what != "" {
		ways = append(ways, fmt.Sprintf("%s in %s, where the work lies otherwise", what, rec.Graph.Say(o.Later)))
	}
	return strings.Join(ways, "; or ")
}
