package site

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// One browser serves all checks of what readers can do: it takes longer to start
// than to use.
func TestInTheBrowser(t *testing.T) {
	t.Parallel()
	b := browse(t)
	run := func(name string, check func(*testing.T, *tab)) {
		t.Run(name, func(t *testing.T) {
			b.t = t
			b.see(1280, "light", true)
			b.open("index.html")
			eval[bool](b, `(localStorage.clear(), true)`)
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
	run("without scripts", worksWithoutScripts)
}

// everyPage opens every page once: nothing may come from elsewhere, the browser
// may have nothing to complain of, nothing may be wider than the screen.
func everyPage(t *testing.T, b *tab) {
	for _, p := range sample().Pages {
		b.open(p.ID + ".html")
		for _, width := range []int64{320, 768, 1100} {
			b.do(chromedp.EmulateViewport(width, 900))
			if wide := eval[int64](b, `document.documentElement.scrollWidth`); wide > width {
				t.Errorf("%s is %d px wide on %d px", p.ID, wide, width)
			}
		}
	}
	b.click("[data-open-search]")
	eval[bool](b, `new Promise((done) => { const look = () => self.searchData ? done(true) : setTimeout(look, 5); look(); })`)
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.requests) < 4*len(sample().Pages) {
		t.Errorf("only %d requests were seen", len(b.requests))
	}
	for _, address := range b.requests {
		if !strings.HasPrefix(address, "file://") {
			t.Errorf("asked for %s", address)
		}
	}
	for _, fault := range b.faults {
		t.Errorf("the browser complains: %s", fault)
	}
}

func choicesFollow(t *testing.T, b *tab) {
	b.open("build/frame.html")
	if b.visible("#step-crank") {
		t.Error("the crank's step is shown with a motor")
	}
	if got := b.shown(".title-block .choice dd"); got != "Geared motor and belt" {
		t.Errorf("the title block says %q", got)
	}
	if got := b.shown("#step-head [data-way=next]"); !strings.HasSuffix(got, "4 Bolt the motor on") {
		t.Errorf("the step after is %q", got)
	}
	b.click(`form.panel [data-choice="drive"][value="crank"]`)
	if !b.visible("#step-crank") {
		t.Error("the crank's step is not shown with a crank")
	}
	if got := b.shown("#step-head [data-way=next]"); !strings.HasSuffix(got, "3 Fit the crank") {
		t.Errorf("the step after is %q", got)
	}
	for _, row := range []struct{ name, page, selector, want string }{
		{name: "remembered on another page", page: "index.html", selector: ".facts", want: "2.9 kN"},
		{name: "total", page: "shopping.html", selector: "tfoot", want: "12.80 EUR"},
		{name: "row", page: "parts.html", selector: "#crank_knob", want: "Crank knob"},
		{name: "page that does not fit", page: "calcs/press_force.html", selector: ".banner-only", want: "You have chosen otherwise."},
		{name: "large picker", page: "choices.html", selector: ".picker label:has(:checked)", want: "Hand crank"},
	} {
		b.open(row.page)
		if got := b.shown(row.selector); !strings.Contains(got, row.want) {
			t.Errorf("%s: %q, want %q in it", row.name, got, row.want)
		}
	}
	b.open("index.html")
	if got := b.shown(".facts"); strings.Contains(got, "4.31") || strings.Contains(got, "Motor") {
		t.Errorf("facts of the motor are shown with a crank: %q", got)
	}
}

func ticksStay(t *testing.T, b *tab) {
	b.open("build/frame.html")
	b.click("#step-posts [data-step]")
	b.click(`[data-tick="bag.frame.head"]`)
	b.open("build/frame.html")
	for _, row := range []struct {
		selector string
		want     bool
	}{
		{selector: "#step-posts [data-step]", want: true},
		{selector: `[data-tick="bag.frame.head"]`, want: true},
		{selector: "#step-head [data-step]", want: false},
	} {
		if got := eval[bool](b, `document.querySelector(`+quote(row.selector)+`).checked`); got != row.want {
			t.Errorf("%s is ticked: %v, want %v", row.selector, got, row.want)
		}
	}
	if got := b.shown(".progress"); !strings.Contains(got, "1 of 2 steps done") || !strings.Contains(got, "Go on with step 2 Lay the head plate on") {
		t.Errorf("progress says %q", got)
	}
	if got := b.shown(`[data-count="build/frame.html"]`); got != "1/2" {
		t.Errorf("contents count %q", got)
	}
	b.open("index.html")
	if got := b.shown(".progress"); !strings.Contains(got, "1 of 4 steps done") {
		t.Errorf("progress of the machine says %q", got)
	}
	eval[bool](b, `(window.confirm = () => true)()`)
	b.click("[data-clear-ticks]")
	if got := b.shown(".progress"); !strings.Contains(got, "0 of 4 steps done") {
		t.Errorf("after clearing, progress says %q", got)
	}
}

func searchFinds(t *testing.T, b *tab) {
	b.open("parts/head_plate.html")
	b.click("[data-open-search]")
	find := func(words string) string {
		return eval[string](b, `new Promise((done) => {
			const input = document.querySelector(".search input");
			input.value = `+quote(words)+`;
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

func lookIsKept(t *testing.T, b *tab) {
	paper := func() string {
		return eval[string](b, `getComputedStyle(document.querySelector(".sheet")).backgroundColor`)
	}
	light := paper()
	b.click(`[data-look="scheme"][value="dark"]`)
	dark := paper()
	if light == dark {
		t.Errorf("the paper stays %s in the dark", light)
	}
	for _, row := range []struct{ value, want string }{
		{value: "both", want: "38.4 kg (84.7 lb)"}, {value: "first", want: "38.4 kg"}, {value: "second", want: "84.7 lb"},
	} {
		b.click(`[data-look="units"][value="` + row.value + `"]`)
		if got := b.shown(".facts .two"); got != row.want {
			t.Errorf("units %s: %q, want %q", row.value, got, row.want)
		}
	}
	b.open("safety.html")
	if got := paper(); got != dark {
		t.Errorf("the next page's paper is %s, want %s", got, dark)
	}
	if got := b.shown(".title-block"); !strings.Contains(got, "UNITS Inch") {
		t.Errorf("the title block does not say inch: %q", got)
	}
}

func tablesSort(t *testing.T, b *tab) {
	b.open("parts.html")
	eval[bool](b, `(() => {
		const body = document.querySelector("#list tbody");
		for (const [name, count] of [["b", "10"], ["a", "9"], ["c", "1,200"]]) {
			const row = body.insertRow();
			row.className = "row";
			row.innerHTML = "<th>" + name + "</th><td>" + count + "</td>";
		}
		return true;
	})()`)
	order := func() string {
		return eval[string](b, `[...document.querySelectorAll("#list tbody")][0].innerText.match(/^(Head plate|[abc])(?=\t)/gm).join(",")`)
	}
	b.click("#list thead th:nth-child(2) button")
	if got, want := order(), "Head plate,a,b,c"; got != want {
		t.Errorf("by count: %s, want %s", got, want)
	}
	b.click("#list thead th:nth-child(2) button")
	if got, want := order(), "c,b,a,Head plate"; got != want {
		t.Errorf("by count, downward: %s, want %s", got, want)
	}
}

// strangeStorage checks that what another page left under our keys breaks
// nothing.
func strangeStorage(t *testing.T, b *tab) {
	eval[bool](b, `(localStorage.setItem("plan look", "[1"), localStorage.setItem("plan choice Bench tile press", '{"drive":"<b>"}'),
		localStorage.setItem("plan ticks Bench tile press C", "[]"), true)`)
	b.mu.Lock()
	b.faults = nil
	b.mu.Unlock()
	b.open("build/frame.html")
	if got := b.shown(".title-block .choice dd"); got != "Geared motor and belt" {
		t.Errorf("the title block says %q", got)
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, fault := range b.faults {
		t.Errorf("the browser complains: %s", fault)
	}
}

func worksWithoutScripts(t *testing.T, b *tab) {
	for _, width := range []int64{1280, 320} {
		b.see(width, "light", false)
		for _, id := range []string{"index", "build/frame", "choices", "parts"} {
			b.open(id + ".html")
			if wide := eval[int64](b, `document.documentElement.scrollWidth`); wide > width {
				t.Errorf("%s is %d px wide on %d px", id, wide, width)
			}
		}
		if got := b.shown("#crank_knob"); !b.visible("#crank_knob") || !strings.Contains(got, "Only with Hand crank") {
			t.Errorf("on %d px the row of the other choice says %q", width, got)
		}
	}
	if b.visible("[data-open-search]") {
		t.Error("a button that needs scripts is shown without them")
	}
	if b.visible("nav.contents") {
		t.Error("contents stand in the way on a phone")
	}
	b.open("parts.html#" + ownMark + "contents")
	if !b.visible("nav.contents") {
		t.Error("the contents link opens nothing on a phone")
	}
}
