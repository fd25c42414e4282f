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

	typed *typedSetting // in place of ways: what is typed
}

// typedSetting is a setting that is a text.
type typedSetting struct {
	value string
	keep  func(string)
	find  func(put func(string)) // lets the user choose a file; nil where it is none
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
	var fields []fyne.Focusable
	for _, g := range u.settings() {
		rows.Add(kit.Heading(g.name))
		for _, s := range g.list {
			n := len(fields)
			about := kit.Wrapped(s.about).(*widget.Label)
			about.Importance = widget.LowImportance
			name := container.New(kit.Sized{Width: 170}, kit.Wrapped(s.name))
			row := func(field fyne.CanvasObject) {
				rows.Add(container.NewBorder(nil, nil, container.NewVBox(name), nil, container.New(&kit.Tight{}, kit.Elastic(field, 200), about)))
			}
			if s.typed != nil {
				field, entry := typedField(s.typed)
				fields = append(fields, entry)
				row(field)
				continue
			}
			list := kit.NewDialogSelect(s.ways, nil)
			list.SetSelectedIndex(s.chosen)
			list.OnChanged = func(string) {
				s.choose(list.SelectedIndex())
				if s.anew {
					again(n)
				}
			}
			fields = append(fields, list)
			row(list)
		}
		rows.Add(widget.NewSeparator())
	}
	reset := kit.NewDialogButton(tr("Reset to defaults"), func() {
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
	if focus >= 0 && focus < len(fields) {
		u.Window.Canvas().Focus(fields[focus])
	}
}

// typedField is the field of a text, with a button beside it where it names a file.
func typedField(t *typedSetting) (field fyne.CanvasObject, entry *kit.DialogEntry) {
	entry = kit.NewDialogEntry()
	entry.SetText(t.value)
	entry.OnChanged = t.keep
	if t.find == nil {
		return entry, entry
	}
	choose := kit.NewDialogButton(tr("Choose…"), func() { t.find(entry.SetText) })
	return container.NewBorder(nil, nil, nil, choose, entry), entry
}

// settings are all of them, with what is chosen now.
func (u *ui) settings() []settingsGroup {
	return []settingsGroup{
		{tr("Language and units"), []setting{u.languageSetting(),
			u.unitSetting(tr("Lengths"), desk.PrefLength, quantity.Lengths, tr("Shown and typed in this unit everywhere. The job file always has millimetres.")),
			u.unitSetting(tr("Pressures"), desk.PrefPressure, quantity.Pressures, tr("Of compression gauges, the gas in the cylinder, the rail and the air. The job file always has bar, and kPa for the air.")),
			u.unitSetting(tr("Temperatures"), desk.PrefTemperature, quantity.Temperatures, tr("Of the air and the gas in the cylinder. The job file always has °C."))}},
		{tr("Look"), []setting{u.themeSetting(), u.textSizeSetting()}},
		{tr("Figures"), []setting{
			{tr("Cylinders"), tr("The order of the rows of the cycle figure."), []string{tr("in firing order"), tr("in number order")}, index(u.ByNumber),
				func(i int) { u.setOrder(i == 1) }, false, nil},
			{tr("Sensor wheel seen from"), tr("The end of the crankshaft from which the figures of sensor wheel, part and gears are drawn."), []string{tr("the nose (front end)"), tr("the flywheel end")}, index(u.From == timing.Flywheel),
				func(i int) { u.setEnd([]timing.End{timing.Nose, timing.Flywheel}[i]) }, false, nil},
		}},
		{tr("New jobs and paper"), []setting{
			{tr("Seen from"), tr("The end from which you usually see a part when you measure it. Each job can say otherwise."), []string{tr("the nose (front end)"), tr("the flywheel end")},
				index(u.Prefs.NewEnd() == timing.Flywheel), func(i int) {
					u.Prefs.SetString(desk.PrefNewEnd, []timing.End{timing.Nose, timing.Flywheel}[i].String())
				}, false, nil},
			{tr("Direction of rotation"), tr("The direction of rotation of a new job."), []string{tr("clockwise, seen from the nose"), tr("anticlockwise, seen from the nose")},
				index(u.Prefs.NewRotation() == timing.Anticlockwise), func(i int) {
					u.Prefs.SetString(desk.PrefNewRotation, []timing.Sense{timing.Clockwise, timing.Anticlockwise}[i].String())
				}, false, nil},
			{tr("Paper"), tr("The paper size of sheets, tapes and exercises."), []string{tr("A4"), tr("Letter")}, index(u.Prefs.Paper() == desk.Papers[1]),
				func(i int) { u.Prefs.SetString(desk.PrefPaper, desk.Papers[i]) }, false, nil},
		}},
		{tr("The shop, on sheets and claims"), []setting{
			u.typedSetting(tr("Name"), desk.PrefShopName, tr("Who writes the sheets. What is empty is not printed.")),
			u.typedSetting(tr("Address"), desk.PrefShopAddress, tr("In one line, as it is to be printed.")),
			u.typedSetting(tr("Telephone"), desk.PrefShopPhone, ""),
			u.typedSetting(tr("Mail"), desk.PrefShopMail, ""),
			u.logoSetting(),
		}},
	}
}

func (u *ui) typedSetting(name, key, about string) setting {
	return setting{name: name, about: about, typed: &typedSetting{value: u.Prefs.String(key), keep: func(text string) { u.Prefs.SetString(key, text) }}}
}

// logoSetting names the file of the logo. One that was chosen is read at once, to say
// what is wrong with it.
func (u *ui) logoSetting() setting {
	s := u.typedSetting(tr("Logo"), desk.PrefShopLogo, tr("A PNG or SVG file; printed at the head of the first page."))
	s.typed.find = func(put func(string)) {
		u.AskFile(tr("Choose the logo"), desk.LogoEndings, func(path string) {
			files := u.Files
			u.Background(func() func() {
				_, err := desk.ReadLogo(files, path)
				return func() {
					if err != nil {
						u.Tell(err)
						return
					}
					put(path)
				}
			})
		})
	}
	return s
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
		ways, chosen, func(i int) { u.Prefs.SetString(desk.PrefLanguage, codes[i]) }, true, nil}
}

func (u *ui) unitSetting(name, key string, units []quantity.Unit, about string) setting {
	ways := make([]string, len(units))
	for i, unit := range units {
		ways[i] = unitName(unit)
	}
	chosen := max(0, slices.Index(units, quantity.Unit(u.Prefs.String(key))))
	return setting{name, about, ways, chosen, func(i int) { u.Prefs.SetString(key, string(units[i])) }, true, nil}
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
		func(i int) { u.setTheme(kit.ThemeChoices[i]) }, false, nil}
}

func (u *ui) textSizeSetting() setting {
	var ways []string
	for _, s := range kit.TextSizes {
		ways = append(ways, with("{{.Share}} %", map[string]any{"Share": phrase.Num{Value: 100 * s}}))
	}
	return setting{tr("Text size"), tr("Of everything in the window; also with Ctrl = and Ctrl −. Until you choose, a very large window has larger text."), ways, u.textSize(),
		func(i int) { u.setTextSize(kit.TextSizes[i]) }, false, nil}
}

// resetSettings forgets every choice of the settings, and no more.
func (u *ui) resetSettings() {
	for _, key := range []string{desk.PrefLanguage, desk.PrefLength, desk.PrefPressure, desk.PrefTemperature, desk.PrefNewEnd, desk.PrefNewRotation, desk.PrefPaper,
		desk.PrefShopName, desk.PrefShopAddress, desk.PrefShopPhone, desk.PrefShopMail, desk.PrefShopLogo} {
		u.Prefs.RemoveValue(key)
	}
	u.setOrder(false)
	u.setEnd(timing.Nose)
	u.setTheme(kit.ThemeChoices[0])
	u.Prefs.RemoveValue(desk.PrefText)
	u.fitText()
}
