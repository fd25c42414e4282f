package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/widgets"
)

// transport is the strip that moves the crank: step, type, run.
type transport struct {
	u       *desk
	content fyne.CanvasObject
	entry   *widgets.Field
	run     *tipButton
	sensor  *lineLabel
	typing  bool // an angle was typed and not yet gone to
}

func newTransport(u *desk) *transport {
	t := &transport{u: u, entry: widgets.NewField("°", 1)}
	t.entry.OnChanged = func(string) { t.typing = true }
	t.entry.OnDone = t.typed
	t.run = u.newTipButton(theme.MediaPlayIcon(), tr("Run or stop"), func() { u.run.Toggle() })
	step := func(text string, by timing.Deg) *widget.Button {
		return widget.NewButton(text, func() { u.setAt(u.at + by) })
	}
	next := func(icon fyne.Resource, says string, dir int) *tipButton {
		return u.newTipButton(icon, says, func() { u.toFiring(dir) })
	}
	t.sensor = newLineLabel()
	strip := container.NewHBox(
		widget.NewLabel(tr("Crank at")),
		container.New(sized{118}, t.entry),
		next(theme.MediaSkipPreviousIcon(), tr("To the last firing TDC"), -1), step("−10°", -10), step("−1°", -1),
		step("+1°", 1), step("+10°", 10), next(theme.MediaSkipNextIcon(), tr("To the next firing TDC"), +1),
		t.run,
	)
	t.content = container.New(thenWords{}, container.NewHScroll(strip), t.sensor)
	u.transports = append(u.transports, t)
	return t
}

// loadTransports shows on every page whether the crank is running.
func (u *desk) loadTransports() {
	for _, t := range u.transports {
		t.load()
	}
}

// typed takes the crank to what was typed into the entry. Left alone, the entry
// does not take it back to where it once stood.
func (t *transport) typed() {
	if !t.typing {
		return
	}
	t.typing = false
	text := strings.TrimSuffix(strings.TrimSpace(t.entry.Text()), "°")
	if at, err := parseNumber(text); err == nil {
		t.u.setAt(timing.Deg(at))
	}
	t.entry.SetText(shownAngle(t.u.at))
}

func shownAngle(at timing.Deg) string { return number(float64(at), 1) }

// load shows whether the crank is running.
func (t *transport) load() {
	icon := theme.MediaPlayIcon()
	if t.u.run.On() {
		icon = theme.MediaPauseIcon()
	}
	t.run.SetIcon(icon)
}

// loadCursor shows where the crank stands, and what is at the sensor there.
func (t *transport) loadCursor(p finding.Phase) {
	sensor := ""
	if p.Wheel != nil {
		sensor = plate.Say(say).Sensor(*p.Wheel)
	}
	if sensor != t.sensor.Text {
		t.sensor.SetText(sensor)
	}
	if !t.typing {
		t.entry.SetText(shownAngle(t.u.at))
	}
}

// toFiring takes the crank to the next (dir 1) or the last (dir −1) firing dead
// centre.
func (u *desk) toFiring(dir int) {
	if at, ok := plate.NextFiring(u.session.Sound(), u.at, dir); ok {
		u.setAt(at)
	}
}

// toFiringLast takes the crank to the last firing dead centre of the cycle.
func (u *desk) toFiringLast() {
	if at, ok := plate.NextFiring(u.session.Sound(), 0, -1); ok {
		u.setAt(at)
	}
}
