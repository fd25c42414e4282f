package app

import (
	"slices"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// menus is the menu bar. It is kept up to date in place: what can be done now,
// what is chosen, which files were open.
type menus struct {
	u          *ui
	main       *fyne.MainMenu
	undo, redo *fyne.MenuItem
	recent     *fyne.MenuItem
	byFiring   *fyne.MenuItem
	byNumber   *fyne.MenuItem
	nose, fly  *fyne.MenuItem
	form       *fyne.MenuItem
	full       *fyne.MenuItem
	speeds     []*fyne.MenuItem
	themes     []*fyne.MenuItem
	sizes      []*fyne.MenuItem
}

func item(text string, shortcut fyne.Shortcut, action func()) *fyne.MenuItem {
	m := fyne.NewMenuItem(text, action)
	m.Shortcut = shortcut
	return m
}

func newMenus(u *ui) *menus {
	m := &menus{u: u}
	m.recent = fyne.NewMenuItem(tr("Open recent"), nil)
	m.recent.ChildMenu = fyne.NewMenu("")
	quit := item(tr("Quit"), kit.Ctrl(fyne.KeyQ), u.quit)
	quit.IsQuit = true
	items := []*fyne.MenuItem{
		item(tr("New"), kit.Ctrl(fyne.KeyN), u.newJob),
		item(tr("Open…"), kit.Ctrl(fyne.KeyO), u.open),
		m.recent,
		item(tr("Jobs…"), kit.CtrlShift(fyne.KeyJ), u.openJobs),
		item(tr("Open the demo job"), nil, u.openDemo),
		u.tryMenu(),
	}
	items = append(items, m.pageActions(true)...)
	items = append(items,
		fyne.NewMenuItemSeparator(),
		item(tr("Save"), kit.Ctrl(fyne.KeyS), func() { u.save(nil) }),
		item(tr("Save as…"), kit.CtrlShift(fyne.KeyS), func() { u.saveAs(nil) }),
		item(tr("Save with pictures…"), nil, u.saveWithPictures),
		item(tr("Library of engines and sensor wheels…"), kit.Ctrl(fyne.KeyL), u.openLibrary),
		fyne.NewMenuItemSeparator(),
		item(tr("Save figure…"), kit.Ctrl(fyne.KeyE), u.saveFigure),
		item(tr("Save job sheet…"), kit.Ctrl(fyne.KeyP), u.saveJobSheet),
		item(tr("Save measurement report…"), nil, u.saveClaim),
		item(tr("Save sign-off sheet…"), nil, u.saveSignOff),
		item(tr("Save drilling template…"), nil, u.saveTemplate),
		item(tr("Print degree wheel or degree tape…"), nil, u.printScale),
	)
	items = append(items, m.pageActions(false)...)
	file := fyne.NewMenu(tr("File"), append(items, fyne.NewMenuItemSeparator(), quit)...)
	m.undo = item(tr("Undo"), &fyne.ShortcutUndo{}, u.Undo)
	m.redo = item(tr("Redo"), &fyne.ShortcutRedo{}, u.Redo)
	edit := fyne.NewMenu(tr("Edit"), m.undo, m.redo, fyne.NewMenuItemSeparator(), item(tr("Settings…"), kit.Ctrl(fyne.KeyT), u.showSettings))

	m.byFiring = item(tr("Cylinders in firing order"), nil, func() { u.setOrder(false) })
	m.byNumber = item(tr("Cylinders in number order"), nil, func() { u.setOrder(true) })
	m.nose = item(tr("Sensor wheel seen from the nose"), nil, func() { u.setEnd(timing.Nose) })
	m.fly = item(tr("Sensor wheel seen from the flywheel end"), nil, func() { u.setEnd(timing.Flywheel) })
	m.form = item(tr("Job form"), kit.Ctrl(fyne.KeyJ), u.toggleForm)
	m.full = item(tr("Full screen"), kit.CtrlShift(fyne.KeyF), u.toggleFullScreen)
	themeMenu, sizeMenu := fyne.NewMenuItem(tr("Theme"), nil), fyne.NewMenuItem(tr("Text size"), nil)
	for _, c := range kit.ThemeChoices {
		m.themes = append(m.themes, item(tr(themeNames[c]), nil, func() { u.setTheme(c) }))
	}
	for _, s := range kit.TextSizes {
		m.sizes = append(m.sizes, item(number(100*s, 0)+" %", nil, func() { u.setTextSize(s) }))
	}
	themeMenu.ChildMenu = fyne.NewMenu("", m.themes...)
	sizeMenu.ChildMenu = fyne.NewMenu("", m.sizes...)
	view := fyne.NewMenu(tr("View"),
		m.byFiring, m.byNumber, fyne.NewMenuItemSeparator(),
		m.nose, m.fly, fyne.NewMenuItemSeparator(),
		m.form, m.full,
		item(tr("Board view, for a class (F5)"), kit.Ctrl(fyne.KeyB), func() { u.openBoard(false) }),
		item(tr("Board view on the second screen"), kit.CtrlShift(fyne.KeyB), func() { u.openBoard(true) }),
		fyne.NewMenuItemSeparator(),
		themeMenu, sizeMenu,
		item(tr("Larger text"), kit.Ctrl(fyne.KeyEqual), func() { u.stepTextSize(+1) }),
		item(tr("Smaller text"), kit.Ctrl(fyne.KeyMinus), func() { u.stepTextSize(-1) }),
	)
	speed := fyne.NewMenuItem(tr("Speed"), nil)
	for _, s := range desk.Speeds {
		m.speeds = append(m.speeds, item(desk.SpeedName(s), nil, func() { u.setSpeed(s) }))
	}
	speed.ChildMenu = fyne.NewMenu("", m.speeds...)
	var pageItems []*fyne.MenuItem
	for i, k := range u.pages.kinds {
		key := fyne.KeyName(rune('1' + i))
		pageItems = append(pageItems, item(tr(k.Title), kit.Ctrl(key), func() { u.pages.show(i) }))
	}
	view.Items = append(append(pageItems, fyne.NewMenuItemSeparator()), view.Items...)
	crank := fyne.NewMenu(tr("Crankshaft"),
		item(tr("Turn or stop"), kit.Ctrl(fyne.KeyR), func() { u.Run.Toggle() }),
		speed,
		item(tr("To the next firing TDC"), kit.Ctrl(fyne.KeyPeriod), func() { u.ToFiring(+1) }),
		item(tr("To the previous firing TDC"), kit.Ctrl(fyne.KeyComma), func() { u.ToFiring(-1) }),
		item(tr("To TDC of cylinder 1"), kit.Ctrl(fyne.KeyHome), func() { u.SetAt(0) }),
		item(tr("Type an angle"), kit.Ctrl(fyne.KeyG), u.typeAngle),
	)
	help := fyne.NewMenu(tr("Help"),
		item(tr("This page (F1)"), kit.Ctrl(fyne.KeyH), u.showHelp),
		item(tr("Manual"), kit.CtrlShift(fyne.KeyM), u.showManual),
		item(tr("Tour of the window"), nil, u.startTour),
		item(tr("Words"), kit.Ctrl(fyne.KeyD), u.showWords),
		item(tr("Keys"), nil, u.showKeys),
		item(tr("Cautions"), nil, u.showCautions),
		item(tr("About"), nil, u.showAbout),
	)
	m.main = fyne.NewMainMenu(file, edit, view, crank, help)
	for _, menu := range m.main.Items {
		m.guard(menu)
	}
	u.Window.SetMainMenu(m.main)
	return m
}

// pageActions are what the pages have in the File menu: what opens something, or the
// rest.
func (m *menus) pageActions(opens bool) (list []*fyne.MenuItem) {
	for i, k := range m.u.pages.kinds {
		for _, a := range k.Actions {
			if a.Opens == opens {
				list = append(list, item(tr(a.Title), a.Shortcut, func() { a.Do(m.u.pages.at(i)) }))
			}
		}
	}
	return list
}

// guard makes the items of a menu do nothing while a dialog is on the screen: the
// toolkit's shortcuts reach them all the same. The program can always be left, as by
// the window's own button.
func (m *menus) guard(menu *fyne.Menu) {
	for _, i := range menu.Items {
		if i.ChildMenu != nil {
			m.guard(i.ChildMenu)
		}
		if act := i.Action; act != nil && !i.IsQuit {
			i.Action = func() {
				if len(m.u.Dialogs) == 0 {
					act()
				}
			}
		}
	}
}

var themeNames = map[string]phrase.Text{"system": "as the system", "light": "light", "dark": "dark",
	"light-contrast": "light, high contrast", "dark-contrast": "dark, high contrast"}

// load brings the menu up to the present state.
func (m *menus) load() {
	u := m.u
	m.undo.Disabled, m.redo.Disabled = !u.Session.CanUndo(), !u.Session.CanRedo()
	m.byFiring.Checked, m.byNumber.Checked = !u.ByNumber, u.ByNumber
	m.nose.Checked, m.fly.Checked = u.From == timing.Nose, u.From == timing.Flywheel
	m.form.Checked, m.full.Checked = u.jobForm().FormShown(), u.Window.FullScreen()
	for i, s := range desk.Speeds {
		m.speeds[i].Checked = u.Run.Speed == s
	}
	for i, c := range kit.ThemeChoices {
		m.themes[i].Checked = u.Look.Choice == c
	}
	for i, s := range kit.TextSizes {
		m.sizes[i].Checked = float64(u.Look.Scale) == float64(float32(s))
	}
	var recent []*fyne.MenuItem
	for _, path := range u.Prefs.Recent() {
		recent = append(recent, item(path, nil, func() { u.sure(func() { u.openFile(path) }) }))
	}
	m.recent.Disabled = len(recent) == 0
	m.recent.ChildMenu.Items = recent
	m.guard(m.recent.ChildMenu)
	m.main.Refresh()
}

func (u *ui) setOrder(byNumber bool) {
	u.ByNumber = byNumber
	u.Prefs.SetBool(desk.PrefOrder, byNumber)
	u.Reload()
}

func (u *ui) setEnd(e timing.End) {
	u.From = e
	u.Prefs.SetString(desk.PrefEnd, e.String())
	u.Reload()
}

func (u *ui) setSpeed(s float64) {
	u.SetSpeed(s)
	u.menu.load()
}

func (u *ui) toggleForm() {
	f := u.jobForm()
	on := !f.FormShown()
	u.Prefs.SetBool(desk.PrefForm, on)
	f.ShowForm(on)
	u.menu.load()
}

func (u *ui) toggleFullScreen() {
	u.Window.SetFullScreen(!u.Window.FullScreen())
	u.menu.load()
}

func (u *ui) setTheme(choice string) {
	u.Prefs.SetString(desk.PrefTheme, choice)
	u.applyLook(&kit.Look{Choice: choice, Scale: u.Look.Scale})
}

func (u *ui) setTextSize(s float64) {
	u.Prefs.SetFloat(desk.PrefText, s)
	u.applyLook(&kit.Look{Choice: u.Look.Choice, Scale: float32(s)})
}

func (u *ui) stepTextSize(by int) {
	i := u.textSize() + by
	if i >= 0 && i < len(kit.TextSizes) {
		u.setTextSize(kit.TextSizes[i])
	}
}

func (u *ui) applyLook(l *kit.Look) {
	u.Look = l
	u.Restyling = true
	u.App.Settings().SetTheme(l)
	u.Restyling = false
	u.Reload()
}

// typeAngle gives the keyboard to the crank's angle, on the page shown where that
// has one.
func (u *ui) typeAngle() {
	p, ok := u.pages.now().(desk.Stripped)
	if !ok {
		p = u.pages.at(0).(desk.Stripped)
	}
	u.Window.Canvas().Focus(p.Strip().Entry.Focusable())
}

// fitText gives the window the size of text that suits it, unless one was chosen.
func (u *ui) fitText() {
	if _, chosen := u.Prefs.TextSize(); chosen {
		return
	}
	if s := float32(kit.TextFor(u.Window.Canvas().Size())); s != u.Look.Scale {
		u.applyLook(&kit.Look{Choice: u.Look.Choice, Scale: s})
	}
}

// textSize is the present size of text, by its place in textSizes.
func (u *ui) textSize() int {
	return slices.IndexFunc(kit.TextSizes, func(s float64) bool { return float32(s) == u.Look.Scale })
}
