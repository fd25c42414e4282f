package app

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/quantity"
)

// prefs are the choices kept between starts, each under its key.
type prefs struct{ choices }

// settle returns when all choices are written; the main goroutine must not wait.
func (p prefs) settle() {
	if f, ok := p.choices.(*choiceFile); ok && f.writer != nil {
		f.writer.settle()
	}
}

const (
	prefWidth      = "window.width"
	prefHeight     = "window.height"
	prefTheme      = "theme"
	prefText       = "text.size"
	prefOrder      = "cycle.by_number"
	prefEnd        = "wheel.seen_from"
	prefForm       = "form.shown"
	prefSplit      = "split.form"
	prefSplitLow   = "split.figures"
	prefSplitWh    = "split.wheel"
	prefSplitPart  = "split.part"
	prefSplitBench = "split.bench"
	prefSplitLight = "split.light"
	prefSplitGears = "split.gears"
	prefSplitTrain = "split.train"
	prefLast       = "job.last"
	prefRecent     = "job.recent"
	prefSpeed      = "cursor.speed"
	prefBoardDark  = "board.dark"
	prefTour       = "tour.seen"

	prefSplitSignals = "split.signals"

	prefLanguage    = "language" // "" is the system's
	prefLength      = "units.length"
	prefPressure    = "units.pressure"
	prefTemperature = "units.temperature"

	prefNewEnd      = "new.seen_from"
	prefNewRotation = "new.rotation"
	prefPaper       = "paper"
)

// maxRecent is how many files are remembered.
const maxRecent = 10

// Size returns the window's last size, at least what the layout needs and at most
// what the largest screens have.
func (p prefs) Size() fyne.Size {
	return fyne.NewSize(
		float32(min(max(600, p.FloatWithFallback(prefWidth, 1280)), 16384)),
		float32(min(max(400, p.FloatWithFallback(prefHeight, 800)), 16384)))
}

// Theme returns one of themeChoices.
func (p prefs) Theme() string {
	if t := p.String(prefTheme); slices.Contains(themeChoices, t) {
		return t
	}
	return themeChoices[0]
}

// TextSize returns one of textSizes, and whether it was chosen.
func (p prefs) TextSize() (size float64, chosen bool) {
	if s := p.Float(prefText); slices.Contains(textSizes, s) {
		return s, true
	}
	return 1, false
}

// Language returns one of [language.Codes]: the one chosen, else the system's, else
// English.
func (p prefs) Language() string {
	if code := p.String(prefLanguage); slices.Contains(language.Codes, code) {
		return code
	}
	return systemLanguage()
}

// systemLanguage is the language of the system, English where it is none of ours.
func systemLanguage() string {
	if code := language.Nearest(lang.SystemLocale().LanguageString()); code != "" {
		return code
	}
	return language.Codes[0]
}

// NewEnd is the end from which parts are looked at in a new job.
func (p prefs) NewEnd() timing.End {
	end, _ := timing.ParseEnd(p.String(prefNewEnd)) // "" is the nose
	return end
}

// NewRotation is the sense of rotation of a new job.
func (p prefs) NewRotation() timing.Sense {
	sense, _ := timing.ParseSense(p.String(prefNewRotation)) // "" is clockwise
	return sense
}

// papers are the sizes of paper, as the command line calls them.
var papers = []string{"a4", "letter"}

// Paper returns one of them: the one chosen, else letter where that is usual.
func (p prefs) Paper() string {
	if name := p.String(prefPaper); slices.Contains(papers, name) {
		return name
	}
	for _, region := range []string{"-US", "-CA", "-MX"} {
		if strings.Contains(string(lang.SystemLocale()), region) {
			return papers[1]
		}
	}
	return papers[0]
}

// Units returns the units chosen.
func (p prefs) Units() quantity.Units {
	of := func(key string, units []quantity.Unit) quantity.Unit {
		if u := quantity.Unit(p.String(key)); slices.Contains(units, u) {
			return u
		}
		return units[0]
	}
	return quantity.Units{
		Length:      of(prefLength, quantity.Lengths),
		Pressure:    of(prefPressure, quantity.Pressures),
		Temperature: of(prefTemperature, quantity.Temperatures),
	}
}

// Share returns a divider's place, a share of the room.
func (p prefs) Share(key string, fallback float64) float64 {
	if s := p.FloatWithFallback(key, fallback); s >= 0.05 && s <= 0.95 {
		return s
	}
	return fallback
}

// Recent returns the files opened last, the newest first.
func (p prefs) Recent() []string { return p.StringList(prefRecent) }

// Opened notes a file as the one opened last.
func (p prefs) Opened(path string) {
	list := slices.DeleteFunc(p.Recent(), func(f string) bool { return f == path })
	list = append([]string{path}, list...)
	p.SetStringList(prefRecent, list[:min(len(list), maxRecent)])
	p.SetString(prefLast, path)
}

// Forget takes a file that cannot be opened off the list.
func (p prefs) Forget(path string) {
	p.SetStringList(prefRecent, slices.DeleteFunc(p.Recent(), func(f string) bool { return f == path }))
	if p.String(prefLast) == path {
		p.SetString(prefLast, "")
	}
}
