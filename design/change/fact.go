package change

import (
	"slices"
	"strings"
)

// A fact is one thing that a revision says of a thing, or that follows.
type fact struct {
	key     string // what it is, in the new plan's names
	called  string // the same in its own plan's names
	say     string // as shown
	mean    string // as compared
	source  string // as written, where that is another formula
	follows bool   // worked out, not written
}

// differences pairs the facts of two revisions by key. Of a key with several facts
// the equal ones are nothing; the rest are paired in order.
func differences(old, new []fact) []Field {
	before, after := byKey(old), byKey(new)
	var out []Field
	for _, key := range keysOf(old, new) {
		was, is := unmatched(before[key], after[key]), unmatched(after[key], before[key])
		for i := range max(len(was), len(is)) {
			var f Field
			switch {
			case i >= len(was):
				f = Field{What: is[i].called, New: is[i].say, Follows: is[i].follows}
			case i >= len(is):
				f = Field{What: was[i].called, Old: was[i].say, Follows: was[i].follows}
			default:
				f = Field{What: is[i].called, Old: was[i].say, New: is[i].say, Follows: is[i].follows && was[i].follows}
				if is[i].source != "" && is[i].source == was[i].source {
					f.Follows = true // the same formula comes to something else
				}
				if was[i].called != f.What {
					f.Was = was[i].called
				}
				if f.Old == f.New { // they differ by less than is usually printed
					if f.Follows {
						continue
					}
					if number(was[i].mean) && number(is[i].mean) {
						f.Old, f.New = was[i].mean, is[i].mean
					}
				}
			}
			out = append(out, f)
		}
	}
	return out
}

func byKey(list []fact) map[string][]fact {
	m := map[string][]fact{}
	for _, f := range list {
		m[f.key] = append(m[f.key], f)
	}
	return m
}

// keysOf are the keys of both lists, sorted, those of what follows last.
func keysOf(old, new []fact) []string {
	follows := map[string]bool{}
	var keys []string
	for _, f := range slices.Concat(old, new) {
		if _, seen := follows[f.key]; !seen {
			keys = append(keys, f.key)
		}
		follows[f.key] = f.follows
	}
	slices.SortFunc(keys, func(a, b string) int {
		switch {
		case follows[a] != follows[b] && follows[b]:
			return -1
		case follows[a] != follows[b]:
			return 1
		case a < b:
			return -1
		}
		return 1
	})
	return keys
}

// unmatched are the facts of a that b does not have, each counted.
func unmatched(a, b []fact) []fact {
	have := map[string]int{}
	for _, f := range b {
		have[f.mean]++
	}
	var out []fact
	for _, f := range a {
		if have[f.mean] > 0 {
			have[f.mean]--
			continue
		}
		out = append(out, f)
	}
	return out
}

// likeness is the share of equal facts among all facts of two things, 0 to 1; what
// follows does not count, and neither do the keys left out.
func likeness(a, b []fact, without ...string) float64 {
	have, all, both := map[string]int{}, 0, 0
	counts := func(f fact) bool { return !f.follows && !slices.Contains(without, f.key) }
	for _, f := range a {
		if counts(f) {
			have[f.key+"\x00"+f.mean]++
			all++
		}
	}
	for _, f := range b {
		if !counts(f) {
			continue
		}
		if k := f.key + "\x00" + f.mean; have[k] > 0 {
			have[k]--
			both++
		} else {
			all++
		}
	}
	if all == 0 {
		return 0
	}
	return float64(both) / float64(all)
}

// number reports whether a meaning is that of a value.
func number(mean string) bool {
	return mean != "" && strings.ContainsRune("-+0123456789", rune(mean[0]))
}
