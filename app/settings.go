package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// setting is one choice of the settings: what it is called, what it does, and
// the ways to choose from.
type setting struct {
	name, about string
	ways        []string // as shown
	chosen      int
	choose      func(int)
	anew        bool // the window and the settings are built anew
}

// settingsGroup is a few of them under a heading.
type settingsGroup struct {
	name string
	list []setting
}

// showSettings shows the settings. What is chosen holds at once.
func (u *ui) showSettings() { u.showSettingsAt(0, -1) }

// showSettingsAt shows them scrolled down, the keyboard on one of them.
func (u *ui) showSettingsAt(offset float32, focus int) {
	var d *kit.Box
	rows := container.NewVBox()
	scroll := container.NewVScroll(container.New(&kit.BesideBar{}, rows))
	again := func(n int) {
		at := scroll.Offset.Y
		d.Hide()
		u.rebuild()
		u.showSettingsAt(at, n)
	}
	var lists []*kit.DialogSelect
	for _, g := range u.settings() {
		rows.Add(kit.Heading(g.name))
		for _, s := range g.list {
			n := len(lists)
			list := kit.NewDialogSelect(s.ways, nil)
			list.SetSelectedIndex(s.chosen)
			list.OnChanged = func(string) {
				s.choose(list.SelectedIndex())
				if s.anew {
					again(n)
				}
			}
			lists = append(lists, list)
			about := kit.Wrapped(s.about).(*widget.Label)
			about.Importance = widget.LowImportance
			name := container.New(kit.Sized{Width: 170}, kit.Wrapped(s.name))
			rows.Add(container.NewBorder(nil, nil, container.NewVBox(name), nil, container.New(&kit.Tight{}, kit.Elastic(list, 200), about)))
		}
		rows.Add(widget.NewSeparator())
	}
	reset := kit.NewDialogButton(tr("Everything as at the first start"), func() {
		u.resetSettings()
		again(-1)
	})
	reset.SetIcon(theme.ContentUndoIcon())
	rows.Add(container.NewHBox(reset))
	d = u.NewBox(tr("Settings"), scroll, u.Closing(tr("Close")))
	s := u.Window.Canvas().Size()
	d.Resize(fyne.NewSize(min(760, s.Width-40), min(640, s.Height-40)))
	u.ShowBox(d, scroll)
	scroll.ScrollToOffset(fyne.NewPos(0, offset))
	if focus >= 0 && focus < len(lists) {
		u.Window.Canvas().Focus(lists[focus])
	}
}

// settings are all of them, with what is chosen now.
func (u *ui) settings() []settingsGroup {
	return []settingsGroup{
		{tr("Language and units"), []setting{u.languageSetting(),
			u.unitSetting(tr("Lengths"), desk.PrefLength, quantity.Lengths, tr("Shown and typed so everywhere. The job file always has millimetres.")),
			u.unitSetting(tr("Pressures"), desk.PrefPressure, quantity.Pressures, tr("Of compression gauges, the gas in the cylinder, the rail and the air. The job file always has bar, and kPa for the air.")),
			u.unitSetting(tr("Temperatures"), desk.PrefTemperature, quantity.Temperatures, tr("Of the air and the gas in the cylinder. The job file always has °C."))}},
		{tr("Look"), []setting{u.themeSetting(), u.textSizeSetting()}},
		{tr("Figures"), []setting{
			{tr("Cylinders"), tr("The order of the rows of the cycle figure."), []string{tr("in firing order"), tr("in number order")}, index(u.ByNumber),
				func(i int) { u.setOrder(i == 1) }, false},
			{tr("Wheel seen from"), tr("The end of the crankshaft from which the wheel, part and gear figures are drawn."), []string{tr("the nose"), tr("the flywheel")}, index(u.From == timing.Flywheel),
				func(i int) { u.setEnd([]timing.End{timing.Nose, timing.Flywheel}[i]) }, false},
		}},
		{tr("New jobs and paper"), []setting{
			{tr("You look from"), tr("The end from which you usually see a part when you measure it. Each job can say otherwise."), []string{tr("the nose"), tr("the flywheel")},
				index(u.Prefs.NewEnd() == timing.Flywheel), func(i int) {
					u.Prefs.SetString(desk.PrefNewEnd, []timing.End{timing.Nose, timing.Flywheel}[i].String())
				}, false},
			{tr("Engines turn"), tr("The sense of rotation a new job begins with."), []string{tr("clockwise, seen from the nose"), tr("anticlockwise, seen from the nose")},
				index(u.Prefs.NewRotation() == timing.Anticlockwise), func(i int) {
					u.Prefs.SetString(desk.PrefNewRotation, []timing.Sense{timing.Clockwise, timing.Anticlockwise}[i].String())
				}, false},
			{tr("Paper"), tr("The size on which sheets, tapes and exercises are laid out."), []string{tr("A4"), tr("Letter")}, index(u.Prefs.Paper() == desk.Papers[1]),
				func(i int) { u.Prefs.SetString(desk.PrefPaper, desk.Papers[i]) }, false},
		}},
	}
}

