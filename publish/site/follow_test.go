package site

import (
	"strings"
	"testing"

	"plansheaf/publish/site/browser"
)

// One browser serves all checks of what readers can do: it takes longer to start
// than to use.
func TestInTheBrowser(t *testing.T) {
	t.Parallel()
	b := browser.Start(t, write(t))
	run := func(name string, check func(*testing.T, *browser.Tab)) {
		t.Run(name, func(t *testing.T) {
			b.Under(t)
			b.See(1280, "light", true)
			b.Visit("index.html")
			browser.Eval[bool](b, `(localStorage.clear(), true)`)
			check(t, b)
		})
	}
	run("every page", everyPage)
	run("choices", choicesFollow)
	run("ticks", ticksStay)
	run("search", searchFinds)
	run("look", lookIsKept)
	run("sorting", tablesSort)
	run("storage of another's making", strangeStorage)
	run("half way", halfwayFollows)
	run("half way without scripts", halfwayWithoutScripts)
	run("without scripts", worksWithoutScripts)
}

// everyPage opens every page once: nothing may come from elsewhere, the browser
// may have nothing to complain of, nothing may be wider than the screen.
func everyPage(t *testing.T, b *browser.Tab) {
	for _, p := range sample().Pages {
		b.Visit(p.ID + ".html")
		for _, width := range []int64{320, 768, 1100} {
			b.Widen(width)
			if wide := browser.Eval[int64](b, `document.documentElement.scrollWidth`); wide > width {
				t.Errorf("%s is %d px wide on %d px", p.ID, wide, width)
			}
		}
	}
	b.Click("[data-open-search]")
	browser.Eval[bool](b, `new Promise((done) => { const look = () => self.searchData ? done(true) : setTimeout(look, 5); look(); })`)
	if len(b.Requests()) < 4*len(sample().Pages) {
		t.Errorf("only %d requests were seen", len(b.Requests()))
	}
	for _, address := range b.Requests() {
		if !strings.HasPrefix(address, "file://") {
			t.Errorf("asked for %s", address)
		}
	}
	for _, fault := range b.Faults() {
		t.Errorf("the browser complains: %s", fault)
	}
}

func choicesFollow(t *testing.T, b *browser.Tab) {
	b.Visit("build/frame.html")
	if b.Visible("#step-crank") {
		t.Error("the crank's step is shown with a motor")
	}
	if got := b.Shown(".title-block .choice dd"); got != "Geared motor and belt" {
		t.Errorf("the title block says %q", got)
	}
	if got := b.Shown("#step-head [data-way=next]"); !strings.HasSuffix(got, "4 Bolt the motor on") {
		t.Errorf("the step after is %q", got)
	}
	b.Click(`form.panel [data-choice="drive"][value="crank"]`)
	if !b.Visible("#step-crank") {
		t.Error("the crank's step is not shown with a crank")
	}
	if got := b.Shown("#step-head [data-way=next]"); !strings.HasSuffix(got, "3 Fit the crank") {
		t.Errorf("the step after is %q", got)
	}
	for _, row := range []struct{ name, page, selector, want string }{
		{name: "remembered on another page", page: "index.html", selector: ".facts", want: "2.9 kN"},
		{name: "total", page: "shopping.html", selector: "tfoot", want: "12.80 EUR"},
		{name: "row", page: "parts.html", selector: "#crank_knob", want: "Crank knob"},
		{name: "page that does not fit", page: "calcs/press_force.html", selector: ".banner-only", want: "You have chosen otherwise."},
		{name: "large picker", page: "choices.html", selector: ".picker label:has(:checked)", want: "Hand crank"},
	} {
		b.Visit(row.page)
		if got := b.Shown(row.selector); !strings.Contains(got, row.want) {
			t.Errorf("%s: %q, want %q in it", row.name, got, row.want)
		}
	}
	b.Visit("index.html")
	if got := b.Shown(".facts"); strings.Contains(got, "4.31") || strings.Contains(got, "Motor") {
		t.Errorf("facts of the motor are shown with a crank: %q", got)
	}
}

func ticksStay(t *testing.T, b *browser.Tab) {
	b.Visit("build/frame.html")
	b.Click("#step-posts [data-step]")
	b.Click(`[data-tick="bag.frame.head"]`)
	b.Visit("build/frame.html")
	for _, row := range []struct {
		selector string
		want     bool
	}{
		{selector: "#step-posts [data-step]", want: true},
		{selector: `[data-tick="bag.frame.head"]`, want: true},
		{selector: "#step-head [data-step]", want: false},
	} {
		if got := browser.Eval[bool](b, `document.querySelector(`+"`"+row.selector+"`"+`).checked`); got != row.want {
			t.Errorf("%s is ticked: %v, want %v", row.selector, got, row.want)
		}
	}
	if got := b.Shown(".progress"); !strings.Contains(got, "1 of 2 steps done") || !strings.Contains(got, "Go on with step 2 Lay the head plate on") {
		t.Errorf("progress says %q", got)
	}
	if got := b.Shown(`[data-count="build/frame.html"]`); got != "1/2" {
		t.Errorf("contents count %q", got)
	}
	b.Visit("index.html")
	if got := b.Shown(".progress"); !strings.Contains(got, "1 of 4 steps done") {
		t.Errorf("progress of the machine says %q", got)
	}
	browser.Eval[bool](b, `(window.confirm = () => true)()`)
	b.Click("[data-clear-ticks]")
	if got := b.Shown(".progress"); !strings.Contains(got, "0 of 4 steps done") {
		t.Errorf("after clearing, progress says %q", got)
	}
}

