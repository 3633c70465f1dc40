package sequence

import (
	"strconv"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

const (
	// MostNested bounds how deep assemblies may hold each other; reading reports an
	// assembly that holds itself.
	MostNested = 100
	// mostNumbered bounds how many instances of a repeated sub-assembly are told
	// apart where a path goes into all of them; of more the whole is meant.
	mostNumbered = 200
)

// JointOf is the joint that a word stands for in an assembly's file: plainly, or
// after the assembly that owns it; nil for one that is not there.
func JointOf(p *plan.Plan, a *plan.Assembly, w plan.Word) (owner *plan.Assembly, j *plan.Joint) {
	if name, rest, dotted := strings.Cut(w.Text, "."); dotted {
		if a = p.Assembly(name); a == nil {
			return nil, nil
		}
		return a, a.Joint(rest)
	}
	return a, a.Joint(w.Text)
}

// Features are all features that a joint names.
func Features(j *plan.Joint) []plan.Word {
	var words []plan.Word
	for _, layer := range j.Through {
		words = append(words, layer.Features...)
	}
	words = append(append(words, j.Mine.Features...), j.Theirs.Features...)
	for _, place := range j.Also {
		words = append(words, place...)
	}
	return words
}

// Instances are the paths of uses that a word of an assembly stands for, and the
// first use on the way that the case leaves out. A repeated use without a number is
// one path that stands for all of it, so that a large count costs nothing.
func Instances(r *reckon.Reckoning, a *plan.Assembly, w plan.Word) (paths []string, absent *plan.Use) {
	return instancesOf(r, a, w.Path(), "", 0)
}

func instancesOf(r *reckon.Reckoning, a *plan.Assembly, path []string, prefix string, depth int) (paths []string, absent *plan.Use) {
	u := a.Use(path[0])
	if u == nil || depth > MostNested {
		return nil, nil
	}
	if !u.Only.Fits(r.Case.Options) {
		return nil, u
	}
	if len(path) == 1 {
		return []string{prefix + u.ID.Text}, nil
	}
	names, rest := Numbered(r, u, path[1:])
	id, isAssembly := u.Assembly.Pick(r.Case.Options)
	sub := r.Plan.Assembly(id.Text)
	if len(names) > mostNumbered {
		return []string{prefix + u.ID.Text}, nil
	}
	for _, name := range names {
		if len(rest) == 0 || !isAssembly || sub == nil {
			paths = append(paths, prefix+name)
			continue
		}
		inner, gone := instancesOf(r, sub, rest, prefix+name+".", depth+1)
		if gone != nil {
			absent = gone
		}
		paths = append(paths, inner...)
	}
	return paths, absent
}

// Numbered are the instances of a use, "feet.1", and what is left of a path that
// may begin with a number.
func Numbered(r *reckon.Reckoning, u *plan.Use, rest []string) (names, left []string) {
	if !u.Count.Given() {
		return []string{u.ID.Text}, rest
	}
	if len(rest) > 0 {
		if _, err := strconv.Atoi(rest[0]); err == nil {
			return []string{u.ID.Text + "." + rest[0]}, rest[1:]
		}
	}
	n, _ := r.Whole(u.Count)
	for i := 1; i <= n; i++ {
		names = append(names, u.ID.Text+"."+strconv.Itoa(i))
	}
	return names, rest
}

// Around calls visit with a path and then with all that it lies inside of, from the
// nearest outward; visit stops it by returning false. A repeated use stands around
// its numbers: "feet" around "feet.2".
func Around(path string, visit func(outer string) bool) {
	for visit(path) {
		end := strings.LastIndexByte(path, '.')
		if end <= 0 {
			return
		}
		path = path[:end]
	}
}
