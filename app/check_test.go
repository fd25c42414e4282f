package app

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
)

// A click on the middle of a box to be ticked ticks it, on every page and in every
// dialog that has one.
func TestBoxesAreTickedByTheirMiddle(t *testing.T) {
	u := window(t)
	pages := func(u *ui) (list []func()) {
		for i := range u.pages.kinds {
			list = append(list, func() { u.pages.show(i) })
		}
		return list
	}(u)
	places := append(pages,
		func() { u.OpenPage("part", ""); onPage(t, u, "True TDC and marks") },
		func() { u.OpenPage("practice", ""); onPage(t, u, "What is asked") },
		u.saveJobSheet, u.saveClaim, u.printScale, u.saveFigure, u.showSettings, u.openLibrary)
	seen := map[string]bool{}
	for _, show := range places {
		show()
		root := u.Root
		if top := u.Window.Canvas().Overlays().Top(); top != nil {
			root = top
		}
		for _, o := range shown(root) {
			switch o := o.(type) {
			case *widget.Check, *widget.RadioGroup, *widget.Hyperlink:
				t.Errorf("%T fills its row and can be clicked on its words only", o)
			case *kit.Check:
				if o.Disabled() {
					continue
				}
				seen[o.Text] = true
				middle := &fyne.PointEvent{Position: fyne.NewPos(o.Size().Width/2, o.Size().Height/2)}
				was := o.Checked
				for _, want := range []bool{!was, was} {
					if o.Tapped(middle); o.Checked != want {
						t.Errorf("%q, %v wide, its words %v: clicked in the middle it is %v", o.Text, o.Size().Width, o.MinSize().Width, o.Checked)
					}
				}
			}
		}
		u.Dismiss()
	}
	for _, text := range []string{"Open it afterwards, to print it", "only what is known", "Measured", "the numbers fall as the engine turns forwards"} {
		if !seen[text] {
			t.Errorf("the box %q was not met", text)
		}
	}
	if len(seen) < 10 {
		t.Errorf("only %d boxes were met: %v", len(seen), seen)
	}
}
