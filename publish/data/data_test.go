package data

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/trial"
)

// RFC 4180: lines end in CR LF; a cell with a comma, a quote or a line end is
// quoted, its quotes doubled. A cell that a spreadsheet would run is defused.
func TestCells(t *testing.T) {
	cases := []struct{ name, cell, want string }{
		{"plain", "Post", "Post"},
		{"comma", "a, b", `"a, b"`},
		{"quote", `3/4" pipe`, `"3/4"" pipe"`},
		{"line end", "one\ntwo", "\"one\r\ntwo\""},
		{"empty", "", ""},
		{"formula", "=HYPERLINK(A1)", "'=HYPERLINK(A1)"},
		{"plus", "+1", "'+1"},
		{"minus", "-1+2", "'-1+2"},
		{"at", "@SUM(A1)", "'@SUM(A1)"},
		{"tab", "\t=1", "'\t=1"},
		{"return, which the line ends swallow", "\r=1", `"'=1"`},
		{"formula with a comma", "=A(1,2)", `"'=A(1,2)"`},
		{"sign within", "M8x25 - 8.8", "M8x25 - 8.8"},
		{"letters beyond ASCII", "Größe ⌀ 12", "Größe ⌀ 12"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := string(table([][]string{{"a", c.cell, "z"}})); got != "a,"+c.want+",z\r\n" {
				t.Errorf("%q, want %q", got, "a,"+c.want+",z\r\n")
			}
		})
	}
}

// bench is a small machine with a hostile title, two choices and prices.
var bench = trial.Files{
	"plan.yaml": `title: Bench
machine: bench
revision: B
date: 2026-05-02
currency: EUR
values: {high: {is: 100 mm ± 1 mm}}
choices:
  drive: {title: Drive, options: {crank: Crank, motor: Motor}, default: crank}
  tile: {title: Tile, options: {small: Small, large: Large}, default: small}
`,
	"stock.yaml":     "bar: {title: '=Bar, \"square\"', section: {square: {side: 20 mm}}, material: steel_s235, kerf: 3 mm, sold: [{length: 1000 mm, price: 9.80 EUR}], buy: {from: dealer}}\n",
	"suppliers.yaml": "dealer: {title: Dealer, sells: {cap: {pack: 25, price: 6.40 EUR, code: '912'}, motor: {price: 28 EUR}}}\n",
	"parts/all.yaml": `post: {title: "=Post, the tall one", made: cut, stock: bar, length: {by: tile, small: high, large: 2 * high}, lies: z, holes: {crown: {face: top, at: [10 mm, 10 mm], tap: M8, depth: 20 mm}}}
motor: {title: Motor, made: bought, mass: 1 kg}
cap: {standard: ISO 4762 M8x25 - 8.8}
`,
	"assemblies/bench.yaml": `title: Bench
holds:
  posts: {part: post, at: [0 mm, 0 mm, 0 mm], count: {by: tile, small: 2, large: 4}, step: [50 mm, 0 mm, 0 mm]}
  power: {assembly: power, at: [0 mm, 0 mm, 0 mm], only: {drive: motor}}
joints: {hold: {screw: cap, through: [posts.crown]}}
steps: {build: {title: Build, adds: [posts], fastens: [hold], text: T, time: 10 min}}
`,
	"assemblies/power.yaml": "title: Power\nholds: {motor: {part: motor, at: [0 mm, 0 mm, 0 mm]}}\nsteps: {mount: {title: Mount, adds: [motor], text: T, time: 5 min}}\n",
	"calcs/force.yaml":      "title: Force\nonly: {drive: motor}\ngiven: {f: {is: 3 N}}\nfind: {g: 2 * f}\nrequire: [{that: g > 5 N}]\n",
	"safety/all.yaml":       "fall: {kind: falling, where: [post], harm: It falls., before: {severity: slight, chance: remote}, after: {severity: slight, chance: remote}, measures: [{warning: Hold it.}]}\n",
}

