package app

import (
	"flag"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/assets/manual"
	"pinphase.org/pinphase/assets/manual/manualtest"
)

var regen = flag.Bool("regen", false, "paint the manual's pictures of the window again, into assets/manual; look at every change")

// trialOf is a trial by its English title.
func trialOf(t *testing.T, title string) trial {
	t.Helper()
	for _, one := range trials {
		if string(one.title) == title {
			return one
		}
	}
	t.Fatalf("there is nothing to try that is called %q", title)
	return trial{}
}

// manualPictures are the manual's pictures of the window, with what is done before.
var manualPictures = map[string]func(t *testing.T, u *ui){
	"window-cycle.png": func(_ *testing.T, u *ui) { u.SetAt(258) },
	"window-part.png": func(t *testing.T, u *ui) {
		u.try(trialOf(t, "Old and new crankshaft on photographs"))
	},
	"window-measuring.png": func(_ *testing.T, u *ui) { u.showPage("part") },
	"window-signals.png": func(t *testing.T, u *ui) {
		u.try(trialOf(t, "Recording by an oscilloscope (CSV)"))
	},
	"window-cause.png": func(t *testing.T, u *ui) {
		u.try(trialOf(t, "Recording by an oscilloscope (CSV)"))
		u.showPage("cause")
	},
}

// TestManualPictures: the pictures of the window in the manual are what the window looks
// like now, in each language.
func TestManualPictures(t *testing.T) {
	for _, lang := range manual.Languages {
		for name, work := range manualPictures {
			t.Run(lang+"/"+name, func(t *testing.T) {
				u := window(t)
				u.setTheme("light")
				spokenIn(t, u, lang)
				work(t, u)
				if said(u) != "" {
					t.Fatalf("the window says %q", said(u))
				}
				now := paintedPNG(t, u)
				path := filepath.Join("..", "assets", "manual", lang, "pictures", name)
				if *regen {
					if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
						t.Fatal(err)
					}
					if err := os.WriteFile(path, now, 0o644); err != nil {
						t.Fatal(err)
					}
					return
				}
				held, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				if n, err := manualtest.Differing(held, now); n > 40 || err != nil {
					t.Errorf("%s is older than the window: %d pixels differ; run make manual (%v)", path, n, err)
				}
			})
		}
	}
}

