package ready

import (
	"embed"
	"fmt"
	"path"
	"sort"
	"sync"
)

//go:embed calcs/*.yaml
var embedded embed.FS

// library is what the embedded files hold, read once.
var library = sync.OnceValues(read)

func read() (map[string]*Calc, error) {
	all := map[string]*Calc{}
	files, err := embedded.ReadDir("calcs")
	if err != nil {
		return all, fmt.Errorf("list ready calculations: %w", err)
	}
	for _, file := range files {
		name := path.Join("calcs", file.Name())
		text, err := embedded.ReadFile(name)
		if err != nil {
			return all, fmt.Errorf("read %s: %w", name, err)
		}
		calcs, err := parse(name, text)
		if err != nil {
			return all, err
		}
		for _, c := range calcs {
			if all[c.Name] != nil {
				return all, fmt.Errorf("%s: a calculation named %q stands in another file, too", name, c.Name)
			}
			all[c.Name] = c
		}
	}
	return all, nil
}

// Named returns the ready calculation that a plan calls by this name.
func Named(name string) (*Calc, bool) {
	all, _ := library()
	c, found := all[name]
	return c, found
}

// All returns every ready calculation, by name.
func All() []*Calc {
	all, _ := library()
	list := make([]*Calc, 0, len(all))
	for _, c := range all {
		list = append(list, c)
	}
	sort.Slice(list, func(i, j int) bool { return list[i].Name < list[j].Name })
	return list
}
