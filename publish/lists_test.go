package publish_test

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"plansheaf/publish"
	"plansheaf/publish/release"
)

// table reads a list as a spreadsheet would: its rows by the names in the head.
func table(t *testing.T, p publication, name string) []map[string]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(p.files[name])).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	var list []map[string]string
	for _, row := range rows[1:] {
		one := map[string]string{}
		for i, head := range rows[0] {
			one[head] = row[i]
			if row[i] != "" && strings.ContainsAny(row[i][:1], "=+-@\t\r") {
				t.Errorf("%s: a spreadsheet would run the cell %q", name, row[i])
			}
		}
		list = append(list, one)
	}
	return list
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Errorf("%q is no number", text)
	}
	return v
}

// A planJSON is what the tests read of the worked-out plan.
type planJSON struct {
	Title, Revision string
	Cases           []struct {
		Options map[string]string
		MassKg  float64 `json:"mass_kg"`
		Cost    float64
		Parts   []struct {
			ID    string
			Count int
			Mass  float64 `json:"mass_kg"`
		}
		Instances []struct{ Path, Part, Assembly string }
		Joints    []struct {
			Path   string
			Places int
			Takes  []string
		}
		Steps     []struct{ ID string }
		Purchases []struct {
			ID, As                         string
			Need, Spare, Pack, Packs, Left int
			Price                          float64
			Priced                         bool
		}
		Orders   []struct{ Fill, Shipping float64 }
		CutPlans []struct {
			Stock string
			Bars  []struct{ Cuts []struct{ Part string } }
		} `json:"cut_plans"`
	}
	Hazards []struct{ ID string }
}

func readPlan(t *testing.T, p publication) planJSON {
	t.Helper()
	var plan planJSON
	if err := json.Unmarshal(p.files[publish.PlanPath], &plan); err != nil {
		t.Fatal(err)
	}
	return plan
}

// The lists, the data and the plan's own tally count the same things alike.
func TestCountsAgree(t *testing.T) {
	p := example(t)
	s := p.work.Default()
	data := readPlan(t, p)
	if len(data.Cases) != len(p.work.Combinations()) || len(data.Hazards) != len(p.work.Plan.Hazards) {
		t.Fatalf("%d cases, %d hazards in the data", len(data.Cases), len(data.Hazards))
	}
	first := data.Cases[0]
	inData := map[string]int{}
	for _, part := range first.Parts {
		inData[part.ID] = part.Count
	}
	rows := table(t, p, publish.PartsPath)
	if len(rows) != len(first.Parts) || len(rows) != len(s.Bill.Lines) {
		t.Errorf("%d rows in the list, %d parts in the data, %d lines in the bill", len(rows), len(first.Parts), len(s.Bill.Lines))
	}
	mass := 0.0
	for i, row := range rows {
		count := int(number(t, row["count"]))
		if row["part"] != s.Bill.Lines[i].Part.Part.ID.Text || count != s.Bill.Lines[i].Count || count != inData[row["part"]] {
			t.Errorf("part %s: %d in the list, %d in the bill, %d in the data", row["part"], count, s.Bill.Lines[i].Count, inData[row["part"]])
		}
		if row["mass each kg"] != "" {
			mass += float64(count) * number(t, row["mass each kg"])
		}
	}
	if off := mass/first.MassKg - 1; off > 1e-4 || off < -1e-4 {
		t.Errorf("the list's parts weigh %.4f kg together, the data say %.4f kg", mass, first.MassKg)
	}
	if len(first.Instances) != len(s.Reckoning.Tally().Instances) || len(first.Joints) != len(s.Reckoning.Tally().Joints) {
		t.Errorf("%d instances and %d joints in the data", len(first.Instances), len(first.Joints))
	}
}

// A part's count is that of its instances and, for fasteners, of the joints' places:
// counted here again from the data alone.
func TestCountsFollowFromInstancesAndJoints(t *testing.T) {
	for _, c := range readPlan(t, example(t)).Cases {
		counted := map[string]int{}
		for _, in := range c.Instances {
			if in.Part != "" {
				counted[in.Part]++
			}
		}
		fasteners := 0
		for _, j := range c.Joints {
			for _, part := range j.Takes {
				counted[part] += j.Places
				fasteners += j.Places
			}
		}
		for _, part := range c.Parts {
			if part.Count != counted[part.ID] && counted[part.ID] > 0 {
				t.Errorf("%v: %s counts %d, %d were counted", c.Options, part.ID, part.Count, counted[part.ID])
			}
			delete(counted, part.ID)
		}
		for part, n := range counted {
			t.Errorf("%v: %d of %s are placed and not listed", c.Options, n, part)
		}
		if fasteners < 100 || len(c.Steps) < 30 {
			t.Errorf("%v: %d fasteners, %d steps", c.Options, fasteners, len(c.Steps))
		}
	}
}

