package site

import (
	"html/template"
	"strings"

	"plansheaf/publish/page"
)

// only is a page.Only made ready for a page.
type only struct {
	Data  string // "drive=motor;tile=small|large", as the script reads it; empty: always
	Names string // "Geared motor and belt, Large tiles"
	Other bool   // does not hold under the default choices
	mark  string // says what it takes, in words
}

func (b *builder) only(o page.Only) only {
	if len(o) == 0 {
		return only{}
	}
	var data, titles []string
	for _, cond := range o {
		data = append(data, cond.Choice+"="+strings.Join(cond.Options, "|"))
		titles = append(titles, b.optionTitles(cond))
	}
	names := strings.Join(titles, ", ")
	return only{
		Data:  strings.Join(data, ";"),
		Names: names,
		Other: !o.Fits(b.standard),
		mark:  b.tongue.Say("Only with %s", names),
	}
}

// optionTitles names the options of a condition: "Hand crank or Geared motor".
func (b *builder) optionTitles(cond page.Condition) string {
	var titles []string
	for _, id := range cond.Options {
		title := id
		for _, option := range b.choices[cond.Choice].Options {
			if option.ID == id {
				title = option.Title
			}
		}
		titles = append(titles, title)
	}
	return strings.Join(titles, b.tongue.Say(" or "))
}

// Attr is the attribute that the script reads.
func (o only) Attr() template.HTMLAttr {
	if o.Data == "" {
		return ""
	}
	return template.HTMLAttr(` data-only="` + escape(o.Data) + `"`)
}

// Class is what to add to a class list.
func (o only) Class() string {
	if o.Other {
		return " other"
	}
	return ""
}

// Mark says, to readers without scripts, what it takes for this to hold.
func (o only) Mark() template.HTML {
	if !o.Other {
		return ""
	}
	return template.HTML(`<span class="no-script mark">` + escape(o.mark) + `</span> `)
}

// pickerView is one choice as a set of radio buttons.
type pickerView struct {
	ID      string
	Title   string
	Options []optionView
}

type optionView struct {
	ID, Title string
	Standard  bool
}

func (b *builder) pickers() []pickerView {
	var views []pickerView
	for _, choice := range b.doc.Choices {
		view := pickerView{ID: choice.ID, Title: choice.Title}
		for _, option := range choice.Options {
			view.Options = append(view.Options, optionView{option.ID, option.Title, option.ID == choice.Default})
		}
		views = append(views, view)
	}
	return views
}
