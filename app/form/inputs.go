package form

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
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// FieldInput is a field that stands for a value of the job as text.
type FieldInput struct {
	Key   string
	Field *widgets.Field
	get   func(job.Job) string
	// same tells whether what was typed already stands for the job's value, so
	// that "12." is not rewritten while it is typed.
	same  func(typed, shown string) bool
	Typo  string // why what was typed is in no job
	about string // the job's fault
	asked string // about a value that looks like a slip
	anew  bool   // what stands in the field is forgotten, even if it means the same

	reading bool // it is of a reading: while it is empty it is merely not typed yet
}

func (i *FieldInput) Load(j job.Job) {
	shown := i.get(j)
	if i.Typo != "" || !i.anew && i.same(i.Field.Text(), shown) {
		return
	}
	i.anew = false
	i.Field.SetText(shown)
}

func (i *FieldInput) keys() []string { return []string{i.Key} }

func (i *FieldInput) fault(message string) {
	i.about = message
	i.show()
}

func (i *FieldInput) asks(question string) {
	i.asked = question
	i.show()
}

func (i *FieldInput) Forget() { i.Typo, i.anew = "", true }

func (i *FieldInput) Focus() fyne.Focusable { return i.Field.Focusable() }

// Wanted tells whether nothing is wrong but that a reading was not typed yet.
func (i *FieldInput) Wanted() bool {
	return i.reading && i.Typo == "" && strings.TrimSpace(i.Field.Text()) == ""
}

func (i *FieldInput) show() {
	mild := i.Wanted()
	switch {
	case i.Typo != "":
		i.Field.SetFault(i.Typo)
	case i.about == "" && i.asked != "":
		mild = true
		i.Field.SetFault(i.asked)
	default:
		i.Field.SetFault(i.about)
	}
	i.Field.SetWanted(mild)
}

// Put writes a text into the field as if the user had typed it.
func (i *FieldInput) Put(text string) {
	i.Field.SetText(text)
	i.Field.OnChanged(text)
	i.Field.OnDone()
}

// Field makes a field input and its row. set changes the job, or says why the
// text cannot stand for a value.
func (f *Form) Field(key, label, unit string, lines int, get func(job.Job) string, set func(*job.Job, string) error, same func(a, b string) bool) Row {
	i := &FieldInput{Key: key, Field: widgets.NewField(unit, lines), get: get, same: same}
	i.Field.SetCutWords(tr("This text is too long to be edited here, and only its beginning is shown. Edit it in the job's file."),
		tr("What was pasted is too long to be edited here: only its beginning was kept."))
	i.Field.OnChanged = func(text string) {
		j := f.U.Session.Job().Clone()
		if err := set(&j, text); err != nil {
			i.Typo = err.Error()
			i.show()
			f.U.Typed()
			return
		}
		i.Typo, i.anew = "", false
		i.show()
		f.edit(key, func(to *job.Job) { set(to, text) })
		f.U.Typed() // also where the job is as it was before the typing error
	}
	i.Field.OnWheel = func(e *fyne.ScrollEvent) { f.Scroll.Scrolled(e) }
	i.Field.OnDone = func() { f.U.Session.Seal() }
	i.Field.OnFocus = func() { f.Reveal(i.Field) }
	f.Inputs = append(f.Inputs, i)
	f.U.Labels[key] = label
	return Row{label, i.Field}
}

