package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
)

// showAbout shows what the program is, the cautions, and under which licences it
// and what it contains stand.
func (u *ui) showAbout() {
	about := kit.NewReader(kit.Wrapped(strings.Join([]string{
		with("Pinphase {{.Version}}", map[string]any{"Version": u.App.Metadata().Version}),
		tr("Shows when injection starts with a crankshaft's sensor wheel as it is, and which part is the cause."),
		tr(signConvention),
		tr("Sources: Heywood, Internal Combustion Engine Fundamentals, 1988 (piston motion); JCGM 100:2008 (uncertainty)."),
		tr("The manufacturer's service manual, local codes and licensed practice take precedence."),
	}, "\n\n")), u.Key)
	care := kit.NewReader(kit.Cautions(), u.Key)
	licences := newLicencesView(u.Key)
	first := []fyne.Focusable{about, care, licences.names}
	tabs := container.NewAppTabs(
		container.NewTabItem(tr("The program"), about),
		container.NewTabItem(tr("Cautions"), care),
		container.NewTabItem(tr("Licences"), licences.content))
	c := u.Window.Canvas()
	focus := func(*container.TabItem) { c.Focus(first[tabs.SelectedIndex()]) }
	tabs.OnSelected = focus
	d := u.NewBox(tr("About Pinphase"), tabs, u.Closing(tr("Close")))
	s, k := c.Size(), u.Look.Scale
	d.Resize(fyne.NewSize(min(760*k, s.Width-40), min(600*k, s.Height-40)))
	u.ShowBox(d)
	focus(nil)
}
