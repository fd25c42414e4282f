package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// showAbout shows what the program is, the cautions, and under which licences it
// and what it contains stand.
func (u *ui) showAbout() {
	about := newReader(wrapped(strings.Join([]string{
		with("Pinphase {{.Version}}", map[string]any{"Version": u.app.Metadata().Version}),
		tr("Shows where a crankshaft's sensor wheel puts injection, and which part made it so."),
		tr(signConvention),
		tr("Sources: Heywood, Internal Combustion Engine Fundamentals, 1988 (piston motion); JCGM 100:2008 (uncertainty)."),
		tr("The maker's service manual, local codes and licensed practice decide."),
	}, "\n\n")), u.key)
	care := newReader(cautions(), u.key)
	licences := newLicencesView(u.key)
	first := []fyne.Focusable{about, care, licences.names}
	tabs := container.NewAppTabs(
		container.NewTabItem(tr("The program"), about),
		container.NewTabItem(tr("Cautions"), care),
		container.NewTabItem(tr("Licences"), licences.content))
	c := u.window.Canvas()
	focus := func(*container.TabItem) { c.Focus(first[tabs.SelectedIndex()]) }
	tabs.OnSelected = focus
	d := u.newBox(tr("About Pinphase"), tabs, u.closing(tr("Close")))
	s, k := c.Size(), u.look.scale
	d.Resize(fyne.NewSize(min(760*k, s.Width-40), min(600*k, s.Height-40)))
	u.showBox(d)
	focus(nil)
}
