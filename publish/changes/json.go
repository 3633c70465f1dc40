package changes

import (
	"encoding/json"
	"fmt"

	"plansheaf/design/change"
	"plansheaf/publish/data"
)

// A written report is what JSON holds.
type written struct {
	Empty  bool            `json:"empty" about:"nothing changed"`
	Midway *change.Halfway `json:"midway,omitempty" about:"what a builder half way does, where that was asked"`
	change.Comparison
}

// JSON is the report for programs; Schema describes it.
func (r Report) JSON() ([]byte, error) {
	c := *r.Comparison
	full(&c.Changes)
	full(&c.Found)
	full(&c.Gone)
	full(&c.Worse)
	full(&c.First)
	full(&c.Effects.Figures)
	full(&c.Effects.Counts)
	full(&c.Effects.Purchases)
	full(&c.Effects.Cuts)
	full(&c.Effects.Margins)
	full(&c.Effects.Gained)
	full(&c.Effects.Lost)
	out := written{Empty: r.Empty(), Comparison: c}
	if r.Midway != nil {
		h := *r.Midway
		full(&h.Done)
		full(&h.First)
		full(&h.Steps)
		full(&h.Stay)
		out.Midway = &h
	}
	text, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("write the comparison as JSON: %w", err)
	}
	return append(text, '\n'), nil
}

// full makes a list that holds nothing an empty one, which JSON writes as such.
func full[T any](list *[]T) {
	if *list == nil {
		*list = []T{}
	}
}

// Schema is the JSON Schema (draft 2020-12) of what JSON writes.
func Schema() ([]byte, error) { return data.Schema(written{}, "Two revisions of a plan compared") }