func (f *Form) Text(key, label string, lines int, at func(*job.Job) *string) Row {
	return f.Field(key, label, "", lines,
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
func (f *Form) number(key, label string, unit phrase.Text, at func(*job.Job) *job.Number) Row {
	return f.Field(key, label, UnitShown(unit), 1,
		func(j job.Job) string { return ShowNumber(*at(ptr(j.Clone())), unit) },
		func(j *job.Job, s string) error {
			n, err := ReadNumber(s, unit)
			if err == nil {
				*at(j) = n
			}
			return err
		}, SameNumber)
}

func (f *Form) Whole(key, label string, at func(*job.Job) *int) Row {
	return f.Field(key, label, "", 1,
		func(j job.Job) string {
			if n := *at(ptr(j.Clone())); n != 0 {
				return strconv.Itoa(n)
			}
			return ""
		},
		func(j *job.Job, s string) error {
			n, err := ReadWhole(s)
			if err == nil {
				*at(j) = n
			}
			return err
		}, SameNumber)
}

func (f *Form) List(key, label, hint string, get func(job.Job) string, set func(*job.Job, string) error) Row {
	r := f.Field(key, label, "", 1, get, set, func(a, b string) bool {
		var x, y job.Job
		return set(&x, a) == nil && set(&y, b) == nil && x.Equal(y)
	})
	r.Object.(*widgets.Field).SetPlaceHolder(hint)
	return r
}

func ptr[T any](v T) *T { return &v }

// UnitShown is the sign of the unit in which the user sees what is kept in another.
// Units that are words are translated.
func UnitShown(kept phrase.Text) string {
	if unit := voice().Units().For(quantity.Unit(kept)); unit != quantity.Unit(kept) {
		return string(unit)
	}
	return tr(kept)
}

// ShowNumber writes a number that is kept in a unit as the user would type it.
func ShowNumber(n job.Number, unit phrase.Text) string {
	if !n.Given {
		return ""
	}
	v, _ := voice().Units().Show(n.Value, quantity.Unit(unit))
	return kit.AsTyped(v)
}

// ReadNumber reads a number typed in the user's unit for one that is kept in
// another.
func ReadNumber(text string, unit phrase.Text) (job.Number, error) {
	if strings.TrimSpace(text) == "" {
		return job.Number{}, nil
	}
	v, err := kit.ParseNumber(text)
	if err != nil {
		return job.Number{}, errors.New(with("“{{.Text}}” is not a number", map[string]any{"Text": text}))
	}
	return job.Num(voice().Units().Keep(v, quantity.Unit(unit))), nil
}

// ReadWhole reads a whole number; an empty text is 0, which the check of the
// job names where a number is needed.
func ReadWhole(text string) (int, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	v, err := kit.ParseNumber(text)
	if err != nil || v != math.Trunc(v) || math.Abs(v) > 1e6 {
		return 0, errors.New(with("“{{.Text}}” is not a whole number", map[string]any{"Text": text}))
	}
	return int(v), nil
}

// ParseWholes reads whole numbers with commas, spaces, dashes or semicolons
// between them.
func ParseWholes(text string) ([]int, error) {
	var list []int
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",; -–\t", r) }) {
		n, err := ReadWhole(w)
		if err != nil {
			return nil, err
		}
		list = append(list, n)
	}
	return list, nil
}

// ParseNumbers reads numbers with semicolons, spaces or commas between them. A comma
// is a decimal comma where there are semicolons, and in languages that have one
// also where it stands between two digits.
func ParseNumbers(text string) ([]float64, error) {
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

func SameNumber(a, b string) bool {
	if a == b {
		return true
	}
	x, errX := kit.ParseNumber(a)
	y, errY := kit.ParseNumber(b)
	return errX == nil && errY == nil && x == y
}

// ChoiceInput is one of a few words.
type ChoiceInput struct {
	Key     string
	names   []string
	values  []string
	Sel     *kit.Select
	message *widget.Label
	get     func(job.Job) string
}

func (i *ChoiceInput) Load(j job.Job) {
	v := i.get(j)
	for k, value := range i.values {
		if value == v && i.Sel.SelectedIndex() != k {
			i.Sel.SetSelectedIndex(k)
		}
	}
}

func (i *ChoiceInput) keys() []string { return []string{i.Key} }

func (i *ChoiceInput) asks(string) {} // what is chosen from a list is no slip

func (i *ChoiceInput) fault(message string) { kit.ShowMessage(i.message, message) }

func (i *ChoiceInput) Forget() {}

func (i *ChoiceInput) Focus() fyne.Focusable { return i.Sel }

// choice makes a choice between values, each with the name shown for it.
func (f *Form) choice(key, label string, names, values []string, get func(job.Job) string, set func(*job.Job, string)) Row {
	i := &ChoiceInput{Key: key, names: names, values: values, message: kit.MessageLabel(), get: get}
	i.Sel = kit.NewSelect(names, nil)
	i.Sel.OnChanged = func(string) {
		if k := i.Sel.SelectedIndex(); k >= 0 {
			f.edit(key, func(j *job.Job) { set(j, values[k]) })
			if !f.loading {
				f.U.Session.Seal()
			}
		}
	}
	f.Inputs = append(f.Inputs, i)
	f.U.Labels[key] = label
	return Row{label, container.NewVBox(i.Sel, i.message)}
}
