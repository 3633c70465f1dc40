package data

import (
	"math"

	"plansheaf/design/calc"
	"plansheaf/design/chain"
	"plansheaf/design/check"
	"plansheaf/design/quantity"
)

type calcFile struct {
	ID       string        `json:"id" about:"name in the plan"`
	From     string        `json:"from,omitempty" about:"the ready calculation, or another of the plan, that it is made from"`
	Givens   []resultFile  `json:"givens" about:"what goes in"`
	Results  []resultFile  `json:"results" about:"what it finds"`
	Requires []requireFile `json:"requires" about:"what must hold"`
	Limits   []requireFile `json:"limits" about:"within what the method is valid"`
	Records  []recordFile  `json:"records" about:"what was recorded of results"`
	Chain    *chainFile    `json:"chain,omitempty" about:"the tolerance chain, if it is one"`
}

type resultFile struct {
	valueFile
	Likely  *likelyFile  `json:"likely,omitempty" about:"limits of the statistical spread, three standard deviations"`
	Drivers []driverFile `json:"drivers" about:"inputs with a spread, the one that does most first"`
}

type likelyFile struct {
	Low  float64 `json:"low" about:"lower limit, in the base units of the SI"`
	High float64 `json:"high" about:"upper limit, in the base units of the SI"`
	By   string  `json:"by" about:"first order, or sampled where that and random draws disagree"`
}

type driverFile struct {
	Name  string  `json:"name" about:"in the plan"`
	Share float64 `json:"share" about:"of the statistical variance, 0 to 1"`
}

type requireFile struct {
	That      string   `json:"that" about:"the formula"`
	Known     bool     `json:"known" about:"false: it could not be worked out"`
	Holds     bool     `json:"holds" about:"whether it does"`
	Margin    *float64 `json:"margin,omitempty" about:"how far it holds, as a share of the limit; negative where it fails"`
	Certainty *float64 `json:"certainty,omitempty" about:"how sure it is that it holds, 0 to 1"`
	By        string   `json:"by,omitempty" about:"how the certainty was found: worst case, first order or sampled"`
}

type recordFile struct {
	Name  string    `json:"name" about:"of the result"`
	Was   valueFile `json:"was" about:"as recorded, with its tolerance"`
	Holds bool      `json:"holds" about:"the result is still within"`
}

type chainFile struct {
	MM           gapFile           `json:"gap_mm" about:"what the chain leaves"`
	Contributors []contributorFile `json:"contributors" about:"what does most to the worst case first"`
}

type gapFile struct {
	Nominal float64 `json:"nominal" about:"with every size as the plan has it"`
	Mean    float64 `json:"mean" about:"with every size in the middle of its tolerance"`
	Low     float64 `json:"low" about:"worst case"`
	High    float64 `json:"high" about:"worst case"`
	Spread  float64 `json:"spread" about:"statistical, to either side of the mean: three standard deviations"`
}

type contributorFile struct {
	Path     string  `json:"path" about:"of the part in the machine; empty for what the plan adds"`
	From     string  `json:"from" about:"feature"`
	To       string  `json:"to,omitempty" about:"feature"`
	Size     float64 `json:"size_mm" about:"as the plan has it"`
	Lower    float64 `json:"lower_mm" about:"lower deviation"`
	Upper    float64 `json:"upper_mm" about:"upper deviation"`
	Says     string  `json:"says" about:"where the tolerance comes from"`
	Sense    float64 `json:"sense" about:"by how much the gap grows when the size does"`
	Worst    float64 `json:"of_worst_case" about:"share, 0 to 1"`
	Variance float64 `json:"of_variance" about:"share, 0 to 1"`
}

func calcOf(s *check.Situation, report *calc.Report, system quantity.System) calcFile {
	out := calcFile{
		ID: report.Calc.ID.Text, From: report.Calc.From.Text,
		Givens: resultsOf(report.Givens, system), Results: resultsOf(report.Finds, system),
		Requires: requiresOf(report.Requires), Limits: requiresOf(report.Limits), Records: []recordFile{},
	}
	for _, r := range report.Records {
		if r.Known {
			out.Records = append(out.Records, recordFile{Name: r.Name, Was: valueOf(r.Name, r.Was, system), Holds: r.Holds})
		}
	}
	for _, c := range s.Chains {
		if c.Calc == report.Calc && c.Known {
			out.Chain = chainOf(c)
		}
	}
	return out
}

func resultsOf(results []calc.Result, system quantity.System) []resultFile {
	out := []resultFile{}
	for _, r := range results {
		if !r.Known {
			continue
		}
		one := resultFile{valueFile: valueOf(r.Name, r.Value, system), Drivers: []driverFile{}}
		likely, by := r.Statistical, calc.ByFirstOrder
		if r.Sampled != nil {
			likely, by = r.Sampled.Value, calc.BySampling
		}
		if likely.HasSpread() {
			one.Likely = &likelyFile{Low: likely.Low(), High: likely.High(), By: string(by)}
		}
		for _, d := range r.Drivers {
			one.Drivers = append(one.Drivers, driverFile{Name: d.Name, Share: d.Share})
		}
		out = append(out, one)
	}
	return out
}

func requiresOf(outcomes []calc.Outcome) []requireFile {
	out := []requireFile{}
	known := func(share float64) *float64 {
		if math.IsNaN(share) || math.IsInf(share, 0) {
			return nil
		}
		return &share
	}
	for _, q := range outcomes {
		out = append(out, requireFile{
			That: q.Source, Known: q.Known, Holds: q.Holds, Margin: known(q.Margin), Certainty: known(q.Certainty), By: string(q.By),
		})
	}
	return out
}

func chainOf(c *chain.Report) *chainFile {
	out := &chainFile{
		MM:           gapFile{Nominal: c.Gap.Nominal, Mean: c.Gap.Mean, Low: c.Gap.Low, High: c.Gap.High, Spread: c.Gap.Spread},
		Contributors: []contributorFile{},
	}
	for _, k := range c.Contributors {
		out.Contributors = append(out.Contributors, contributorFile{
			Path: k.Path, From: k.From, To: k.To, Size: k.Size, Lower: k.Lower, Upper: k.Upper,
			Says: k.Says, Sense: k.Sense, Worst: k.Worst, Variance: k.Variance,
		})
	}
	return out
}
