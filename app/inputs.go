package app

import (
	"errors"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// fieldInput is a field that stands for a value of the job as text.
type fieldInput struct {
	key   string
	field *widgets.Field
	get   func(job.Job) string
	// same tells whether what was typed already stands for the job's value, so
	// that "12." is not rewritten while it is typed.
	same  func(typed, shown string) bool
	typo  string // why what was typed is in no job
	about string // the job's fault

	reading bool // it is of a reading: while it is empty it is merely not typed yet
}

func (i *fieldInput) load(j job.Job) {
	shown := i.get(j)
	if i.typo != "" || i.same(i.field.Text(), shown) {
		return
	}
	i.field.SetText(shown)
}

func (i *fieldInput) keys() []string { return []string{i.key} }

func (i *fieldInput) fault(message string) {
	i.about = message
	i.show()
}

func (i *fieldInput) forget() { i.typo = "" }

func (i *fieldInput) focus() fyne.Focusable { return i.field.Focusable() }

// wanted tells whether nothing is wrong but that a reading was not typed yet.
func (i *fieldInput) wanted() bool {
	return i.reading && i.typo == "" && strings.TrimSpace(i.field.Text()) == ""
}

func (i *fieldInput) show() {
	i.field.SetWanted(i.wanted())
	if i.typo != "" {
		i.field.SetFault(i.typo)
	} else {
		i.field.SetFault(i.about)
	}
}

// put writes a text into the field as if the user had typed it.
func (i *fieldInput) put(text string) {
	i.field.SetText(text)
	i.field.OnChanged(text)
	i.field.OnDone()
}

// field makes a field input and its row. set changes the job, or says why the
// text cannot stand for a value.
func (f *form) field(key, label, unit string, lines int, get func(job.Job) string, set func(*job.Job, string) error, same func(a, b string) bool) row {
	i := &fieldInput{key: key, field: widgets.NewField(unit, lines), get: get, same: same}
	i.field.SetCutWords(tr("This text is too long to be edited here, and only its beginning is shown. Edit it in the job's file."),
		tr("What was pasted is too long to be edited here: only its beginning was taken."))
	i.field.OnChanged = func(text string) {
		j := f.u.Session.Job().Clone()
		if err := set(&j, text); err != nil {
			i.typo = err.Error()
			i.show()
			f.u.Typed()
			return
		}
		i.typo = ""
		i.show()
		f.edit(key, func(to *job.Job) { set(to, text) })
		f.u.Typed() // also where the job is as it was before the typing error
	}
	i.field.OnWheel = func(e *fyne.ScrollEvent) { f.scroll.Scrolled(e) }
	i.field.OnDone = func() { f.u.Session.Seal() }
	i.field.OnFocus = func() { f.reveal(i.field) }
	f.inputs = append(f.inputs, i)
	f.u.Labels[key] = label
	return row{label, i.field}
}

func (f *form) text(key, label string, lines int, at func(*job.Job) *string) row {
	return f.field(key, label, "", lines,
		func(j job.Job) string { return *at(&j) },
		func(j *job.Job, s string) error {
			if key == "title" { // wrapped over two lines, but one line of text
				s = strings.ReplaceAll(s, "\n", " ")
			}
			*at(j) = s
			return nil
		},
		func(a, b string) bool { return a == b })
}

// number makes a field for a number that is kept in a unit, shown and typed in the
// user's.
func (f *form) number(key, label, unit string, at func(*job.Job) *job.Number) row {
	return f.field(key, label, unitShown(unit), 1,
		func(j job.Job) string { return showNumber(*at(ptr(j.Clone())), unit) },
		func(j *job.Job, s string) error {
			n, err := readNumber(s, unit)
			if err == nil {
				*at(j) = n
			}
			return err
		}, sameNumber)
}

func (f *form) whole(key, label string, at func(*job.Job) *int) row {
	return f.field(key, label, "", 1,
		func(j job.Job) string {
			if n := *at(ptr(j.Clone())); n != 0 {
				return strconv.Itoa(n)
			}
			return ""
		},
		func(j *job.Job, s string) error {
			n, err := readWhole(s)
			if err == nil {
				*at(j) = n
			}
			return err
		}, sameNumber)
}

func (f *form) list(key, label, hint string, get func(job.Job) string, set func(*job.Job, string) error) row {
	r := f.field(key, label, "", 1, get, set, func(a, b string) bool {
		var x, y job.Job
		return set(&x, a) == nil && set(&y, b) == nil && x.Equal(y)
	})
	r.object.(*widgets.Field).SetPlaceHolder(hint)
	return r
}

func ptr[T any](v T) *T { return &v }

// unitShown is the sign of the unit in which the user sees what is kept in another.
// Units that are words are translated.
func unitShown(kept string) string { return tr(string(voice().Units().For(quantity.Unit(kept)))) }

// showNumber writes a number that is kept in a unit as the user would type it.
func showNumber(n job.Number, unit string) string {
	if !n.Given {
		return ""
	}
	v, _ := voice().Units().Show(n.Value, quantity.Unit(unit))
	return kit.AsTyped(v)
}

// readNumber reads a number typed in the user's unit for one that is kept in
// another.
func readNumber(text, unit string) (job.Number, error) {
	if strings.TrimSpace(text) == "" {
		return job.Number{}, nil
	}
	v, err := kit.ParseNumber(text)
	if err != nil {
		return job.Number{}, errors.New(with("“{{.Text}}” is not a number", map[string]any{"Text": text}))
	}
	return job.Num(voice().Units().Keep(v, quantity.Unit(unit))), nil
}

// readWhole reads a whole number; an empty text is 0, which the check of the
// job names where a number is needed.
func readWhole(text string) (int, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	v, err := kit.ParseNumber(text)
	if err != nil || v != math.Trunc(v) || math.Abs(v) > 1e6 {
		return 0, errors.New(with("“{{.Text}}” is not a whole number", map[string]any{"Text": text}))
	}
	return int(v), nil
}

// parseWholes reads whole numbers with commas, spaces, dashes or semicolons
// between them.
func parseWholes(text string) ([]int, error) {
	var list []int
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",; -–\t", r) }) {
		n, err := readWhole(w)
		if err != nil {
			return nil, err
		}
		list = append(list, n)
	}
	return list, nil
}

