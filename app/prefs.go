package app

import (
	"slices"

	"fyne.io/fyne/v2"
)

// prefs are the choices kept between starts, each under its key.
type prefs struct{ p fyne.Preferences }

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
)

// maxRecent is how many files are remembered.
const maxRecent = 10

// Size returns the window's last size, at least what the layout needs.
func (p prefs) Size() fyne.Size {
	return fyne.NewSize(
		float32(max(600, p.p.FloatWithFallback(prefWidth, 1280))),
		float32(max(400, p.p.FloatWithFallback(prefHeight, 800))))
}

// Theme returns one of themeChoices.
func (p prefs) Theme() string {
	if t := p.p.String(prefTheme); slices.Contains(themeChoices, t) {
		return t
	}
	return themeChoices[0]
}

// TextSize returns one of textSizes.
func (p prefs) TextSize() float64 {
	if s := p.p.FloatWithFallback(prefText, 1); slices.Contains(textSizes, s) {
		return s
	}
	return 1
}

// Share returns a divider's place, a share of the room.
func (p prefs) Share(key string, fallback float64) float64 {
	if s := p.p.FloatWithFallback(key, fallback); s >= 0.05 && s <= 0.95 {
		return s
	}
	return fallback
}

// Recent returns the files opened last, the newest first.
func (p prefs) Recent() []string { return p.p.StringList(prefRecent) }

// Opened notes a file as the one opened last.
func (p prefs) Opened(path string) {
	list := slices.DeleteFunc(p.Recent(), func(f string) bool { return f == path })
	list = append([]string{path}, list...)
	p.p.SetStringList(prefRecent, list[:min(len(list), maxRecent)])
	p.p.SetString(prefLast, path)
}

// Forget takes a file that cannot be opened off the list.
func (p prefs) Forget(path string) {
	p.p.SetStringList(prefRecent, slices.DeleteFunc(p.Recent(), func(f string) bool { return f == path }))
	if p.p.String(prefLast) == path {
		p.p.SetString(prefLast, "")
	}
}
