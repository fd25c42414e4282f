package app

import (
	"encoding/json"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
)

// No name, no head of a column, nothing chosen from a list and no line is cut short on
// any page of the smallest window, in any language, with every group of fields open.
func TestNothingIsCutShort(t *testing.T) {
	u := window(t)
	u.InTurn = true
	u.Window.Resize(fyne.NewSize(1024, 604))
	for _, code := range []string{"en", "de", "es"} {
		spokenIn(t, u, code)
		whole := dotted(t)
		for i, p := range u.pages.kinds {
			u.pages.show(i)
			openGroups(u.Root)
			for range 3 { // the driver for tests lays nothing out by itself
				u.Root.Refresh()
			}
			for _, o := range desktest.Shown(u.Root) {
				text, ok := o.(*canvas.Text)
				if !ok || text.Size().Width <= 0 { // of what is not on the page now
					continue
				}
				need, has := text.MinSize().Width, text.Size().Width
				if strings.HasSuffix(text.Text, "…") && !whole[text.Text] || need > has+0.5 {
					t.Errorf("%s, %s: %q needs %g and has %g", code, p.Name, text.Text, need, has)
				}
			}
		}
	}
}

// openGroups opens every group of rows that is closed, and those within.
func openGroups(o fyne.CanvasObject) {
	for again := true; again; {
		again = false
		for _, o := range desktest.Shown(o) {
			if b, ok := o.(*kit.KeyButton); ok && b.Icon == theme.MenuDropDownIcon() {
				b.OnTapped()
				again = true
			}
		}
	}
}

// dotted are the texts that end in an ellipsis of their own.
func dotted(t *testing.T) map[string]bool {
	list := map[string]bool{}
	for _, code := range []string{"de", "es"} {
		data, err := assets.Translations.ReadFile("translations/" + code + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var texts map[string]string
		if err := json.Unmarshal(data, &texts); err != nil {
			t.Fatal(err)
		}
		for english, other := range texts {
			list[english], list[other] = true, true
		}
	}
	return list
}
