package app

import (
	"bytes"
	"image/png"
	"net/url"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets/manual"
)

// manualWindow shows the manual in a window of its own, so that it can be read beside
// the job: the chapters at the left, the one chosen at the right.
type manualWindow struct {
	window   fyne.Window
	lang     string
	chapters []manual.Chapter
	names    *nameList
	text     *kit.Reader
	room     *fyne.Container
	shown    int
}

// showManual opens the manual, or brings it to the front.
func (u *ui) showManual() {
	if m := u.manual; m != nil && m.lang == voice().Code() {
		m.window.RequestFocus()
		return
	} else if m != nil {
		m.window.Close() // it is in another language
	}
	m := newManual(u.App, voice().Code())
	u.manual = m
	m.window.SetOnClosed(func() {
		if u.manual == m {
			u.manual = nil
		}
	})
	m.window.Show()
}

func newManual(a fyne.App, lang string) *manualWindow {
	m := &manualWindow{window: a.NewWindow(tr("Manual – Pinphase")), lang: lang, chapters: manual.Chapters(lang), room: container.NewStack()}
	m.names = newNameList(func() int { return len(m.chapters) }, func(i int) string { return m.chapters[i].Title }, m.key)
	m.names.OnSelected = func(i widget.ListItemID) { m.show(i) }
	split := container.NewHSplit(m.names, m.room)
	split.Offset = 0.3
	m.window.SetContent(split)
	m.window.Resize(fyne.NewSize(1080, 720))
	m.window.Canvas().SetOnTypedKey(m.key)
	m.names.pick(0)
	m.window.Canvas().Focus(m.text)
	return m
}

// key acts on a key that nothing else in the window wanted.
func (m *manualWindow) key(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		m.window.Close()
	case fyne.KeyLeft:
		m.names.pick(max(m.shown-1, 0))
	case fyne.KeyRight:
		m.names.pick(min(m.shown+1, len(m.chapters)-1))
	}
}

// show shows a chapter from its beginning.
func (m *manualWindow) show(i int) {
	m.shown = i
	content := container.NewVBox()
	for _, p := range m.chapters[i].Pieces() {
		if p.Picture == "" {
			text := widget.NewRichTextFromMarkdown(p.Text)
			text.Wrapping = fyne.TextWrapWord
			m.lead(text.Segments)
			content.Add(text)
			continue
		}
		data, err := manual.Picture(m.lang, p.Picture)
		if err != nil {
			panic("app: the manual has no picture " + p.Picture)
		}
		picture := canvas.NewImageFromResource(fyne.NewStaticResource(p.Picture, data))
		picture.FillMode = canvas.ImageFillContain
		picture.SetMinSize(fyne.NewSize(300, pictureHeight(data)))
		content.Add(picture)
		content.Add(kit.Wrapped(p.Caption))
	}
	before := m.text
	m.text = kit.NewReader(content, m.key)
	m.room.Objects = []fyne.CanvasObject{m.text}
	m.room.Refresh()
	if c := m.window.Canvas(); before != nil && c.Focused() == before {
		c.Focus(m.text) // what is no longer shown must not go on getting the keys
	}
}

// pictureHeight is that of a picture as wide as the text in a window of the usual size.
func pictureHeight(data []byte) float32 {
	const wide, most = 720, 640
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return most
	}
	return min(wide*float32(c.Height)/float32(c.Width), most)
}

// lead makes links between chapters lead to them, and words of the window bold: the
// program's fonts have no italics.
func (m *manualWindow) lead(list []widget.RichTextSegment) {
	for _, s := range list {
		switch s := s.(type) {
		case *widget.TextSegment:
			if style := &s.Style.TextStyle; style.Italic && s.Style.QuotingDepth == 0 {
				style.Italic, style.Bold = false, true
			}
		case *widget.HyperlinkSegment:
			to := s.URL
			s.OnTapped = func() { m.follow(to) }
		case *widget.ParagraphSegment:
			m.lead(s.Texts)
		case *widget.ListSegment:
			m.lead(s.Items)
		case *widget.TableSegment:
			for _, row := range s.Rows {
				for _, cell := range row {
					m.lead(cell)
				}
			}
		}
	}
}

// follow goes to the chapter that a link names.
func (m *manualWindow) follow(to *url.URL) {
	for i, c := range m.chapters {
		if to != nil && c.File == to.Path {
			m.names.pick(i)
		}
	}
}