// parseNumbers reads numbers with semicolons, spaces or commas between them. A comma
// is a decimal comma where there are semicolons, and in languages that have one
// also where it stands between two digits.
func parseNumbers(text string) ([]float64, error) {
	separators := ",; \t"
	switch {
	case strings.Contains(text, ";"):
		separators = "; \t"
	case voice().Comma():
		text = commaApart.ReplaceAllString(text, " ")
		separators = "; \t"
	}
	var list []float64
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(separators, r) }) {
		v, err := kit.ParseNumber(w)
		if err != nil {
			return nil, errors.New(with("“{{.Text}}” is not a number", map[string]any{"Text": w}))
		}
		list = append(list, v)
	}
	return list, nil
}

// commaApart is a comma that ends a number.
var commaApart = regexp.MustCompile(`,(\s|$)`)

// parseRepeats reads one number or several, with semicolons or spaces between
// them, so that a comma can be a decimal comma.
func parseRepeats(text string) ([]float64, error) {
	var list []float64
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("; \t", r) }) {
		v, err := kit.ParseNumber(strings.TrimSuffix(w, ","))
		if err != nil {
			return nil, errors.New(with("“{{.Text}}” is not a number", map[string]any{"Text": w}))
		}
		list = append(list, v)
	}
	return list, nil
}

func sameRepeats(a, b string) bool {
	x, errX := parseRepeats(a)
	y, errY := parseRepeats(b)
	return errX == nil && errY == nil && slices.Equal(x, y)
}

func sameNumber(a, b string) bool {
	if a == b {
		return true
	}
	x, errX := kit.ParseNumber(a)
	y, errY := kit.ParseNumber(b)
	return errX == nil && errY == nil && x == y
}

// choiceInput is one of a few words.
type choiceInput struct {
	key     string
	names   []string
	values  []string
	sel     *widget.Select
	message *widget.Label
	get     func(job.Job) string
}

func (i *choiceInput) load(j job.Job) {
	v := i.get(j)
	for k, value := range i.values {
		if value == v && i.sel.SelectedIndex() != k {
			i.sel.SetSelectedIndex(k)
		}
	}
}

func (i *choiceInput) keys() []string { return []string{i.key} }

func (i *choiceInput) fault(message string) { kit.ShowMessage(i.message, message) }

func (i *choiceInput) forget() {}

func (i *choiceInput) focus() fyne.Focusable { return i.sel }

// choice makes a choice between values, each with the name shown for it.
func (f *form) choice(key, label string, names, values []string, get func(job.Job) string, set func(*job.Job, string)) row {
	i := &choiceInput{key: key, names: names, values: values, message: kit.MessageLabel(), get: get}
	i.sel = widget.NewSelect(names, nil)
	i.sel.OnChanged = func(string) {
		if k := i.sel.SelectedIndex(); k >= 0 {
			f.edit(key, func(j *job.Job) { set(j, values[k]) })
			if !f.loading {
				f.u.Session.Seal()
			}
		}
	}
	f.inputs = append(f.inputs, i)
	f.u.Labels[key] = label
	return row{label, container.NewVBox(i.sel, i.message)}
}