// paintedPNG is the whole window as the software painter has it.
func paintedPNG(t *testing.T, u *ui) []byte {
	t.Helper()
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetContent(u.Root)
	c.Resize(fyne.NewSize(1280, 790))
	u.Changed()
	c.Resize(fyne.NewSize(1280, 800)) // wrapped texts know their height once they know their width
	data, err := manualtest.Fewer(c.Capture())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The manual opens from the menu in a window of its own, shows every chapter in every
// language, and its links lead to the chapters that they name. Escape closes it.
func TestManualWindow(t *testing.T) {
	u := window(t)
	for _, lang := range manual.Languages {
		spokenIn(t, u, lang)
		menuItem(t, u, tr("Help"), tr("Manual")).Action()
		m := u.manual
		if m == nil || m.lang != lang || len(m.chapters) != len(manual.Chapters("en")) {
			t.Fatalf("%s: the manual is %+v", lang, m)
		}
		m.window.Resize(fyne.NewSize(980, 700))
		for i, c := range m.chapters {
			m.names.pick(i)
			text := richText(m.text)
			if !strings.Contains(text, c.Title) || len(text) < 1000 || strings.Contains(text, "(italic") {
				t.Errorf("%s/%s is shown as %.100q", lang, c.File, text)
			}
		}
		m.follow(&url.URL{Path: "06-measuring.md"})
		if got := m.chapters[m.shown].File; got != "06-measuring.md" {
			t.Errorf("%s: the link leads to %s", lang, got)
		}
		m.window.Canvas().Focus(m.text)
		m.key(&fyne.KeyEvent{Name: fyne.KeyRight})
		if m.window.Canvas().Focused() != m.text {
			t.Errorf("%s: after the key for the next chapter, its text does not get the keys", lang)
		}
		if got := m.chapters[m.shown].File; got != "07-teaching.md" {
			t.Errorf("%s: the key for the next chapter leads to %s", lang, got)
		}
		m.window.Canvas().Focus(m.names)
		m.key(&fyne.KeyEvent{Name: fyne.KeyLeft})
		if m.window.Canvas().Focused() != m.names {
			t.Errorf("%s: the list of chapters loses the keys to the text", lang)
		}
	}
	u.manual.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if u.manual != nil {
		t.Error("Escape does not close the manual")
	}
}

// Every link of the manual is one that its window follows.
func TestManualLinksAreFollowed(t *testing.T) {
	u := window(t)
	u.showManual()
	m := u.manual
	m.names.pick(2) // the chapter with a link in its text
	if got := m.chapters[m.shown].File; got != "03-photograph-to-claim.md" {
		t.Fatalf("the third chapter is %s", got)
	}
	tapLink(t, m.text)
	if got := m.chapters[m.shown].File; got != "06-measuring.md" {
		t.Errorf("the link leads to %s", got)
	}
	m.window.Close()
}

// Everything there is to try opens as a job without a file, shows its page and its
// recording or photograph, and leaves nothing behind.
func TestTrials(t *testing.T) {
	u := window(t)
	for _, one := range trials {
		u.try(one)
		if said(u) != "" {
			t.Fatalf("%s: the window says %q", one.title, said(u))
		}
		folder := u.Folder()
		if u.Session.Path != "" || u.Session.Dirty() || folder == "" || u.pages.kind().Name != one.page {
			t.Errorf("%s: job %q, changed %v, in %q, page %s", one.title, u.Session.Path, u.Session.Dirty(), folder, u.pages.kind().Name)
		}
		text := words(u.Root)
		switch {
		case one.job == "tern-before.toml" && !strings.Contains(text, "The crank sensor wheel is 2"):
			t.Errorf("%s: the page does not say that the wheel is 28° behind: %q", one.title, text)
		case one.job == "plover.toml" && !strings.Contains(text, "crank degrees ahead"):
			t.Errorf("%s: the page does not say that the camshaft is ahead: %q", one.title, text)
		case one.recording == "" && !strings.Contains(text, "mirrored"):
			t.Errorf("%s: the page does not say that the part is mirrored: %.300q", one.title, text)
		}
		u.openDemo()
		if _, err := os.Stat(folder); err == nil {
			t.Errorf("%s: what was unpacked is still there when the job is left", one.title)
		}
	}
	menuItem(t, u, "File", "Something to try", "First step of the course").Action()
	if got := u.pages.kind().Name; got != "course" {
		t.Errorf("the first step of the course is page %s", got)
	}
}

// richText is all text that a chapter's pieces hold, its lists and tables too.
func richText(in fyne.CanvasObject) string {
	var b strings.Builder
	for _, o := range shown(in) {
		if r, ok := o.(*widget.RichText); ok {
			segments(&b, r.Segments)
		}
	}
	return b.String()
}

func segments(b *strings.Builder, list []widget.RichTextSegment) {
	for _, s := range list {
		switch s := s.(type) {
		case *widget.ListSegment:
			segments(b, s.Items)
		case *widget.ParagraphSegment:
			segments(b, s.Texts)
		case *widget.TableSegment:
			for _, row := range s.Rows {
				for _, cell := range row {
					segments(b, cell)
				}
			}
		case *widget.TextSegment:
			if s.Style.TextStyle.Italic && s.Style.QuotingDepth == 0 {
				b.WriteString("(italic, for which there is no font)")
			}
			b.WriteString(s.Text)
		default:
			b.WriteString(s.Textual())
		}
	}
}

// tapLink presses the first link in what is shown.
func tapLink(t *testing.T, in fyne.CanvasObject) {
	t.Helper()
	for _, o := range shown(in) {
		if l, ok := o.(*widget.Hyperlink); ok {
			l.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
			return
		}
	}
	t.Fatal("no link is shown")
}