func searchFinds(t *testing.T, b *browser.Tab) {
	b.Visit("parts/head_plate.html")
	b.Click("[data-open-search]")
	find := func(words string) string {
		return browser.Eval[string](b, `new Promise((done) => {
			const input = document.querySelector(".search input");
			input.value = `+"`"+words+"`"+`;
			input.dispatchEvent(new Event("input"));
			const look = () => document.querySelector(".found").textContent
				? done([...document.querySelectorAll(".results a")].map((a) => a.getAttribute("href")).join(" ")) : setTimeout(look, 5);
			setTimeout(look, 30);
		})`)
	}
	for _, row := range []struct{ name, words, want string }{
		{name: "part", words: "head plate", want: "../parts/head_plate.html"},
		{name: "step", words: "stand posts", want: "../build/frame.html#step-posts"},
		{name: "beginning of a word", words: "WOBB", want: "../build/frame.html#step-posts"},
		{name: "no accents needed", words: "licence", want: "../license.html"},
		{name: "other choice", words: "frame.crank", want: ""},
		{name: "nothing", words: "unicorn", want: ""},
	} {
		first, _, _ := strings.Cut(find(row.words), " ")
		if first != row.want {
			t.Errorf("%s: %q gives %q first, want %q", row.name, row.words, first, row.want)
		}
	}
}

func lookIsKept(t *testing.T, b *browser.Tab) {
	paper := func() string {
		return browser.Eval[string](b, `getComputedStyle(document.querySelector(".sheet")).backgroundColor`)
	}
	light := paper()
	b.Click(`[data-look="scheme"][value="dark"]`)
	dark := paper()
	if light == dark {
		t.Errorf("the paper stays %s in the dark", light)
	}
	for _, row := range []struct{ value, want string }{
		{value: "both", want: "38.4 kg (84.7 lb)"}, {value: "first", want: "38.4 kg"}, {value: "second", want: "84.7 lb"},
	} {
		b.Click(`[data-look="units"][value="` + row.value + `"]`)
		if got := b.Shown(".facts .two"); got != row.want {
			t.Errorf("units %s: %q, want %q", row.value, got, row.want)
		}
	}
	b.Visit("safety.html")
	if got := paper(); got != dark {
		t.Errorf("the next page's paper is %s, want %s", got, dark)
	}
	if got := b.Shown(".title-block"); !strings.Contains(got, "UNITS Inch") {
		t.Errorf("the title block does not say inch: %q", got)
	}
}

func tablesSort(t *testing.T, b *browser.Tab) {
	b.Visit("parts.html")
	browser.Eval[bool](b, `(() => {
		const body = document.querySelector("#list tbody");
		for (const [name, count] of [["b", "10"], ["a", "9"], ["c", "1,200"]]) {
			const row = body.insertRow();
			row.className = "row";
			row.innerHTML = "<th>" + name + "</th><td>" + count + "</td>";
		}
		return true;
	})()`)
	order := func() string {
		return browser.Eval[string](b, `[...document.querySelectorAll("#list tbody")][0].innerText.match(/^(Head plate|[abc])(?=\t)/gm).join(",")`)
	}
	b.Click("#list thead th:nth-child(2) button")
	if got, want := order(), "Head plate,a,b,c"; got != want {
		t.Errorf("by count: %s, want %s", got, want)
	}
	b.Click("#list thead th:nth-child(2) button")
	if got, want := order(), "c,b,a,Head plate"; got != want {
		t.Errorf("by count, downward: %s, want %s", got, want)
	}
}

// strangeStorage checks that what another page left under our keys breaks
// nothing.
func strangeStorage(t *testing.T, b *browser.Tab) {
	browser.Eval[bool](b, `(localStorage.setItem("plan look", "[1"), localStorage.setItem("plan choice Bench tile press", '{"drive":"<b>"}'),
		localStorage.setItem("plan ticks Bench tile press C", "[]"), true)`)
	before := len(b.Faults())
	b.Visit("build/frame.html")
	if got := b.Shown(".title-block .choice dd"); got != "Geared motor and belt" {
		t.Errorf("the title block says %q", got)
	}
	for _, fault := range b.Faults()[before:] {
		t.Errorf("the browser complains: %s", fault)
	}
}

func worksWithoutScripts(t *testing.T, b *browser.Tab) {
	for _, width := range []int64{1280, 320} {
		b.See(width, "light", false)
		for _, id := range []string{"index", "build/frame", "choices", "parts"} {
			b.Visit(id + ".html")
			if wide := browser.Eval[int64](b, `document.documentElement.scrollWidth`); wide > width {
				t.Errorf("%s is %d px wide on %d px", id, wide, width)
			}
		}
		if got := b.Shown("#crank_knob"); !b.Visible("#crank_knob") || !strings.Contains(got, "Only with Hand crank") {
			t.Errorf("on %d px the row of the other choice says %q", width, got)
		}
	}
	if b.Visible("[data-open-search]") {
		t.Error("a button that needs scripts is shown without them")
	}
	if b.Visible("nav.contents") {
		t.Error("contents stand in the way on a phone")
	}
	b.Visit("parts.html#" + ownMark + "contents")
	if !b.Visible("nav.contents") {
		t.Error("the contents link opens nothing on a phone")
	}
}
