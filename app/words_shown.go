package app

import (
	"io/fs"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/lesson/glossary"
	"pinphase.org/pinphase/widgets"
)

// book is the words of the trade in the window's language.
func (u *ui) book() glossary.Book {
	if code := voice().Code(); u.wordsOf != code {
		u.wordsOf, u.words = code, readBook()
	}
	return u.words
}

func readBook() glossary.Book {
	folder, err := fs.Sub(assets.Words, "words")
	if err != nil {
		return nil
	}
	b, err := glossary.Read(folder, voice().Code())
	if err != nil {
		fyne.LogError("the words could not be read", err) // a test holds them to be readable
	}
	return b
}

// pointed is a view that says which of its texts the pointer rests on.
type pointed interface {
	fyne.CanvasObject
	SetPointed(func(text string, at fyne.Position, size fyne.Size))
	Words() []string
}

// figured is a page with figures that are not in it all the time.
type figured interface{ ComeAndGo() []fyne.CanvasObject }

// explain makes the figures below an object explain their words when pointed at.
func (u *ui) explain(o fyne.CanvasObject) {
	walk(o, true, func(o fyne.CanvasObject) {
		v, ok := o.(pointed)
		if !ok {
			return
		}
		v.SetPointed(func(text string, at fyne.Position, size fyne.Size) {
			says := ""
			if w, ok := u.book().Best(text); ok {
				says = w.Term + ": " + w.Text
			}
			u.Tips.Explain(v, at, size, says)
		})
	})
}

// walk calls for each object below one, of those that are laid out by the toolkit's own
// containers; hidden ones too, if wanted.
func walk(o fyne.CanvasObject, hidden bool, call func(fyne.CanvasObject)) {
	if o == nil || !hidden && !o.Visible() {
		return
	}
	call(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			walk(c, hidden, call)
		}
	case *container.Scroll:
		walk(o.Content, hidden, call)
	case *container.AppTabs:
		for _, item := range o.Items {
			if hidden || item == o.Selected() {
				walk(item.Content, hidden, call)
			}
		}
	case *container.Split:
		walk(o.Leading, hidden, call)
		walk(o.Trailing, hidden, call)
	case *kit.Once:
		walk(o.Content, hidden, call)
	}
}

// textsOn are the texts that can be read below an object.
func textsOn(o fyne.CanvasObject) string {
	var list []string
	walk(o, false, func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *widget.Label:
			list = append(list, o.Text)
		case *kit.LineLabel:
			list = append(list, o.Text)
		case *widget.Button:
			list = append(list, o.Text)
		case *kit.KeyButton:
			list = append(list, o.Text)
		case *kit.DialogButton:
			list = append(list, o.Text)
		case *kit.Check:
			list = append(list, o.Text)
		case *kit.Select:
			list = append(list, append(o.Options, o.Selected)...)
		case pointed:
			list = append(list, o.Words()...)
		case *widgets.Field:
			list = append(list, o.Text())
		}
	})
	return strings.Join(list, "\n")
}

// showWords explains the words that can be read on the page, and below them all others.
func (u *ui) showWords() {
	if u.Covered() {
		return
	}
	all := u.book()
	here := all.In(textsOn(u.Root))
	is := map[string]bool{}
	for _, w := range here {
		is[w.ID] = true
	}
	text := container.New(&kit.Tight{})
	part := func(heading string, list glossary.Book) {
		if len(list) == 0 {
			return
		}
		text.Add(kit.Heading(heading))
		for _, w := range list {
			l := widget.NewRichText(
				&widget.TextSegment{Text: w.Term + "  ", Style: widget.RichTextStyle{Inline: true, TextStyle: fyne.TextStyle{Bold: true}}},
				&widget.TextSegment{Text: w.Text, Style: widget.RichTextStyleInline})
			l.Wrapping = fyne.TextWrapWord
			text.Add(l)
		}
	}
	var rest glossary.Book
	for _, w := range all {
		if !is[w.ID] {
			rest = append(rest, w)
		}
	}
	part(with("On this page: {{.Page}}", map[string]any{"Page": tr(u.pages.kind().Title)}), here)
	part(tr("Other words"), rest)
	u.Inform(tr("Words"), text)
}
