package site

import (
	"strings"
	"testing"

	"plansheaf/publish/page"
	"plansheaf/publish/site/browser"
)

// sampleHalfway is what to do half way through a revision B of two assemblies: three
// steps, the last with a state of its own where the first assembly is not done.
func sampleHalfway() page.Halfway {
	at := func(from, to int) page.Spans { return page.Spans{{From: from, To: to}} }
	link := func(words, anchor string) []page.Inline {
		return []page.Inline{page.Link{To: page.Target{Page: "build/frame", Anchor: anchor}, Words: page.Words(words)}}
	}
	return page.Halfway{
		ID: "done", Revision: "B", About: page.Words("What is to be done again."), OnPaper: page.Words("Look on the site."),
		Reached: []page.Reached{
			{ID: "bed.lay", Group: "Bed", Title: "Lay the bed", State: 1},
			{ID: "frame.posts", Group: "Frame", Title: "Stand the posts", State: 2, Alone: 4},
			{ID: "frame.crank", Group: "Frame", Title: "Fit the crank", Only: crank(), State: 3},
		},
		Chapters: []page.Chapter{
			{About: page.TakenAsDone, Title: page.Words("Taken as done"), At: at(1, 4), Lists: []page.Doings{{Items: []page.Doing{
				{Words: page.Words("Bed: Lay the bed"), At: at(1, 3)}, {Words: page.Words("Frame: Stand the posts"), At: at(2, 4)},
			}}}},
			{About: page.UndoFirst, Title: page.Words("Undo first"), At: at(2, 3), Lists: []page.Doings{{Items: []page.Doing{
				{Words: page.Words("take out bed.shim (Shim)"), At: at(2, 3)},
			}}}},
			{About: page.OneStep, Title: link("Frame: Stand the posts", "step-posts"), At: at(2, 4), Lists: []page.Doings{
				{Label: page.Words("Undo"), Items: []page.Doing{{Words: page.Words("open frame.feet"), At: at(2, 4)}, {Words: page.Words("take off frame.crank, put on since"), At: at(3, 3), Only: crank()}}},
				{Label: page.Words("Buy"), Items: []page.Doing{{Words: page.Words("4 × Washer M8"), At: page.Spans{{From: 2, To: 2}, {From: 4, To: 4}}}}},
			}},
			{About: page.MayStay, Title: page.Words("May stay as it is"), At: at(1, 3), Lists: []page.Doings{{Items: []page.Doing{{Words: page.Words("Bed: Lay the bed"), At: at(1, 3)}}}}},
			{About: page.GoOn, Title: page.Words("Go on with"), At: at(1, 4), Lists: []page.Doings{{Items: []page.Doing{
				{Words: link("Frame: Stand the posts", "step-posts"), At: at(1, 1)}, {Words: link("Frame: Lay the head plate on", "step-head"), At: at(2, 4)},
			}}}},
		},
	}
}

// shownTasks are the entries that a reader sees, each behind what it is about.
func shownTasks(b *browser.Tab) string {
	return browser.Eval[string](b, `[...document.querySelectorAll(".ahead")].filter((s) => s.checkVisibility()).map((s) =>
		(s.querySelector("h3, summary").innerText + ": " + [...s.querySelectorAll("li")].filter((l) => s.querySelector("summary") ? !l.matches(".out, .other") : l.checkVisibility())
		.map((l) => s.querySelector("summary") ? l.lastChild.textContent : l.innerText).join(", ")).replace(/\s+/g, " ")).join("; ")`)
}

func pick(b *browser.Tab, id string) {
	browser.Eval[bool](b, `(() => { const list = document.querySelector("[data-reached]"); list.value = "`+id+`"; list.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`)
}

