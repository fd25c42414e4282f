package desk

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/timing/sheet"
)

// Prefs are the choices kept between starts, each under its key.
type Prefs struct{ Choices }

// Settle returns when all choices are written; the main goroutine must not wait.
func (p Prefs) Settle() {
	if f, ok := p.Choices.(*ChoiceFile); ok && f.writer != nil {
		f.writer.Settle()
	}
}

const (
	PrefWidth      = "window.width"
	PrefHeight     = "window.height"
	PrefTheme      = "theme"
	PrefText       = "text.size"
	PrefOrder      = "cycle.by_number"
	PrefEnd        = "wheel.seen_from"
	PrefForm       = "form.shown"
	PrefSplit      = "split.form"
	PrefSplitLow   = "split.figures"
	PrefSplitWh    = "split.wheel"
	PrefSplitPart  = "split.part"
	PrefSplitBench = "split.bench"
	PrefSplitLight = "split.light"
	PrefSplitGears = "split.gears"
	PrefSplitTrain = "split.train"
	PrefLast       = "job.last"
	PrefRecent     = "job.recent"
	PrefJobFolders = "job.folders" // in which the list of jobs looks
	PrefSpeed      = "cursor.speed"
	PrefBoardDark  = "board.dark"
	PrefTour       = "tour.seen"

	PrefSplitSignals = "split.signals"

	PrefLanguage    = "language" // "" is the system's
	PrefLength      = "units.length"
	PrefPressure    = "units.pressure"
	PrefTemperature = "units.temperature"

	PrefNewEnd      = "new.seen_from"
	PrefNewRotation = "new.rotation"
	PrefPaper       = "paper"

	PrefShopName    = "shop.name"
	PrefShopAddress = "shop.address"
	PrefShopPhone   = "shop.telephone"
	PrefShopMail    = "shop.mail"
	PrefShopLogo    = "shop.logo" // path of a PNG or SVG file
)

// MaxRecent is how many files are remembered.
const MaxRecent = 10

// Size returns the window's last size, at least what the layout needs and at most
// what the largest screens have.
func (p Prefs) Size() fyne.Size {
	return fyne.NewSize(
		float32(min(max(600, p.FloatWithFallback(PrefWidth, 1280)), 16384)),
		float32(min(max(400, p.FloatWithFallback(PrefHeight, 800)), 16384)))
}

// Theme returns one of themeChoices.
func (p Prefs) Theme() string {
	if t := p.String(PrefTheme); slices.Contains(kit.ThemeChoices, t) {
		return t
	}
	return kit.ThemeChoices[0]
}

// TextSize returns one of textSizes, and whether it was chosen.
func (p Prefs) TextSize() (size float64, chosen bool) {
	if s := p.Float(PrefText); slices.Contains(kit.TextSizes, s) {
		return s, true
	}
	return 1, false
}

// Language returns one of [Language.Codes]: the one chosen, else the system's, else
// English.
func (p Prefs) Language() string {
	if code := p.String(PrefLanguage); slices.Contains(language.Codes, code) {
		return code
	}
	return SystemLanguage()
}

// SystemLanguage is the language of the system, English where it is none of ours.
func SystemLanguage() string {
	if code := language.Nearest(lang.SystemLocale().LanguageString()); code != "" {
		return code
	}
	return language.Codes[0]
}

// NewEnd is the end from which parts are looked at in a new job.
func (p Prefs) NewEnd() timing.End {
	end, _ := timing.ParseEnd(p.String(PrefNewEnd)) // "" is the nose
	return end
}

// NewRotation is the sense of rotation of a new job.
func (p Prefs) NewRotation() timing.Sense {
	sense, _ := timing.ParseSense(p.String(PrefNewRotation)) // "" is clockwise
	return sense
}

// Papers are the sizes of paper, as the command line calls them.
var Papers = []string{"a4", "letter"}

// Paper returns one of them: the one chosen, else the one that is usual where the
// language is read.
func (p Prefs) Paper() string {
	if name := p.String(PrefPaper); slices.Contains(Papers, name) {
		return name
	}
	return sheet.PaperFor(p.Language(), region(string(lang.SystemLocale()))).Name
}

// region is that of a locale's name, as in "es-MX" and "zh-Hant-TW"; "" without one.
func region(locale string) string {
	for i, part := range strings.FieldsFunc(locale, func(r rune) bool { return r == '-' || r == '_' || r == '.' }) {
		if i > 0 && len(part) == 2 && strings.ToUpper(part) == part {
			return part
		}
	}
	return ""
}

// Units returns the units chosen.
func (p Prefs) Units() quantity.Units {
	of := func(key string, units []quantity.Unit) quantity.Unit {
		if u := quantity.Unit(p.String(key)); slices.Contains(units, u) {
			return u
		}
		return units[0]
	}
	return quantity.Units{
		Length:      of(PrefLength, quantity.Lengths),
		Pressure:    of(PrefPressure, quantity.Pressures),
		Temperature: of(PrefTemperature, quantity.Temperatures),
	}
}

// Share returns a divider's place, a share of the room.
func (p Prefs) Share(key string, fallback float64) float64 {
	if s := p.FloatWithFallback(key, fallback); s >= 0.05 && s <= 0.95 {
		return s
	}
	return fallback
}

// Recent returns the files opened last, the newest first.
func (p Prefs) Recent() []string { return p.StringList(PrefRecent) }

// Opened notes a file as the one opened last.
func (p Prefs) Opened(path string) {
	list := slices.DeleteFunc(p.Recent(), func(f string) bool { return f == path })
	list = append([]string{path}, list...)
	p.SetStringList(PrefRecent, list[:min(len(list), MaxRecent)])
	p.SetString(PrefLast, path)
}

// Forget takes a file that cannot be opened off the list.
func (p Prefs) Forget(path string) {
	p.SetStringList(PrefRecent, slices.DeleteFunc(p.Recent(), func(f string) bool { return f == path }))
	if p.String(PrefLast) == path {
		p.SetString(PrefLast, "")
	}
}
