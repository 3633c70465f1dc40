package check

import (
	"fmt"
	"strings"

	"plansheaf/design/calc"
	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// CalcOffRecord finds results that no longer are what was recorded of them, with the
// inputs that have changed since and all that relies on the result. A record holds at the
// defaults, so other cases are not looked at.
var CalcOffRecord = Rule{
	Rule: finding.Rule{
		Name: "calc-off-record", Severity: finding.Error,
		Reason: "Text, drawings and followers rely on the recorded value, and the design no longer gives it.",
		Remedy: "look at what the change means for all that relies on it, then record the new value: plansheaf record",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		system := System(w.Plan)
		for _, c := range w.Default().Calcs {
			for _, rec := range c.Records {
				if !rec.Known || rec.Holds {
					continue
				}
				name := c.Calc.ID.Text + "." + rec.Name
				message := fmt.Sprintf("%s is now %s, recorded was %s", name, quantity.Text(rec.Is.Nominal(), system), quantity.Text(rec.Was, system))
				message += changesSince(rec, system)
				relying := w.relying(name)
				if len(relying) > 0 {
					message += "; relied on by " + listed(relying, mostRelying)
				}
				report(finding.Finding{At: rec.Said.Is.At, Subject: c.Calc.ID.Text, Message: message, Also: alsoRelying(rec, relying)})
			}
		}
	},
}

const (
	// mostRelying is how many things that rely on a result a message names.
	mostRelying = 12
	// mostChanges is how many changed inputs it names.
	mostChanges = 8
)

// changesSince says which inputs are not what they were when a record was made.
func changesSince(rec calc.Record, system quantity.System) string {
	if !rec.Kept() {
		return "; the record does not keep what it was made from"
	}
	if len(rec.Changes) == 0 {
		return "; its inputs are the same, so the formula or a table has changed"
	}
	var says []string
	for _, c := range rec.Changes {
		was, is := quantity.Text(c.Was.Nominal(), system), quantity.Text(c.Is.Nominal(), system)
		switch {
		case c.New:
			says = append(says, fmt.Sprintf("%s is new, %s", c.Name, is))
		case c.Gone:
			says = append(says, fmt.Sprintf("%s is gone, it was %s", c.Name, was))
		default:
			says = append(says, fmt.Sprintf("%s was %s and is %s", c.Name, was, is))
		}
	}
	if left := len(says) - mostChanges; left > 0 {
		says = append(says[:mostChanges], fmt.Sprintf("and %d more", left))
	}
	return "; since then " + strings.Join(says, ", ")
}

// listed joins the names of things, no more than so many.
func listed(list []relier, most int) string {
	var names []string
	for i, one := range list {
		if i == most {
			return strings.Join(names, ", ") + fmt.Sprintf(" and %d more", len(list)-most)
		}
		names = append(names, one.name)
	}
	return strings.Join(names, ", ")
}

// alsoRelying are the places of the changed inputs and of what relies on a result.
func alsoRelying(rec calc.Record, relying []relier) []finding.Related {
	var also []finding.Related
	for _, c := range rec.Changes {
		if c.Said.Name.Given() && len(also) < mostChanges {
			also = append(also, finding.Related{At: c.Said.Name.At, Say: c.Name + " as it was then"})
		}
	}
	for i, one := range relying {
		if i < mostRelying && one.at.Known() {
			also = append(also, finding.Related{At: one.at, Say: "relied on here: " + one.name})
		}
	}
	return also
}
