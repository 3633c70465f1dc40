package publish_test

import (
	"strings"
	"testing"

	"plansheaf/publish/site/browser"
)

// On the example's site ticks of the printed parts and of a step's kit stay, and lists
// and totals follow what is chosen.
func TestListsFollowChoices(t *testing.T) {
	p := example(t)
	b := browser.Start(t, p.folder)
	b.See(1280, "light", true)
	b.Visit("prints.html")
	before := b.Shown(".facts")
	if !strings.Contains(before, "PETG") || !strings.Contains(b.Shown("table"), "Belt guard, front half") {
		t.Fatalf("printed parts with a motor: %q", before)
	}
	b.Click(`[data-tick="print-control_body"]`)
	b.Visit("by-step.html")
	b.Click(`[data-tick="kit-base-stand_posts-post"]`)
	b.Visit("prints.html")
	ticked := func(id string) bool {
		return browser.Eval[bool](b, "document.querySelector(`[data-tick=\""+id+"\"]`).checked")
	}
	if !ticked("print-control_body") || ticked("print-saddle") {
		t.Error("the tick of a printed part did not stay, or another came")
	}
	b.Visit("by-step.html")
	if !ticked("kit-base-stand_posts-post") {
		t.Error("the tick of a step's part did not stay")
	}
	b.Visit("parts.html")
	motor := b.Shown("#kinds")
	b.Visit("choices.html")
	b.Click(`[data-choice="drive"][value="crank"]`)
	b.Visit("parts.html")
	if crank := b.Shown("#kinds"); crank == motor || strings.Contains(crank, "Printed") {
		t.Errorf("kinds of part with a crank: %q, with a motor %q", crank, motor)
	}
	b.Visit("by-assembly.html")
	if text := b.Shown("main"); strings.Contains(text, "Motor unit") || !strings.Contains(text, "Crank") {
		t.Error("the assemblies are those of the motor with a crank")
	}
	b.Visit("prints.html")
	if after := b.Shown(".facts"); after == before || !strings.Contains(after, "none") {
		t.Errorf("with a crank the plastic is %q", after)
	}
}
