package desk

import (
	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
)

// New returns a desk with the demo job and a window that shows nothing yet. own is the
// program's own folder, "" for none. Whoever shows the desk sets [Desk.Shell].
func New(a fyne.App, kept Choices, own string) *Desk {
	u := &Desk{Frame: &kit.Frame{App: a}, Prefs: Prefs{kept}, Files: store.System, Own: own}
	u.Keeping.Keeper = NewKeeper(u)
	u.View = DesktopViewer(u)
	u.Opening.u, u.Photos.u = u, u
	size, _ := u.Prefs.TextSize()
	u.Look = &kit.Look{Choice: u.Prefs.Theme(), Scale: float32(size)}
	a.Settings().SetTheme(u.Look)
	u.ByNumber = u.Prefs.Bool(PrefOrder)
	u.From, _ = timing.ParseEnd(u.Prefs.String(PrefEnd)) // "" is the nose
	u.Window = a.NewWindow("Pinphase")
	u.Window.Resize(u.Prefs.Size())
	u.Session = NewSession("", Demo(), nil)
	u.Run = NewRunner(u.Prefs, u.Turn, u.LoadTransports)
	kit.Speak(u.Prefs.Language(), u.Prefs.Units())
	u.Clear()
	return u
}

// Clear lets go of what the window showed, before all of it is built anew.
func (u *Desk) Clear() {
	u.Tips, u.Notice = kit.NewTips(u.Frame), kit.NewNotice(u.Frame)
	u.Fields, u.Transports, u.Labels = nil, nil, map[string]string{}
}

// Demo is the job that comes with the program.
func Demo() *job.Document {
	doc, err := job.Read(assets.DemoName, assets.DemoJob)
	if err != nil {
		panic("desk: the demo job is not sound: " + err.Error())
	}
	return doc
}
