package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// How closely a way is watched for a distance: triangles stray from faces by less than
// finely (mm), as those of a sweep to a tenth of a millimetre, where rounds are not too
// large for that, and count as met when they are nearer than the distance by less than
// early.
const (
	finely = 0.1 * strayShare
	early  = 0.01
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
	if Avoids(a, from, way, b, pb, within) {
		return Hit{}, false
	}
	w := watch(a.finer(finely), b.finer(finely), pb, within)
	if p, in := w.nested(from); in {
		return Hit{At: p}, true
	}
	return w.through(from, way)
}

// Avoids tells that a body stays farther than within (mm, 0 or more) apart from another
// on its way: at a small part of the cost of [Nears], since the triangles that are there
// do for it. False says nothing.
func Avoids(a *Body, from solid.Placement, way []Motion, b *Body, pb solid.Placement, within float64) bool {
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return true
	}
	w := watch(&a.tree, &b.tree, pb, within)
	if _, in := w.nested(from); in {
		return false
	}
	_, hit := w.through(from, way)
	return !hit
}

// watch is a sweep that stops where two surfaces come nearer than within.
func watch(a, b *tree, pb solid.Placement, within float64) *sweep {
	keep := within + a.stray + b.stray
	return &sweep{a: a, b: b, pb: pb, near: keep + early, keep: keep}
}

// Slack is by how much more than the distance asked for [Nears] may find two bodies to
// be apart, mm.
func Slack(a, b *Body) float64 { return early + 2*(fineStray(a)+fineStray(b)) }

// fineStray is how far the triangles stray of which Nears makes use.
func fineStray(b *Body) float64 { return math.Min(b.stray, stray(b.Solid, finely)) }