func index(second bool) int {
	if second {
		return 1
	}
	return 0
}

func (u *ui) languageSetting() setting {
	system := with("as the system: {{.Language}}", map[string]any{"Language": language.Names[desk.SystemLanguage()]})
	ways, codes := []string{system}, append([]string{""}, language.Codes...)
	for _, code := range language.Codes {
		ways = append(ways, language.Names[code])
	}
	chosen := max(0, slices.Index(codes, u.Prefs.String(desk.PrefLanguage)))
	return setting{tr("Language"), tr("Of the window, the figures and what is printed. Numbers are written as in that language; a decimal point and a decimal comma are both understood in all of them."),
		ways, chosen, func(i int) { u.Prefs.SetString(desk.PrefLanguage, codes[i]) }, true}
}

func (u *ui) unitSetting(name, key string, units []quantity.Unit, about string) setting {
	ways := make([]string, len(units))
	for i, unit := range units {
		ways[i] = unitName(unit)
	}
	chosen := max(0, slices.Index(units, quantity.Unit(u.Prefs.String(key))))
	return setting{name, about, ways, chosen, func(i int) { u.Prefs.SetString(key, string(units[i])) }, true}
}

// unitName is a unit as one chooses it.
func unitName(unit quantity.Unit) string {
	switch unit {
	case "":
		return tr("bar, and kPa for the air")
	case quantity.MM:
		return tr("millimetres")
	case quantity.Inch:
		return tr("inches")
	}
	return string(unit)
}

func (u *ui) themeSetting() setting {
	var ways []string
	for _, c := range kit.ThemeChoices {
		ways = append(ways, tr(themeNames[c]))
	}
	return setting{tr("Theme"), tr("Light for a bright workshop, dark for a projector in a dim room."), ways, slices.Index(kit.ThemeChoices, u.Prefs.Theme()),
		func(i int) { u.setTheme(kit.ThemeChoices[i]) }, false}
}

func (u *ui) textSizeSetting() setting {
	var ways []string
	for _, s := range kit.TextSizes {
		ways = append(ways, with("{{.Share}} %", map[string]any{"Share": phrase.Num{Value: 100 * s}}))
	}
	return setting{tr("Text size"), tr("Of everything in the window; also with Ctrl = and Ctrl −. Until you choose, a very large window has larger text."), ways, u.textSize(),
		func(i int) { u.setTextSize(kit.TextSizes[i]) }, false}
}

// resetSettings forgets every choice of the settings, and no more.
func (u *ui) resetSettings() {
	for _, key := range []string{desk.PrefLanguage, desk.PrefLength, desk.PrefPressure, desk.PrefTemperature, desk.PrefNewEnd, desk.PrefNewRotation, desk.PrefPaper} {
		u.Prefs.RemoveValue(key)
	}
	u.setOrder(false)
	u.setEnd(timing.Nose)
	u.setTheme(kit.ThemeChoices[0])
	u.Prefs.RemoveValue(desk.PrefText)
	u.fitText()
}
