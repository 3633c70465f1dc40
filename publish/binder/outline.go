package binder

import (
	"fmt"
	"strings"
)

// An outlineItem is a bookmark in its place in the tree.
type outlineItem struct {
	bookmark
	parent, prev, next int // indexes; -1: none
	first, last        int
	children           int
}

// arrange puts bookmarks into a tree by their levels. A level that skips one
// counts as one below what stands above it.
func arrange(marks []bookmark) []outlineItem {
	items := make([]outlineItem, len(marks))
	var path []int // the open item of each level
	top := -1      // the latest item at the top
	for i, m := range marks {
		items[i] = outlineItem{bookmark: m, parent: -1, prev: -1, next: -1, first: -1, last: -1}
		level := min(max(0, m.level), len(path))
		path = path[:level]
		before := top
		if level > 0 {
			parent := path[level-1]
			items[i].parent = parent
			before = items[parent].last
			if items[parent].first < 0 {
				items[parent].first = i
			}
			items[parent].last = i
			items[parent].children++
		} else {
			top = i
		}
		if before >= 0 {
			items[i].prev, items[before].next = before, i
		}
		path = append(path, i)
	}
	return items
}

// A spot is where an anchor lies.
type spot struct {
	leaf int // counted from 0
	y    float64
}

// places finds the first place of each anchor.
func (b *book) spots() map[string]spot {
	found := map[string]spot{}
	for i, l := range b.leaves {
		for _, m := range l.marks {
			if a, ok := m.(anchorMark); ok {
				if _, known := found[a.name]; !known {
					found[a.name] = spot{i, a.y}
				}
			}
		}
	}
	return found
}

// outline appends the bookmarks, closed below the top level, and gives the
// root's number; 0 when there are none.
func (f *finisher) outline(b *book) (int, error) {
	places := b.spots()
	var marks []bookmark
	for _, m := range b.bookmarks {
		if _, known := places[m.anchor]; known {
			marks = append(marks, m)
		}
	}
	if len(marks) == 0 {
		return 0, nil
	}
	items := arrange(marks)
	root := len(f.offsets)
	number := func(i int) int { return root + 1 + i }
	top, end, first := 0, 0, -1
	for i, item := range items {
		if item.parent < 0 {
			if first < 0 {
				first = i
			}
			top, end = top+1, i
		}
	}
	f.object(fmt.Sprintf("<</Type /Outlines /First %d 0 R /Last %d 0 R /Count %d>>", number(first), number(end), top))
	for _, item := range items {
		body, err := f.outlineEntry(item, number, root, places[item.anchor], b)
		if err != nil {
			return 0, err
		}
		f.object(body)
	}
	return root, nil
}

func (f *finisher) outlineEntry(item outlineItem, number func(int) int, root int, at spot, b *book) (string, error) {
	target, err := f.pageObject(at.leaf)
	if err != nil {
		return "", err
	}
	var e strings.Builder
	fmt.Fprintf(&e, "<</Title %s", textString(item.title))
	ref := func(key string, i int) {
		if i >= 0 {
			fmt.Fprintf(&e, " /%s %d 0 R", key, number(i))
		}
	}
	if item.parent < 0 {
		fmt.Fprintf(&e, " /Parent %d 0 R", root)
	}
	ref("Parent", item.parent)
	ref("Prev", item.prev)
	ref("Next", item.next)
	ref("First", item.first)
	ref("Last", item.last)
	if item.children > 0 {
		// Negative: the item is closed and would show so many if opened.
		fmt.Fprintf(&e, " /Count %d", -item.children)
	}
	const above = 4.0 // mm, so that the place's top shows
	y := (b.leaves[at.leaf].height - max(0, at.y-above)) / mmPerPoint
	fmt.Fprintf(&e, " /Dest [%d 0 R /XYZ 0 %.2f null]>>", target, y)
	return e.String(), nil
}
