package sequence

import "fmt"

// Remedy says in words what would let an obstruction's step go; "" where nothing
// better is known than the rule's own words.
func (rec *Record) Remedy(o Obstruction) string {
	what := map[Kind]string{
		OutOfReach: "tighten it", NoWayForTool: "tighten it", NutNotHeld: "tighten it", ScrewShutOut: "put it in", NutShutOut: "put the nut in",
		PartShutOut: "add it", PartMeets: "add it", WayBlocked: "add it",
	}[o.Kind]
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
