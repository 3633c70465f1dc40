package compose

import (
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// laying says how the work is laid on each face, lying how it lies then.
var (
	laying = map[string]wording.Phrase{
		"back": "Lay the work on its back", "front": "Lay the work on its front", "left": "Lay the work on its left side",
		"right": "Lay the work on its right side", "top": "Turn the work upside down", plan.Bottom: "Stand the work upright",
		plan.Hand: "Take the work in hand or in a vice",
	}
	lying = map[string]wording.Phrase{
		"back": "on its back", "front": "on its front", "left": "on its left side", "right": "on its right side", "top": "upside down",
		plan.Hand: "in hand or in a vice",
	}
)

// turnWords say that the work is laid otherwise than in the step before, and what it
// weighs; nil where it stays, or stands upright from the beginning.
func (c *composer) turnWords(r sequence.Resting) []page.Inline {
	if !r.Turned() && (r.Before != "" || r.On == plan.Bottom || r.On == "") {
		return nil
	}
	words := c.said(laying[r.On])
	if r.Mass < worthLifting {
		return words
	}
	return c.weighing(words, sequence.Lift{Mass: r.Mass, Known: r.Known, Limit: r.Limit, Hoist: r.Hoist})
}

// lyingWords say how the work still lies; nil where it stands upright, or has just been
// laid so.
func (c *composer) lyingWords(r sequence.Resting) []page.Inline {
	phrase, lies := lying[r.On]
	if !lies || r.Turned() || r.Before == "" {
		return nil
	}
	return c.said(phrase)
}
