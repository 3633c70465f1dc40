package site

import (
	"fmt"
	"testing"

	"plansheaf/publish/notation"
	"plansheaf/publish/notation/specimen"
	"plansheaf/publish/page"
	"plansheaf/publish/site/browser"
)

// formulaPage shows a formula of every kind and some at random, as equations and on
// lines of a table.
func formulaPage() *page.Page {
	texts := append([]string(nil), specimen.Kinds...)
	for seed := range uint64(12) {
		texts = append(texts, specimen.Random(seed, 3))
	}
	p := &page.Page{ID: "calcs/formulas", Title: "Formulas", Kind: page.Calculation, Parent: "calcs"}
	table := page.Table{Columns: []page.Column{{Head: page.Words("Condition")}, {Head: page.Words("Because"), Wide: true}}}
	for i, text := range texts {
		is := set(text)
		p.Blocks = append(p.Blocks, page.Equation{ID: fmt.Sprintf("e%d", i), Name: notation.Name("result"), About: page.Words("what it is"), Is: is, Result: page.Words("4.31 kN")})
		table.Rows = append(table.Rows, page.Row{Cells: []page.Cell{{Words: []page.Inline{page.Formula{Is: is}}}, {Words: page.Words("yes")}}})
	}
	p.Blocks = append(p.Blocks, table)
	return p
}

// TestFormulasKeepToTheirPlace asks the browser, on screens of three widths, whether
// anything moves sideways and whether each formula is drawn, not written out as text.
func TestFormulasKeepToTheirPlace(t *testing.T) {
	t.Parallel()
	b := browser.Start(t, write(t))
	for _, width := range []int64{360, 500, 1280} {
		b.See(width, "light", true)
		b.Visit("calcs/formulas.html")
		for _, fault := range browser.Eval[[]string](b, `(() => {
			const faults = [], root = document.documentElement;
			if (root.scrollWidth > root.clientWidth) {
				const wide = [...document.querySelectorAll("main *")].filter((e) => e.getBoundingClientRect().right > root.clientWidth + 1);
				faults.push("the page moves sideways: " + root.scrollWidth + ", by " + (wide.at(-1)?.outerHTML || "").slice(0, 300));
			}
			for (const lines of document.querySelectorAll(".equation .lines"))
				if (lines.scrollWidth > lines.clientWidth + 1) faults.push("moves sideways by " + (lines.scrollWidth - lines.clientWidth) + ": " + lines.querySelectorAll("math")[1].getAttribute("alttext"));
			for (const math of document.querySelectorAll("math")) {
				const box = math.getBoundingClientRect();
				if (box.width && box.right > root.clientWidth) faults.push("leaves the screen: " + math.getAttribute("alttext"));
			}
			for (const fraction of document.querySelectorAll("mfrac")) {
				if (!fraction.getClientRects().length) continue;
				const [above, below] = [...fraction.children].map((c) => c.getBoundingClientRect());
				if (above.bottom > below.top + 0.5) faults.push("not above each other: " + fraction.textContent);
			}
			return faults;
		})()`) {
			t.Errorf("%d pixels: %s", width, fault)
		}
	}
}
