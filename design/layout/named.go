package layout

import "plansheaf/design/solid"

// FeatureOf is a feature of a part's solid, which may be nil, in the part's own axes,
// by the name that the part has for it: the first of a pattern that is named without a
// number; of a round bar that stands also top and bottom.
func FeatureOf(body *solid.Solid, name string) (solid.Feature, bool) { return bodyFeature(body, name) }
