package widgets

import (
	"image/color"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Field is an entry with its unit behind it and, when something is wrong with
// what stands in it, the words for that below.
type Field struct {
	widget.BaseWidget

	// OnChanged is told every change the user makes, OnDone that they are done
	// for now: Enter was pressed or the field was left.
	OnChanged func(string)
	OnDone    func()
	OnFocus   func() // the keyboard has come into the field
	// OnWheel gets the mouse wheel turned over a field of one line, which has no
	// use for it, so that a form scrolls wherever the pointer is.
	OnWheel func(*fyne.ScrollEvent)

	entry    *fieldEntry
	unit     *widget.Label
	fault    *widget.Label
	setting  bool
	disabled bool

	// A text longer than mostShown, of which the entry shows the beginning and which
	// cannot be edited here; "" for none. cut says so, or that not all was pasted.
	long                 string
	cut                  *widget.Label
	cutWords, pasteWords string
}

// mostShown is how many bytes of a text a field shows. The toolkit takes time in
// proportion to the square of a text's length: ten times as much would hold the
// window up for seconds at every change.
const mostShown = 5000

// NewField returns an empty field. unit may be empty. Several lines make a field
// for prose.
func NewField(unitText string, lines int) *Field {
	f := &Field{unit: widget.NewLabel(unitText), fault: widget.NewLabel(""), cut: widget.NewLabel("")}
	f.entry = &fieldEntry{field: f}
	f.entry.ExtendBaseWidget(f.entry)
	if lines > 1 {
		f.entry.MultiLine = true
		f.entry.Wrapping = fyne.TextWrapWord
		f.entry.SetMinRowsVisible(lines)
	}
	f.entry.OnChanged = func(s string) {
		f.sayCut("")
		if !f.setting && f.OnChanged != nil {
			f.OnChanged(s)
		}
	}
	f.entry.OnSubmitted = func(string) { f.done() }
	f.fault.Importance = widget.DangerImportance
	f.fault.Wrapping = fyne.TextWrapWord
	f.fault.Hide()
	f.cut.Wrapping = fyne.TextWrapWord
	f.cut.Hide()
	f.ExtendBaseWidget(f)
	return f
}

// SetText puts text into the field without telling OnChanged. Of a text that is too
// long to be edited here the beginning is shown, with an ellipsis.
func (f *Field) SetText(s string) {
	if s == f.Text() {
		return
	}
	shown := s
	if f.long = ""; len(s) > mostShown {
		f.long, shown = s, Shortened(s, mostShown)
	}
	f.setting = true
	f.entry.SetText(shown)
	f.setting = false
	if f.long != "" {
		f.sayCut(f.cutWords)
	}
	f.enable()
	f.Refresh()
}

// Shortened is a text of at most so many bytes, with an ellipsis for what is left
// out.
func Shortened(s string, most int) string {
	if len(s) <= most {
		return s
	}
	for most > 0 && !utf8.RuneStart(s[most]) {
		most--
	}
	return s[:most] + "…"
}

// SetCutWords says what is told below a text that is too long to be edited here, and
// below one of which the end was not pasted because it would be.
func (f *Field) SetCutWords(long, pasted string) { f.cutWords, f.pasteWords = long, pasted }

// sayCut says something of the text's length; "" says nothing.
func (f *Field) sayCut(words string) {
	if f.cut.Text == words && f.cut.Hidden == (words == "") {
		return
	}
	f.cut.SetText(words)
	f.cut.Hidden = words == ""
	f.Refresh()
}

// Text returns what stands in the field, whole.
func (f *Field) Text() string {
	if f.long != "" {
		return f.long
	}
	return f.entry.Text
}

// SetFault shows what is wrong; an empty message shows that nothing is.
func (f *Field) SetFault(message string) {
	if message == f.fault.Text {
		return
	}
	f.fault.SetText(message)
	if message == "" {
		f.fault.Hide()
	} else {
		f.fault.Show()
	}
	f.Refresh()
}

// SetWanted tells what a fault is: no more than something yet to be typed or a question,
// which is not said in the colour of danger, or a mistake.
func (f *Field) SetWanted(on bool) {
	importance := widget.DangerImportance
	if on {
		importance = widget.MediumImportance
	}
	if importance != f.fault.Importance {
		f.fault.Importance = importance
		f.fault.Refresh()
	}
}

// Fault returns the message shown.
func (f *Field) Fault() string { return f.fault.Text }

// SetPlaceHolder says in the empty field what belongs there.
func (f *Field) SetPlaceHolder(s string) { f.entry.SetPlaceHolder(s) }

// Disable and Enable switch the entry.
func (f *Field) Disable() { f.disabled = true; f.enable() }

// Enable is described at [Field.Disable].
func (f *Field) Enable() { f.disabled = false; f.enable() }

// enable lets the entry be edited unless something is against it.
func (f *Field) enable() {
	switch off := f.disabled || f.long != ""; {
	case off && !f.entry.Disabled():
		f.entry.Disable()
	case !off && f.entry.Disabled():
		f.entry.Enable()
	}
}

// Focused tells whether the keyboard is in the field.
func (f *Field) Focused() bool { return f.entry.focused }

// Focusable returns what to give the keyboard to.
func (f *Field) Focusable() fyne.Focusable { return f.entry }

func (f *Field) done() {
	if f.OnDone != nil {
		f.OnDone()
	}
}

// CreateRenderer implements [fyne.Widget].
func (f *Field) CreateRenderer() fyne.WidgetRenderer {
	var row fyne.CanvasObject = f.entry
	if !f.entry.MultiLine {
		row = container.NewStack(f.entry, newWheelCatch(f))
	}
	if f.unit.Text != "" {
		row = container.NewBorder(nil, nil, nil, f.unit, row)
	}
	return widget.NewSimpleRenderer(container.NewVBox(row, f.cut, f.fault))
}

// fieldEntry is an entry that says when it is left.
type fieldEntry struct {
	widget.Entry
	field   *Field
	focused bool
	clicked bool // the mouse gives it the keyboard, and says where the cursor goes
}

// MouseDown implements [desktop.Mouseable].
func (e *fieldEntry) MouseDown(m *desktop.MouseEvent) {
	e.clicked = true
	e.Entry.MouseDown(m)
	e.clicked = false
}

// FocusGained implements [fyne.Focusable]. What stands in a field of one line is
// selected when the keyboard comes to it, so that what is typed takes its place.
func (e *fieldEntry) FocusGained() {
	e.focused = true
	e.Entry.FocusGained()
	if !e.clicked && !e.MultiLine && e.Text != "" {
		e.Entry.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	if e.field.OnFocus != nil {
		e.field.OnFocus()
	}
}

// TypedKey implements [fyne.Focusable]: function keys mean the same while a field
// has the keyboard.
func (e *fieldEntry) TypedKey(k *fyne.KeyEvent) {
	if !FunctionKey(e, k) {
		e.Entry.TypedKey(k)
	}
}

// TypedShortcut implements [fyne.Shortcutable]: no more is pasted than can be edited.
func (e *fieldEntry) TypedShortcut(s fyne.Shortcut) {
	s, cut := Bounded(&e.Entry, s)
	e.Entry.TypedShortcut(s)
	if cut {
		e.field.sayCut(e.field.pasteWords)
	}
}

// AcceptsTab implements [fyne.Tabbable]: Tab goes on to the next field, from
// prose too, or the keyboard would never come out of it.
func (e *fieldEntry) AcceptsTab() bool { return false }

// FocusLost implements [fyne.Focusable].
func (e *fieldEntry) FocusLost() {
	e.focused = false
	e.Entry.FocusLost()
	e.field.done()
}

// wheelCatch lies over an entry and takes nothing but the mouse wheel from it.
type wheelCatch struct {
	widget.BaseWidget
	field *Field
}

var _ fyne.Scrollable = (*wheelCatch)(nil)

func newWheelCatch(f *Field) *wheelCatch {
	w := &wheelCatch{field: f}
	w.ExtendBaseWidget(w)
	return w
}

// Scrolled implements [fyne.Scrollable].
func (w *wheelCatch) Scrolled(e *fyne.ScrollEvent) {
	if w.field.OnWheel != nil {
		w.field.OnWheel(e)
	}
}

// CreateRenderer implements [fyne.Widget].
func (w *wheelCatch) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}
