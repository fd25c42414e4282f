package practice

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// practiceSlot is the room for one thing to be answered: a field, with buttons
// that fill it, or buttons to choose from.
type practiceSlot struct {
	page    *page
	at      int // which slot
	content *fyne.Container
	label   *widget.Label
	field   *widgets.Field
	fill    *fyne.Container // buttons that type into the field
	digits  *fyne.Container // keys that type a number into it
	choose  *fyne.Container
	buttons []*kit.KeyButton // of choose
	chosen  int              // -1: none
	verdict *widget.Label
	part    lesson.Part
}

func newPracticeSlot(p *page, at int) *practiceSlot {
	s := &practiceSlot{page: p, at: at, label: kit.Prose(), field: widgets.NewField("", 1), verdict: kit.Prose(), chosen: -1,
		fill: container.New(&kit.Flow{}), choose: container.New(&kit.Flow{})}
	s.digits = s.keypad()
	s.label.TextStyle.Bold = true
	s.field.SetWanted(true)
	s.field.OnChanged = func(string) {
		s.field.SetFault("")
		p.reveal(s.content)
	}
	s.field.OnDone = func() {
		if s.field.Focused() { // Enter, not the keyboard leaving
			p.enter(s.at)
		}
	}
	s.field.OnWheel = func(e *fyne.ScrollEvent) { p.scroll.Scrolled(e) }
	s.content = container.NewVBox(s.label, container.New(practiceField{}, s.field), s.digits, s.fill, s.choose, s.verdict)
	return s
}

// clear empties the slot.
func (s *practiceSlot) clear() {
	s.field.SetText("")
	s.field.SetFault("")
	s.field.Enable()
	s.chosen = -1
	s.verdict.Hide()
}

// ask shows what is to be answered.
func (s *practiceSlot) ask(part lesson.Part) {
	s.part = part
	kit.SetText(s.label, say(part.Label()))
	s.fill.RemoveAll()
	s.choose.RemoveAll()
	s.buttons = nil
	typed := part.Form != lesson.Choose
	s.field.Hidden, s.fill.Hidden, s.choose.Hidden = !typed, !typed, typed
	s.digits.Hidden = part.Form != lesson.Number
	switch {
	case part.Form == lesson.Pick:
		hint := tr("such as 2, 5 or none")
		if part.One {
			hint = tr("a number")
		}
		s.field.SetPlaceHolder(hint)
		for c := 1; c <= part.Of; c++ {
			s.filler(strconv.Itoa(c), func() { s.toggle(c) })
		}
		if !part.One {
			s.filler(say(lesson.None()), func() { s.field.SetText(say(lesson.None())) })
		}
	case part.Form == lesson.Number:
		hint := tr("a number")
		switch part.Sides {
		case lesson.BeforeAfter:
			hint = tr("such as 12 before or 12 after")
		case lesson.EarlyLate:
			hint = tr("such as 12 early or 12 late")
		}
		s.field.SetPlaceHolder(hint)
		for _, name := range part.Sides.Names() {
			s.filler(say(name), func() { s.takeSide(name) })
		}
	default:
		for i, c := range part.Choices {
			b := kit.NewKeyButton(with("{{.N}}  {{.Choice}}", map[string]any{"N": i + 1, "Choice": say(c)}), func() { s.take(i) })
			b.OnKey = func(e *fyne.KeyEvent) bool { return s.choiceKey(i, e) }
			b.OnEnter = func() { s.enter(i) }
			s.buttons = append(s.buttons, b)
			s.choose.Add(b)
		}
	}
	s.fill.Hidden = s.fill.Hidden || len(s.fill.Objects) == 0
}

// filler adds a button that types into the field and leaves the keyboard there.
func (s *practiceSlot) filler(name string, act func()) {
	b := kit.NewKeyButton(name, func() {
		if s.page.done {
			return
		}
		act()
		s.field.SetFault("")
		s.focus()
	})
	s.fill.Add(b)
}

// keypad is a number's keys for the mouse, large enough for gloves.
func (s *practiceSlot) keypad() *fyne.Container {
	pad := container.New(&kit.Flow{})
	add := func(on string, press func()) *widgets.Key {
		k := widgets.NewKey(on, func() {
			press()
			s.field.SetFault("")
			s.focus() // which the mouse has taken away
		})
		k.Least = fyne.NewSize(38, 40)
		pad.Add(k)
		return k
	}
	for _, d := range []string{"1", "2", "3", "4", "5", "6", "7", "8", "9", "0", kit.Comma(".")} {
		add(d, func() { s.typeDigit(d) })
	}
	add("⌫", func() { s.typeDigit("") }).Repeats = true
	return pad
}

// typeDigit puts a digit behind the number in the field, before its side; "" takes
// the last one away, and when no digit is left the side.
func (s *practiceSlot) typeDigit(d string) {
	number, side := strings.TrimSpace(s.field.Text()), ""
	for _, name := range s.part.Sides.Names() {
		if rest, ok := strings.CutSuffix(number, say(name)); ok {
			number, side = strings.TrimSpace(rest), " "+say(name)
		}
	}
	switch r := []rune(number); {
	case d != "":
		number += d
	case len(r) > 0:
		number = string(r[:len(r)-1])
	default:
		side = ""
	}
	s.field.SetText(strings.TrimSpace(number + side))
}

