package joint

import (
	"slices"

	"plansheaf/design/solid"
)

// A node is a part of a tree of bodies by their boxes.
type node struct {
	box  solid.Box
	kids [2]*node
	here []*body // of a leaf
}

// leaf is how many bodies a leaf holds at most.
const leaf = 4

// grow makes a tree; the slice is put in another order.
func grow(bodies []*body) *node {
	n := &node{box: solid.EmptyBox()}
	for _, b := range bodies {
		n.box = n.box.Join(b.box)
	}
	if len(bodies) <= leaf {
		n.here = bodies
		return n
	}
	size, axis := n.box.Size(), solid.Vec{X: 1}
	switch {
	case size.Y >= size.X && size.Y >= size.Z:
		axis = solid.Vec{Y: 1}
	case size.Z >= size.X && size.Z >= size.Y:
		axis = solid.Vec{Z: 1}
	}
	slices.SortStableFunc(bodies, func(a, b *body) int {
		switch d := a.box.Centre().Dot(axis) - b.box.Centre().Dot(axis); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	half := len(bodies) / 2
	n.kids = [2]*node{grow(bodies[:half]), grow(bodies[half:])}
	return n
}

// near visits the bodies whose boxes meet a box.
func (n *node) near(box solid.Box, visit func(*body)) {
	if !n.box.Meets(box) {
		return
	}
	for _, b := range n.here {
		if b.box.Meets(box) {
			visit(b)
		}
	}
	for _, kid := range n.kids {
		if kid != nil {
			kid.near(box, visit)
		}
	}
}
