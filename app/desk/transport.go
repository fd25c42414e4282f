package desk

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/widgets"
)

// Transport is the strip that moves the crank: step, type, run.
type Transport struct {
	u       *Desk
	Content fyne.CanvasObject
	Entry   *widgets.Field
	Run     *kit.TipButton
	Sensor  *kit.LineLabel
	typing  bool // an angle was typed and not yet gone to
}

func NewTransport(u *Desk) *Transport {
	t := &Transport{u: u, Entry: widgets.NewField("°", 1)}
	t.Entry.OnChanged = func(string) { t.typing = true }
	t.Entry.OnDone = t.typed
	t.Run = u.NewTipButton(theme.MediaPlayIcon(), tr("Turn or stop"), func() { u.Run.Toggle() })
	step := func(text string, by timing.Deg) *widget.Button {
		return widget.NewButton(text, func() { u.SetAt(u.At + by) })
	}
	next := func(icon fyne.Resource, says string, dir int) *kit.TipButton {
		return u.NewTipButton(icon, says, func() { u.ToFiring(dir) })
	}
	t.Sensor = kit.NewLineLabel()
	strip := container.NewHBox(
		widget.NewLabel(tr("Crankshaft at")),
		container.New(kit.Sized{Width: 118}, t.Entry),
		next(theme.MediaSkipPreviousIcon(), tr("To the previous firing TDC"), -1), step("−10°", -10), step("−1°", -1),
		step("+1°", 1), step("+10°", 10), next(theme.MediaSkipNextIcon(), tr("To the next firing TDC"), +1),
		t.Run,
	)
	t.Content = container.New(&kit.ThenWords{}, container.NewHScroll(strip), t.Sensor)
	u.Transports = append(u.Transports, t)
	return t
}

// LoadTransports shows on every page whether the crank is running.
func (u *Desk) LoadTransports() {
	for _, t := range u.Transports {
		t.load()
	}
}

// typed takes the crank to what was typed into the entry. Left alone, the entry
// does not take it back to where it once stood.
func (t *Transport) typed() {
	if !t.typing {
		return
	}
	t.typing = false
	text := strings.TrimSuffix(strings.TrimSpace(t.Entry.Text()), "°")
	if at, err := kit.ParseNumber(text); err == nil {
		t.u.SetAt(timing.Deg(at))
	}
	t.Entry.SetText(ShownAngle(t.u.At))
}

func ShownAngle(at timing.Deg) string { return number(float64(at), 1) }

// load shows whether the crank is running.
func (t *Transport) load() {
	icon := theme.MediaPlayIcon()
	if t.u.Run.On() {
		icon = theme.MediaPauseIcon()
	}
	t.Run.SetIcon(icon)
}

// LoadCursor shows where the crank stands, and what is at the sensor there.
func (t *Transport) LoadCursor(p finding.Phase) {
	sensor := ""
	if p.Wheel != nil {
		sensor = chart.Say(say).Sensor(*p.Wheel)
	}
	if sensor != t.Sensor.Text {
		t.Sensor.SetText(sensor)
		t.Content.Refresh() // there may be too little room for it
	}
	if !t.typing {
		t.Entry.SetText(ShownAngle(t.u.At))
	}
}

// ToFiring takes the crank to the next (dir 1) or the last (dir −1) firing dead
// centre.
func (u *Desk) ToFiring(dir int) {
	if at, ok := chart.NextFiring(u.Session.Sound(), u.At, dir); ok {
		u.SetAt(at)
	}
}

// ToFiringLast takes the crank to the last firing dead centre of the cycle.
func (u *Desk) ToFiringLast() {
	if at, ok := chart.NextFiring(u.Session.Sound(), 0, -1); ok {
		u.SetAt(at)
	}
}