// toggle puts a cylinder into the field, or takes it out.
func (s *practiceSlot) toggle(cylinder int) {
	if s.part.One {
		s.field.SetText(strconv.Itoa(cylinder))
		return
	}
	var list []string
	found := false
	for _, w := range strings.FieldsFunc(s.field.Text(), func(r rune) bool { return r < '0' || r > '9' }) {
		if w == strconv.Itoa(cylinder) {
			found = true
			continue
		}
		list = append(list, w)
	}
	if !found {
		list = append(list, strconv.Itoa(cylinder))
	}
	s.field.SetText(strings.Join(list, ", "))
}

// takeSide puts a side behind the number in the field.
func (s *practiceSlot) takeSide(side phrase.Sentence) {
	text := s.field.Text()
	for _, name := range s.part.Sides.Names() {
		text = strings.ReplaceAll(text, say(name), "")
	}
	s.field.SetText(strings.TrimSpace(strings.TrimSpace(text) + " " + say(side)))
}

// take chooses one of the choices.
func (s *practiceSlot) take(i int) {
	if s.page.done {
		return
	}
	s.chosen = i
	s.verdict.Hide()
	s.focus() // a button that is pressed lets go of the keyboard
	for k, b := range s.buttons {
		importance := widget.MediumImportance
		if k == i {
			importance = widget.HighImportance
		}
		if b.Importance != importance {
			b.Importance = importance
			b.Refresh()
		}
	}
}

// choiceKey moves between the choices with the arrows and takes one by its number.
func (s *practiceSlot) choiceKey(i int, e *fyne.KeyEvent) bool {
	to := -1
	switch e.Name {
	case fyne.KeyRight, fyne.KeyDown:
		to = min(i+1, len(s.buttons)-1)
	case fyne.KeyLeft, fyne.KeyUp:
		to = max(i-1, 0)
	default:
		n, err := strconv.Atoi(strings.TrimPrefix(string(e.Name), "KP_"))
		if err != nil || n < 1 || n > len(s.buttons) {
			return false
		}
		to = n - 1
		s.take(to)
	}
	s.page.u.Window.Canvas().Focus(s.buttons[to])
	return true
}

// enter takes the choice that has the keyboard when none is taken yet, and goes
// on.
func (s *practiceSlot) enter(i int) {
	if s.chosen < 0 {
		s.take(i)
	}
	s.page.enter(s.at)
}

// answered tells whether there is something to check.
func (s *practiceSlot) answered() bool {
	if s.part.Form == lesson.Choose {
		return s.chosen >= 0
	}
	return strings.TrimSpace(s.field.Text()) != ""
}

// focus gives the keyboard to the slot.
func (s *practiceSlot) focus() {
	c := s.page.u.Window.Canvas()
	if s.part.Form == lesson.Choose {
		c.Focus(s.buttons[max(s.chosen, 0)])
		return
	}
	c.Focus(s.field.Focusable())
}

// judge returns what becomes of the answer.
func (s *practiceSlot) judge() lesson.Verdict {
	typed := s.field.Text()
	if s.part.Form == lesson.Choose {
		typed = ""
		if s.chosen >= 0 {
			typed = strconv.Itoa(s.chosen + 1)
		}
	}
	return s.part.Check(typed, voice().Code(), say)
}

// wants says what has to be cleared up before the answer can be judged.
func (s *practiceSlot) wants(hint phrase.Sentence) {
	if s.part.Form == lesson.Choose {
		s.verdict.Importance = widget.MediumImportance
		s.verdict.SetText(say(hint))
		s.verdict.Show()
		return
	}
	s.field.SetFault(say(hint))
}

// again says what is not right and makes room for another answer.
func (s *practiceSlot) again(v lesson.Verdict) {
	text := with("Not right: {{.Said}}.", map[string]any{"Said": say(v.Read)})
	if v.Hint.Text != "" {
		text += " " + say(v.Hint)
	}
	s.field.SetText("")
	s.chosen = -1
	for _, b := range s.buttons {
		b.Importance = widget.MediumImportance
		b.Refresh()
	}
	s.verdict.Importance = widget.DangerImportance
	s.verdict.SetText(text)
	s.verdict.Show()
}

// tell shows the verdict on this part; v is nil when the answer was not known.
func (s *practiceSlot) tell(v *lesson.Verdict) {
	text, importance := "", widget.DangerImportance
	switch {
	case v == nil:
		text = with("The answer is {{.Answer}}.", map[string]any{"Answer": say(s.part.Answer())})
		importance = widget.MediumImportance
	case v.Outcome == lesson.Right:
		text = with("Correct: {{.Answer}}.", map[string]any{"Answer": say(s.part.Answer())})
		importance = widget.SuccessImportance
	default:
		text = with("Wrong: you answered {{.Said}}; the answer is {{.Answer}}.", map[string]any{"Said": say(v.Read), "Answer": say(s.part.Answer())})
		if v.Hint.Text != "" {
			text += " " + say(v.Hint)
		}
	}
	s.verdict.Importance = importance
	s.verdict.SetText(text)
	s.verdict.Show()
	s.field.SetFault("")
	s.field.Disable()
	s.fill.Hide()
	s.digits.Hide()
}

// practiceField gives a field for an answer no more room than an answer needs.
type practiceField struct{}

func (practiceField) width() float32 { return 300 * theme.TextSize() / kit.BaseText }

func (l practiceField) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := objects[0].MinSize()
	if !objects[0].Visible() {
		m.Height = 0
	}
	return fyne.NewSize(min(m.Width, l.width()), m.Height)
}

func (l practiceField) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Resize(fyne.NewSize(min(size.Width, l.width()), size.Height))
}
