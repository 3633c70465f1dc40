package site

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"plansheaf/publish/page"
)

// halfwayView is what halfway.gohtml shows.
type halfwayView struct {
	ID, Own, Revision string
	Lang              template.HTMLAttr
	About             template.HTML
	Groups            []reachedGroup // an assembly's steps as far as they follow each other
	Alone             bool           // some step has a state of its own for that
	Chapters          []chapterView
}

type reachedGroup struct {
	Title   string
	Reached []reachedView
}

type reachedView struct {
	ID, Title, Anchor string
	State, Alone      int
	Only              only
}

type chapterView struct {
	About, At, Mark string
	Script          bool // nothing in it is for readers without scripts
	Title           template.HTML
	Lists           []doingsView
}

type doingsView struct {
	Label template.HTML
	Items []doingView
}

type doingView struct {
	Words    template.HTML
	At, Mark string // empty where they are the chapter's
	Script   bool
	Only     only
}

// stateAnchor is the anchor of a state of the work, to which an address may lead.
func stateAnchor(h page.Halfway, r page.Reached) string { return h.ID + "-" + r.ID }

func (w *pageWriter) halfway(h page.Halfway) (template.HTML, error) {
	view := halfwayView{ID: h.ID, Own: ownMark, Revision: h.Revision, About: w.words(h.About)}
	if !w.spoken {
		view.Lang = template.HTMLAttr(fmt.Sprintf(` lang="%s"`, w.tongue.Language()))
	}
	for _, c := range h.Chapters {
		view.Chapters = append(view.Chapters, w.chapter(c, len(h.Reached)))
	}
	for _, r := range h.Reached {
		if n := len(view.Groups); n == 0 || view.Groups[n-1].Title != r.Group {
			view.Groups = append(view.Groups, reachedGroup{Title: r.Group})
		}
		one := reachedView{ID: r.ID, Title: r.Title, Anchor: stateAnchor(h, r), State: r.State, Alone: r.Alone, Only: w.only(r.Only)}
		view.Alone = view.Alone || r.Alone > 0
		group := &view.Groups[len(view.Groups)-1]
		group.Reached = append(group.Reached, one)
	}
	w.level = 3
	return w.run("halfway", view)
}

// chapter is a chapter whose entries say when they hold only where not all of it does.
func (w *pageWriter) chapter(c page.Chapter, last int) chapterView {
	view := chapterView{About: string(c.About), At: spansText(c.At), Mark: w.spansMark(c.At, last), Title: w.words(c.Title)}
	if view.Script = view.Mark == "" || c.About == page.TakenAsDone; view.Script {
		last = 0 // the list of steps tells what is done
	}
	for _, list := range c.Lists {
		one := doingsView{Label: w.words(list.Label)}
		for _, d := range list.Items {
			item := doingView{Words: w.words(d.Words), Only: w.only(d.Only)}
			if !slices.Equal(d.At, c.At) {
				item.At, item.Mark = spansText(d.At), w.spansMark(d.At, last)
				item.Script = item.Mark == ""
			}
			if item.Mark == view.Mark {
				item.Mark = ""
			}
			one.Items = append(one.Items, item)
		}
		view.Lists = append(view.Lists, one)
	}
	return view
}

// spansText is states as the script reads them: "3-7 12".
func spansText(s page.Spans) string {
	list := make([]string, len(s))
	for i, one := range s {
		list[i] = fmt.Sprint(one.From)
		if one.To > one.From {
			list[i] += fmt.Sprint("-", one.To)
		}
	}
	return strings.Join(list, " ")
}

// spansMark says to readers without scripts for which last steps something holds; those
// that only scripts offer stand behind the last one, and "" is for them alone.
func (w *pageWriter) spansMark(s page.Spans, last int) string {
	var list []string
	for _, one := range s {
		switch to := min(one.To, last); {
		case one.From > last:
		case one.From == 1 && to == last:
			return w.tongue.Say("whatever is done")
		case to == last && one.From < last:
			list = append(list, w.tongue.Say("from %d on|a number of the last step done", one.From))
		case to > one.From:
			list = append(list, w.tongue.Say("%d to %d|numbers of the last step done", one.From, to))
		default:
			list = append(list, fmt.Sprint(one.From))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return w.tongue.Say("last step done: %s", strings.Join(list, ", "))
}
