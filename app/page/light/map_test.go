package light

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// The chances and the fine map are those of the job shown, or are dropped.
func TestLateChancesAreDropped(t *testing.T) {
	u, p := lit(t, "")
	late := p.work()() // the work is done, its result has yet to be shown
	desktest.DragTo(p.sliders.air, 40)
	pending, cells := p.second.Text, len(p.side.in.Cells)
	late()
	if p.second.Text != pending || p.draws.done || len(p.side.in.Cells) != cells {
		t.Errorf("the chances of the job before are shown: %q", p.second.Text)
	}
	p.rest()
	first := p.second.Text
	u.Leave()
	u.Return() // nothing has changed: they are still true
	if p.second.Text != first || !p.draws.done {
		t.Errorf("shown again, the page says %q", p.second.Text)
	}
	given := p.work()
	p.stop() // as when the window is closed
	given()()
	desktest.DragTo(p.sliders.air, -25)
	desktest.Contains(t, "the second line", p.second.Text, "being calculated")
	p.rest()
	if p.second.Text == first {
		t.Error("at −25 °C the chances are those at 40 °C")
	}
}

func TestLightMap(t *testing.T) {
	_, p := lit(t, "")
	coarse := len(p.side.in.Cells)
	p.rest()
	fine := p.side.in.Cells
	if len(fine) < 3*coarse/2 || !p.side.fine {
		t.Errorf("the map has %d rows after a pause, %d before", len(fine), coarse)
	}
	before := desktest.Painted(p.side.view)
	desktest.DragTo(p.sliders.air, 30)
	if &p.side.in.Cells[0] != &fine[0] {
		t.Error("with the air alone changed the map is worked out anew")
	}
	if desktest.Painted(p.side.view) == before {
		t.Error("the engine's point does not move")
	}
	if got, want := p.side.in.Points[1].X, p.estimate.AirC; got != want {
		t.Errorf("the engine is at %g °C on the map, want %g", got, want)
	}
	desktest.DragTo(p.sliders.ratio, 20)
	if len(p.side.in.Cells) != coarse || p.side.fine {
		t.Errorf("while compression is dragged the map has %d rows", len(p.side.in.Cells))
	}
	p.rest()
	if len(p.side.in.Cells) != len(fine) {
		t.Errorf("after a pause it has %d rows", len(p.side.in.Cells))
	}

	p.side.view.OnPoint(0, 0, true)
	desktest.Contains(t, "below the map", p.side.words.Text, "−25 °C, sensor wheel 40° behind: ignites by", "of 5 delay formulas")
	p.side.view.OnPoint(len(p.side.in.X)-1, len(p.side.in.Y)-1, true)
	desktest.Contains(t, "below the map", p.side.words.Text, "40 °C, sensor wheel 30° ahead: ignites by 0 of 5 delay formulas")
	p.side.view.MouseOut()
	desktest.Contains(t, "below the map", p.side.words.Text, "Point at the map")

	p.tabs.SelectIndex(1) // not shown, it is left alone
	desktest.DragTo(p.sliders.ratio, 12)
	if len(p.side.in.Cells) != len(fine) {
		t.Error("the map is worked out while it is not shown")
	}
	p.rest()
	if len(p.side.in.Cells) != len(fine) {
		t.Error("after a pause too")
	}
	p.tabs.SelectIndex(0)
	if len(p.side.in.Cells) != coarse {
		t.Error("shown again, the map is the one before")
	}
}

func TestLightTabs(t *testing.T) {
	u, p := lit(t, "")
	p.rest()
	for i, want := range [][]string{
		1: {"does not promise a start", "leaves injection within the limits for ignition", "5 published delay formulas"},
		2: {"Wolfer 1938", "2.1° BTDC, 7.3 ms\nwithin the data", "does not ignite", "colder than the data"},
		3: {"Livengood and Wu 1955", "Cetane 50", "100 000 random draws"},
		4: {"pierces the skin", "licensed trade"},
	} {
		p.tabs.SelectIndex(i)
		desktest.Contains(t, "tab "+p.tabs.Selected().Text, desktest.Words(p.tabs), want...)
	}
	if got := len(p.table.Cells); got != 6 {
		t.Errorf("the table has %d rows", got)
	}
	p.tabs.SelectIndex(2)
	before, second := p.sentence.Text, p.second.Text
	p.by.SetSelected("Watson 1980")
	if p.sentence.Text == before || p.estimate.Correlation != "watson" {
		t.Errorf("by another correlation the sentence is %q", p.sentence.Text)
	}
	p.tabs.SelectIndex(0)
	desktest.Contains(t, "the map's legend", p.side.in.Words.Limit, "Watson 1980")
	p.rest()
	if p.second.Text != second { // the chances are drawn over all correlations
		t.Errorf("the chances are %q, were %q", p.second.Text, second)
	}
	if u.Session.CanUndo() {
		t.Error("the choice is in the job")
	}
}

func TestLightCursor(t *testing.T) {
	u, p := lit(t, "")
	u.SetAt(702)
	tag := desktest.Words(p.view)
	desktest.Contains(t, "the tag", p.reading(-18), "18° BTDC: ", " °C, ", " bar")
	if !slices.Contains(desktest.Texts(p.view), p.reading(-18)) {
		t.Errorf("at 702 the figure says %q", tag)
	}
	p.view.OnCursor(-5) // the figure counts round firing TDC, the crank from it on
	if u.At != 715 {
		t.Errorf("pointed at −5, the crank stands at %v", u.At)
	}
	p.view.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if u.At != 716 {
		t.Errorf("a step on it stands at %v", u.At)
	}
	g := p.estimate.Path.At(0)
	desktest.Contains(t, "the tag", p.reading(0), "TDC: "+phrase.Num{Value: g.K - 273.15}.String()+" °C")
	desktest.Contains(t, "the tag", p.reading(-170), "170° BTDC: a valve is open")
	u.SetAt(300)
	if len(desktest.Texts(p.view)) > 0 {
		t.Errorf("beyond the figure there is a cursor: %q", desktest.Texts(p.view))
	}
	u.SetAt(timing.Deg(0))
}
