package cause

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/cause"
)

// opened is the check whose outcomes are shown.
func (c *checksPane) shown() *checkCard {
	for _, n := range c.p.found.Next {
		if k := c.cards[n.Check]; k.open {
			return k
		}
	}
	return nil
}

func TestChecksSayWhatTheyWouldMean(t *testing.T) {
	_, p := causing(t, untouched("kind = \"starts\"\nvalue = false", "kind = \"rail_reached_percent\"\nvalue = 97"))
	k := p.next.shown()
	if k == nil || k.check.Check != p.found.Next[0].Check {
		t.Fatal("the best check is not open")
	}
	desktest.Contains(t, "the check", desktest.Words(k.content), "Expected to reduce the uncertainty by", "Tools: ", "What each outcome would mean", "Then: ", "[It showed this]")
	for i, n := range p.found.Next {
		card := p.next.cards[n.Check]
		if card.open != (i == 0) {
			t.Errorf("%s is open: %v", n.Check, card.open)
		}
		if p.next.list.Objects[i] != fyne.CanvasObject(card.content) {
			t.Errorf("%s does not stand in its place", n.Check)
		}
	}
	second := p.next.cards[p.found.Next[1].Check]
	test.Tap(second.bar)
	if !second.open || k.open {
		t.Error("picked, the second is not open instead of the first")
	}
	test.Tap(second.bar)
	if second.open || p.next.shown() != nil {
		t.Error("picked again, it does not close")
	}
}

// One press records a word; the check is made then, and the ranking is another.
func TestOutcomeIsRecorded(t *testing.T) {
	u, p := causing(t, untouched())
	test.Tap(p.next.cards["watch the exhaust while cranking"].bar)
	k := p.next.shown()
	var white *widget.Button
	for i, o := range k.check.Outcomes {
		if o.Values[0].Word == "white" {
			white = k.rows.Objects[1+i].(*fyne.Container).Objects[1].(*fyne.Container).Objects[0].(*widget.Button)
		}
	}
	if white == nil {
		t.Fatal("white smoke is no outcome")
	}
	test.Tap(white)
	if got := evidenceOf(u); got != "smoke 0 white" {
		t.Errorf("the job has %q", got)
	}
	for _, n := range p.found.Next {
		if n.Check == "watch the exhaust while cranking" {
			t.Error("the check is still to be made")
		}
	}
	if a := p.known.rows["smoke"].list[0].(*wordAnswer); a.sel.SelectedIndex() != 2 {
		t.Error("the answer at the left does not show it")
	}
	u.Undo()
	if evidenceOf(u) != "" {
		t.Error("it is not one step for undo")
	}
}

// A number that a check shows must be typed: what was expected is not what was
// read.
func TestNumbersOfOutcomesAreTyped(t *testing.T) {
	u, p := causing(t, untouched())
	p.next.record([]cause.Found{{Kind: "crank_signal", Word: "good"}, {Kind: "cam_signal", Word: "good"}, {Kind: "correlation_error_deg", From: -30, To: -26, Likely: -28}})
	if got := evidenceOf(u); got != "crank_signal 0 good; cam_signal 0 good" {
		t.Errorf("the job has %q", got)
	}
	if u.Window.Canvas().Focused() != p.number("correlation_error_deg", 0).focus() {
		t.Error("the number is not asked for")
	}
	if i := 4; !p.known.groups.List[i].Open {
		t.Error("its group is closed")
	}
}

func TestOwnMinutes(t *testing.T) {
	u, p := causing(t, untouched())
	was := u.Session.Job()
	second := p.found.Next[1].Check
	test.Tap(p.next.cards[second].bar)
	k := p.next.shown()
	usual := k.minutes.Text()
	own := func(text string) {
		desktest.Retype(u.Window.Canvas(), k.minutes, text)
		u.Window.Canvas().Unfocus()
	}
	own("0.1")
	if p.found.Next[0].Check != second || !k.open || k.minutes.Text() != "0.1" || p.minutes.of[second] != 0.1 {
		t.Errorf("in no time at all it is not the first: %s, minutes %q", p.found.Next[0].Check, k.minutes.Text())
	}
	for text, want := range map[string]string{"0": "more than 0", "x": "not a number", "99999": "at most"} {
		own(text)
		desktest.Contains(t, text, k.minutes.Fault(), want)
	}
	test.Tap(k.usual)
	if k.minutes.Text() != usual || len(p.minutes.of) != 0 {
		t.Errorf("as usual it takes %q", k.minutes.Text())
	}
	own("7")
	test.Tap(p.next.reset)
	if len(p.minutes.of) != 0 || p.next.reset.Visible() {
		t.Errorf("kept are %v", p.minutes.of)
	}
	u.Is(t, was)
}

func TestPlan(t *testing.T) {
	_, p := causing(t, untouched())
	desktest.Contains(t, "the plan", p.next.plan.Text, "1. ", "minutes. If it shows", "2. ")
	if n := len(p.found.Plan); !strings.Contains(p.next.plan.Text, "\n\n"+string(rune('0'+n))+". ") {
		t.Errorf("the plan has %d steps: %q", n, p.next.plan.Text)
	}
	_, p = causing(t, "")
	desktest.Contains(t, "the plan of a sure cause", p.next.plan.Text, "no plan is needed")
	desktest.Contains(t, "to know", p.next.know.Text, "rules of thumb", "kept on this computer and not in the job")
}