// halfwayFollows picks last steps and sees what is told then.
func halfwayFollows(t *testing.T, b *browser.Tab) {
	b.Visit("changes.html")
	if got := shownTasks(b); got != "" {
		t.Errorf("before a step is picked it says %q", got)
	}
	const (
		first  = "Taken as done: Bed: Lay the bed; May stay as it is: Bed: Lay the bed; Go on with: Frame: Stand the posts"
		second = "Taken as done: Bed: Lay the bed, Frame: Stand the posts; Undo first: take out bed.shim (Shim); " +
			"Frame: Stand the posts: open frame.feet, 4 × Washer M8; May stay as it is: Bed: Lay the bed; Go on with: Frame: Lay the head plate on"
		alone = "Taken as done: Frame: Stand the posts; Frame: Stand the posts: open frame.feet, 4 × Washer M8; Go on with: Frame: Lay the head plate on"
		crank = "Taken as done: Bed: Lay the bed, Frame: Stand the posts; Undo first: take out bed.shim (Shim); " +
			"Frame: Stand the posts: open frame.feet, take off frame.crank, put on since; May stay as it is: Bed: Lay the bed; Go on with: Frame: Lay the head plate on"
	)
	sees := func(name, want, status, address string) {
		t.Helper()
		if got := shownTasks(b); got != want {
			t.Errorf("%s: it says %q, want %q", name, got, want)
		}
		if got := b.Shown(".reached"); !strings.Contains(got, status) {
			t.Errorf("%s: the status is %q, want %q in it", name, got, status)
		}
		if got := browser.Eval[string](b, `location.hash`); got != address {
			t.Errorf("%s: the address ends with %q, want %q", name, got, address)
		}
	}
	pick(b, "bed.lay")
	sees("the first step", first, "Steps to see to: 0. Steps that may stay: 1.", "#done-bed.lay")
	if b.Visible(".reach .alone") {
		t.Error("a box is shown that changes nothing")
	}
	pick(b, "frame.posts")
	sees("the second step", second, "2 Stand the posts. Steps to see to: 1.", "#done-frame.posts")
	b.Click("[data-alone-too]")
	sees("without the first assembly", alone, "Steps that may stay: 0.", "#done-frame.posts-alone")

	// The address brings it back, in a new page and in the same one.
	b.Visit("index.html")
	b.Visit("changes.html#done-frame.posts-alone")
	sees("come back to", alone, "2 Stand the posts", "#done-frame.posts-alone")
	if !browser.Eval[bool](b, `document.querySelector("[data-alone-too]").checked && document.querySelector("[data-reached]").value === "frame.posts"`) {
		t.Error("the boxes do not show what the address says")
	}
	browser.Eval[bool](b, `new Promise((done) => { addEventListener("hashchange", () => setTimeout(() => done(true))); location.hash = "#done-bed.lay"; })`)
	sees("another address", first, "1 Lay the bed", "#done-bed.lay")

	// A step of another choice is not offered, nor kept when the choice goes.
	if !browser.Eval[bool](b, `document.querySelector("option[value='frame.crank']").disabled`) {
		t.Error("the crank's step can be picked with a motor")
	}
	b.Click(`form.panel [data-choice="drive"][value="crank"]`)
	pick(b, "frame.crank")
	sees("with a crank", crank, "3 Fit the crank", "#done-frame.crank")
	b.Click(`form.panel [data-choice="drive"][value="motor"]`)
	if got := shownTasks(b); got != "" {
		t.Errorf("a step that is no longer there leaves %q", got)
	}
	pick(b, "")
	if got := browser.Eval[string](b, `location.hash`); got != "" {
		t.Errorf("with nothing picked the address ends with %q", got)
	}
	for _, strange := range []string{"done-nowhere", "done-", "done-frame.posts-alone-alone"} {
		b.Visit("index.html")
		b.Visit("changes.html#" + strange)
		if got := shownTasks(b); got != "" {
			t.Errorf("the address #%s shows %q", strange, got)
		}
	}
}

// halfwayWithoutScripts sees all of it, marked.
func halfwayWithoutScripts(t *testing.T, b *browser.Tab) {
	b.See(360, "light", false)
	defer b.See(1280, "light", true)
	b.Visit("changes.html#done-frame.posts")
	const want = "Undo first last step done: from 2 on: take out bed.shim (Shim); " +
		"Frame: Stand the posts last step done: from 2 on: open frame.feet, Only with Hand crank last step done: 3 take off frame.crank, put on since, last step done: 2 4 × Washer M8; " +
		"May stay as it is whatever is done: Bed: Lay the bed; Go on with whatever is done: last step done: 1 Frame: Stand the posts, last step done: from 2 on Frame: Lay the head plate on"
	if got := shownTasks(b); got != want {
		t.Errorf("it says\n%s, want\n%s", got, want)
	}
	if b.Visible("[data-reached]") {
		t.Error("a list to pick from is shown without scripts")
	}
	if got := b.Shown("[id='done-frame.posts']"); !b.Visible("[id='done-frame.posts']") || got != "2 Stand the posts" {
		t.Errorf("the address leads to %q", got)
	}
}

// What anchors and states a document holds is checked as in any other block.
func TestHalfwayNames(t *testing.T) {
	doc := sample()
	for _, p := range doc.Pages {
		if p.ID == "changes" {
			p.Blocks = append(p.Blocks, sampleHalfway())
		}
	}
	if _, err := Render(doc, nil); err == nil || !strings.Contains(err.Error(), `two anchors "done-bed.lay"`) {
		t.Errorf("two of them give the error %v", err)
	}
	doc = sample()
	for _, p := range doc.Pages {
		if p.ID == "changes" {
			h := sampleHalfway()
			h.Chapters[2].Title = []page.Inline{page.Link{To: page.Target{Page: "nowhere"}, Words: page.Words("x")}}
			p.Blocks[1] = h
		}
	}
	if _, err := Render(doc, nil); err == nil || !strings.Contains(err.Error(), `"nowhere"`) {
		t.Errorf("a link to nowhere gives the error %v", err)
	}
}
