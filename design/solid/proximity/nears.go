package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// How closely a way is watched for a distance: triangles stray from faces by less than
// finely (mm) where rounds are not too large for that, and count as met when they are
// nearer than the distance by less than early.
const (
	finely = 0.005
	early  = 0.02
)

// Nears moves a body along a way, each stretch from where the one before ends, and
// returns where it first comes nearer to another body, which stands still, than within
// (mm, above 0).
//
// Where it finds nothing the bodies stay at least within apart all along the way. Where
// it finds a place, they are at least within apart up to there, and there nearer than
// within plus [Slack]. It steps as [Sweep] does: what slides past the other at a
// distance costs one step, however near that is.
func Nears(a *Body, from solid.Placement, way []Motion, b *Body, pb solid.Placement, within float64) (Hit, bool) {
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return Hit{}, false
	}
	fa, fb := a.finer(finely), b.finer(finely)
	keep := within + fa.stray + fb.stray
	w := &sweep{a: fa, b: fb, pb: pb, near: keep + early, keep: keep}
	if p, in := w.nested(from); in {
		return Hit{At: p}, true
	}
	return w.through(from, way)
}

// Slack is by how much more than the distance asked for [Nears] may find two bodies to
// be apart, mm.
func Slack(a, b *Body) float64 { return early + 2*(fineStray(a)+fineStray(b)) }

// fineStray is how far the triangles stray of which Nears makes use.
func fineStray(b *Body) float64 { return math.Min(b.stray, stray(b.Solid, finely)) }
