package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/phrase"
)

// helpPage is the help of one page: what it is for, how its numbers are reached
// and where that stands in print.
type helpPage struct {
	page     phrase.Sentence // its title
	purpose  []phrase.Sentence
	formulas []phrase.Sentence // set apart, one a line
	means    []phrase.Sentence // what they mean
	sources  []phrase.Sentence
}

// helpOf returns the help of a page, by its title in the reader's language.
func helpOf(title string) (helpPage, bool) {
	for _, h := range helpPages {
		if say(h.page) == title {
			return h, true
		}
	}
	return helpPage{}, false
}

// showHelp shows the help of the page that is shown.
func (u *ui) showHelp() {
	if u.Covered() {
		return
	}
	title := tr(u.pages.kind().Title)
	h, ok := helpOf(title)
	if !ok {
		u.showKeys() // a page without help of its own
		return
	}
	u.Inform(with("Help: {{.Page}}", map[string]any{"Page": title}), u.helpText(h))
}

// helpText sets a page's help.
func (u *ui) helpText(h helpPage) fyne.CanvasObject {
	text := container.New(&kit.Tight{})
	part := func(heading string, list []phrase.Sentence) {
		if len(list) == 0 {
			return
		}
		title := kit.Prose()
		title.TextStyle.Bold = true
		title.SizeName = theme.SizeNameSubHeadingText
		title.SetText(heading)
		text.Add(title)
		for _, s := range list {
			text.Add(kit.Wrapped(say(s)))
		}
	}
	part(tr("What this page is for"), h.purpose)
	if len(h.formulas) > 0 {
		part(tr("How it is calculated"), []phrase.Sentence{{Text: "In words, with every angle in degrees:"}})
		text.Add(container.NewVBox(formulas(u.Frame, h.formulas)))
		for _, s := range h.means {
			text.Add(kit.Wrapped(say(s)))
		}
	} else {
		part(tr("How it is calculated"), h.means)
	}
	part(tr("Which way angles are counted"), []phrase.Sentence{{Text: signConvention}})
	part(tr("Sources"), h.sources)
	return text
}

// formulas are set on a ground of their own, with a bar at their left.
func formulas(u *kit.Frame, list []phrase.Sentence) fyne.CanvasObject {
	bar := canvas.NewRectangle(u.Look.FigureColor(figure.Commanded))
	bar.SetMinSize(fyne.NewSize(4, 0))
	lines := container.New(&kit.Tight{})
	for _, s := range list {
		l := kit.Wrapped(say(s)).(*widget.Label)
		l.TextStyle.Bold = true
		lines.Add(l)
	}
	ground := canvas.NewRectangle(u.Look.FigureColor(figure.Band))
	return container.New(layout.NewCustomPaddedLayout(4, 8, 8, 0), container.NewStack(ground, container.NewBorder(nil, nil, bar, nil, lines)))
}