// The shopping list buys what is needed and adds up to the cost that is told.
func TestShoppingAddsUp(t *testing.T) {
	p := example(t)
	first := readPlan(t, p).Cases[0]
	rows := table(t, p, publish.ShoppingPath)
	beside := 0.0 // shipping and what fills orders up, in rows of their own
	for _, o := range first.Orders {
		beside += o.Fill + o.Shipping
	}
	if len(rows) < len(first.Purchases) || len(rows) == len(first.Purchases) && beside > 0 {
		t.Fatalf("%d rows, %d purchases in the data and %.2f beside them", len(rows), len(first.Purchases), beside)
	}
	total := 0.0
	for _, row := range rows[len(first.Purchases):] {
		beside -= number(t, row["price EUR"])
		total += number(t, row["price EUR"])
	}
	if beside > 0.005 || beside < -0.005 {
		t.Errorf("the list and the data differ by %.2f beside the purchases", beside)
	}
	for i, row := range rows[:len(first.Purchases)] {
		b := first.Purchases[i]
		item := b.ID
		if b.As != "" {
			item = b.As
		}
		for head, want := range map[string]int{"needed": b.Need, "spare": b.Spare, "pack": b.Pack, "packs": b.Packs, "left over": b.Left} {
			if got := int(number(t, row[head])); got != want || row["item"] != item {
				t.Errorf("%s: %s is %d in the list, %d in the data (%s)", row["item"], head, got, want, b.ID)
			}
		}
		if b.Pack*b.Packs < b.Need+b.Spare || b.Left != b.Pack*b.Packs-b.Need {
			t.Errorf("%s: %d packs of %d for %d and %d spare", b.ID, b.Packs, b.Pack, b.Need, b.Spare)
		}
		if price := row["price EUR"]; price != "" {
			total += number(t, price)
		}
	}
	if off := total - first.Cost; off > 0.005 || off < -0.005 {
		t.Errorf("the list adds up to %.2f, the data say %.2f", total, first.Cost)
	}
}

// Every piece of the cut list is cut in the cut plans, and no other.
func TestCutListAndCutPlansAgree(t *testing.T) {
	p := example(t)
	counted := map[string]int{}
	for _, c := range readPlan(t, p).Cases[0].CutPlans {
		for _, bar := range c.Bars {
			for _, cut := range bar.Cuts {
				counted[c.Stock+" "+cut.Part]++
			}
		}
	}
	for _, row := range table(t, p, publish.CuttingPath) {
		key := row["stock"] + " " + row["part"]
		if n := int(number(t, row["count"])); n != counted[key] {
			t.Errorf("%s: %d in the list, %d in the plans", key, n, counted[key])
		}
		delete(counted, key)
	}
	for key, n := range counted {
		t.Errorf("%s: %d cut and not listed", key, n)
	}
	if rows := table(t, p, publish.ToolsPath); len(rows) < 20 {
		t.Errorf("only %d tools", len(rows))
	}
}

// The findings as JSON and as SARIF are those that were found.
func TestFindingsAreListed(t *testing.T) {
	p := example(t)
	var list struct {
		Errors, Waived int
		Findings       []struct{ Rule string }
	}
	var sarif struct {
		Version string
		Runs    []struct {
			Tool struct {
				Driver struct{ Rules []struct{ ID string } }
			}
			Results []struct {
				RuleID    string
				RuleIndex int
				Locations []struct {
					PhysicalLocation struct{ ArtifactLocation struct{ URI string } }
				}
				Suppressions []struct{ Justification string }
			}
		}
	}
	if err := json.Unmarshal(p.files[publish.FindingsPath], &list); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(p.files[publish.SARIFPath], &sarif); err != nil {
		t.Fatal(err)
	}
	if len(list.Findings) != len(p.found) || list.Errors != 0 || list.Waived != len(p.found) {
		t.Errorf("%d findings, %d errors, %d waived; found %d", len(list.Findings), list.Errors, list.Waived, len(p.found))
	}
	if sarif.Version != "2.1.0" || len(sarif.Runs) != 1 || len(sarif.Runs[0].Results) != len(p.found) {
		t.Fatalf("SARIF %s with %d runs", sarif.Version, len(sarif.Runs))
	}
	rules := sarif.Runs[0].Tool.Driver.Rules
	for i, r := range sarif.Runs[0].Results {
		if r.RuleID != p.found[i].Rule || r.RuleIndex < 0 || rules[r.RuleIndex].ID != r.RuleID {
			t.Errorf("result %d is of rule %q at %d, want %q", i, r.RuleID, r.RuleIndex, p.found[i].Rule)
		}
		if len(r.Locations) != 1 || r.Locations[0].PhysicalLocation.ArtifactLocation.URI != p.found[i].At.File {
			t.Errorf("result %d stands at %v, want %s", i, r.Locations, p.found[i].At.File)
		}
		if len(r.Suppressions) != 1 || r.Suppressions[0].Justification == "" {
			t.Errorf("result %d does not say why it is waived", i)
		}
	}
}

// The list of sums names every file of the folder once, with the sum that is worked
// out here again.
func TestSumsAreThoseOfTheFiles(t *testing.T) {
	p := example(t)
	data, err := os.ReadFile(filepath.Join(p.folder, release.ListName))
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]string{}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for lines.Scan() {
		sum, name, found := strings.Cut(lines.Text(), "  ")
		if !found || listed[name] != "" {
			t.Errorf("line %q", lines.Text())
		}
		listed[name] = sum
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	err = filepath.WalkDir(p.folder, func(file string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		rel, err := filepath.Rel(p.folder, file)
		if err != nil || rel == release.ListName {
			return err
		}
		data, err := os.ReadFile(file)
		sum := sha256.Sum256(data)
		if name := filepath.ToSlash(rel); listed[name] != hex.EncodeToString(sum[:]) {
			t.Errorf("%s has another sum than is listed", name)
		} else {
			delete(listed, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for name := range listed {
		t.Errorf("%s is listed and not there", name)
	}
}