func worked(t *testing.T) *check.Work {
	t.Helper()
	return check.Out(trial.Plan(t, bench))
}

func records(t *testing.T, b []byte) [][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// Each list has a row for each line of the bill, under every combination of choices.
func TestListsHoldTheBill(t *testing.T) {
	for _, s := range worked(t).Combinations() {
		t.Run(fmt.Sprint(s.Says), func(t *testing.T) {
			parts := records(t, PartsCSV(s))
			if len(parts) != len(s.Bill.Lines)+1 {
				t.Errorf("%d rows of parts, want a head and %d", len(parts), len(s.Bill.Lines))
			}
			for i, line := range s.Bill.Lines {
				if row := parts[i+1]; row[0] != line.Part.Part.ID.Text || row[3] != fmt.Sprint(line.Count) {
					t.Errorf("row %v, want %d of %s", row, line.Count, line.Part.Part.ID.Text)
				}
			}
			if parts[1][1] != "'=Post, the tall one" {
				t.Errorf("title %q is not defused", parts[1][1])
			}
			shopping := records(t, ShoppingCSV(s, "EUR"))
			if len(shopping) != len(s.Bill.Purchases)+1 {
				t.Errorf("%d rows of purchases, want a head and %d", len(shopping), len(s.Bill.Purchases))
			}
			for i, p := range s.Bill.Purchases {
				if row := shopping[i+1]; row[0] != p.ID || row[7] != fmt.Sprint(p.Packs) || row[11] != fmt.Sprintf("%.2f", p.Price.Amount()) {
					t.Errorf("row %v, want %d packs of %s", row, p.Packs, p.ID)
				}
			}
			if cutting := records(t, CuttingCSV(s)); len(cutting) != 2 || cutting[1][2] != "post" || cutting[1][3] != fmt.Sprint(s.Bill.Line("post").Count) {
				t.Errorf("cut list %v", cutting)
			}
			if tools := records(t, ToolsCSV(s)); len(tools) < 4 {
				t.Errorf("tools %v, want saw, drill, tap, hex key", tools)
			}
		})
	}
}

// The plan as JSON is the same each time, has lists where there are lists, and says
// under each combination what the machine holds.
func TestPlanJSON(t *testing.T) {
	first, err := PlanJSON(worked(t), nil)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if again, err := PlanJSON(worked(t), nil); err != nil || !bytes.Equal(first, again) {
			t.Fatalf("two writings of one plan differ (%v)", err)
		}
	}
	if bytes.Contains(first, []byte(": null")) {
		t.Errorf("an empty list is written as null:\n%s", first)
	}
	var doc struct {
		Form  string
		Cases []struct {
			Options map[string]string
			WorkMin float64 `json:"work_minutes"`
			Values  []struct {
				Name, Text    string
				SI, Low, High float64
			}
			Parts []struct {
				ID    string
				Count int
			}
			Instances []struct{ Path string }
			Steps     []struct{ ID string }
			Joints    []struct {
				Places int
				Torque string
			}
			Calcs []struct{ Requires []struct{ Known, Holds bool } } `json:"calculations"`
		}
	}
	if err := json.Unmarshal(first, &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Form != "plansheaf plan 1" || len(doc.Cases) != 4 {
		t.Fatalf("form %q with %d cases, want 4", doc.Form, len(doc.Cases))
	}
	for _, c := range doc.Cases {
		posts, steps, calcs, minutes := 2, 1, 0, 10.0
		if c.Options["tile"] == "large" {
			posts = 4
		}
		instances := posts
		if c.Options["drive"] == "motor" {
			steps, calcs, minutes, instances = 2, 1, 15, posts+2
		}
		if c.Parts[0].ID != "post" || c.Parts[0].Count != posts || len(c.Instances) != instances || c.Joints[0].Places != posts {
			t.Errorf("%v: %d posts, %d instances, %d screws: want %d, %d, %d", c.Options, c.Parts[0].Count, len(c.Instances), c.Joints[0].Places, posts, instances, posts)
		}
		if len(c.Steps) != steps || len(c.Calcs) != calcs || c.WorkMin != minutes {
			t.Errorf("%v: %d steps, %d calculations, %g min: want %d, %d, %g", c.Options, len(c.Steps), len(c.Calcs), c.WorkMin, steps, calcs, minutes)
		}
		if v := c.Values[0]; v.Name != "high" || v.SI != 0.1 || v.Low != 0.099 || v.High != 0.101 {
			t.Errorf("%v: value %+v", c.Options, v)
		}
	}
}

var someRules = []finding.Rule{
	{Name: "unknown-name", Severity: finding.Error, Reason: "R", Remedy: "M"},
	{Name: "title-twice", Severity: finding.Warning, Reason: "R", Remedy: "M"},
	{Name: "better-way", Severity: finding.Advice, Reason: "R", Remedy: "M"},
}

var someFindings = []finding.Finding{
	{Rule: "unknown-name", Severity: finding.Error, At: finding.OnLine("parts/my part.yaml", 3, 5, 4), Message: "nothing is named \"x\"", Remedy: "name it", Also: []finding.Related{{At: finding.OnLine("plan.yaml", 1, 1, 5), Say: "here"}, {Say: "nowhere"}}},
	{Rule: "title-twice", Severity: finding.Warning, At: finding.OnLine("plan.yaml", 2, 1, 1), Message: "twice", Waived: &finding.Waiver{Because: "so"}},
	{Rule: "better-way", Severity: finding.Advice, Message: "no place"},
	{Rule: "some-other", Severity: finding.Note, At: finding.Span{File: "files/a.csv"}, Message: "a file"},
}

// Fields that SARIF 2.1.0 (OASIS standard, 27 March 2020) requires, and the bounds it
// sets: section numbers beside each.
func TestSARIF(t *testing.T) {
	b, err := SARIF(someFindings, someRules, "1.2.3")
	if err != nil {
		t.Fatal(err)
	}
	var log map[string]any
	if err := json.Unmarshal(b, &log); err != nil {
		t.Fatal(err)
	}
	if log["version"] != "2.1.0" { // 3.13.2
		t.Errorf("version %v", log["version"])
	}
	if s, _ := log["$schema"].(string); !strings.Contains(s, "sarif-schema-2.1.0.json") { // 3.13.3
		t.Errorf("schema %q", s)
	}
	run := list(t, log, "runs")[0]                                                 // 3.13.4
	if k := run["columnKind"]; k != "unicodeCodePoints" && k != "utf16CodeUnits" { // 3.14.17
		t.Errorf("columnKind %v", k)
	}
	driver := object(t, object(t, run, "tool"), "driver")              // 3.14.6, 3.18.2
	if driver["name"] != "plansheaf" || driver["version"] != "1.2.3" { // 3.19.8, 3.19.13
		t.Errorf("driver %v", driver)
	}
	rules := list(t, driver, "rules")
	for i, r := range rules {
		if r["id"] != someRules[i].Name { // 3.49.3
			t.Errorf("rule %v", r)
		}
		for _, key := range []string{"shortDescription", "help"} { // 3.12: a text
			if s, _ := object(t, r, key)["text"].(string); s == "" {
				t.Errorf("%s of %v has no text", key, r["id"])
			}
		}
		level(t, object(t, r, "defaultConfiguration")["level"])
	}
	results := list(t, run, "results") // 3.14.23
	if len(results) != len(someFindings) {
		t.Fatalf("%d results, want %d", len(results), len(someFindings))
	}
	for i, r := range results {
		if s, _ := object(t, r, "message")["text"].(string); !strings.HasPrefix(s, someFindings[i].Message) { // 3.27.11
			t.Errorf("message %q", s)
		}
		level(t, r["level"])
		at := r["ruleIndex"].(float64) // 3.27.6: -1 where the rule is not in the list
		if at >= 0 && rules[int(at)]["id"] != r["ruleId"] || at < -1 {
			t.Errorf("ruleIndex %v of %v", at, r["ruleId"])
		}
		for _, key := range []string{"locations", "relatedLocations"} {
			if r[key] == nil {
				continue
			}
			for _, l := range list(t, r, key) {
				location(t, l)
			}
		}
	}
	if s := list(t, results[1], "suppressions")[0]; s["kind"] != "inSource" || s["justification"] != "so" { // 3.35.2, 3.35.4
		t.Errorf("suppression %v", s)
	}
	if results[0]["suppressions"] != nil || results[2]["locations"] != nil {
		t.Error("a suppression or a location that nothing gives")
	}
	if n := len(list(t, results[0], "relatedLocations")); n != 1 {
		t.Errorf("%d related places, want the one that is known", n)
	}
	uri := object(t, object(t, list(t, results[0], "locations")[0], "physicalLocation"), "artifactLocation")["uri"]
	if uri != "parts/my%20part.yaml" { // 3.4.3: a valid URI reference
		t.Errorf("uri %v", uri)
	}
}

// level checks 3.27.10.
func level(t *testing.T, v any) {
	t.Helper()
	switch v {
	case "none", "note", "warning", "error":
	default:
		t.Errorf("level %v", v)
	}
}

// location checks 3.28 to 3.30: lines and columns count from 1, ends do not stand
// before starts.
func location(t *testing.T, l map[string]any) {
	t.Helper()
	place := object(t, l, "physicalLocation")
	if uri, _ := object(t, place, "artifactLocation")["uri"].(string); uri == "" {
		t.Errorf("location %v without a file", l)
	}
	if place["region"] == nil {
		return
	}
	region := object(t, place, "region")
	number := func(key string) float64 {
		n, given := region[key].(float64)
		if !given || n < 1 || n != float64(int(n)) {
			t.Errorf("%s of %v", key, region)
		}
		return n
	}
	line, column, endLine, endColumn := number("startLine"), number("startColumn"), number("endLine"), number("endColumn")
	if endLine < line || endLine == line && endColumn < column {
		t.Errorf("region %v ends before it starts", region)
	}
}

func object(t *testing.T, in map[string]any, key string) map[string]any {
	t.Helper()
	m, ok := in[key].(map[string]any)
	if !ok {
		t.Fatalf("%q is missing or no object in %v", key, in)
	}
	return m
}

func list(t *testing.T, in map[string]any, key string) []map[string]any {
	t.Helper()
	l, ok := in[key].([]any)
	if !ok {
		t.Fatalf("%q is missing or no list in %v", key, in)
	}
	var out []map[string]any
	for _, item := range l {
		out = append(out, item.(map[string]any))
	}
	return out
}

func TestFindingsJSON(t *testing.T) {
	b, err := FindingsJSON(someFindings)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Errors, Warnings, Advice, Notes, Waived int
		Findings                                []struct{ Rule, Severity string }
	}
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	if got.Errors != 1 || got.Warnings != 0 || got.Advice != 1 || got.Notes != 1 || got.Waived != 1 || len(got.Findings) != 4 || got.Findings[0].Severity != "error" {
		t.Errorf("got %+v", got)
	}
	if none, _ := FindingsJSON(nil); !bytes.Contains(none, []byte(`"findings": []`)) {
		t.Errorf("no findings are written as %s", none)
	}
}

// What cannot be worked out does not keep the lists from being written.
func TestListsOfABrokenPlan(t *testing.T) {
	p, _ := trial.Read(t, bench.With(trial.Files{
		"parts/all.yaml": "post: {title: P, made: cut, stock: bar, length: nothing}\ncap: {standard: ISO 4762 M99x25}\nmotor: {title: M, made: bought, mass: 3 mm}\n",
	}))
	w := check.Out(p)
	for _, s := range w.Combinations() {
		PartsCSV(s)
		ShoppingCSV(s, "EUR")
		CuttingCSV(s)
		ToolsCSV(s)
	}
	if _, err := PlanJSON(w, nil); err != nil {
		t.Error(err)
	}
}
