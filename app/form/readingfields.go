package form

import (
	"errors"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
)

// methodRows are the fields of one method.
func (e *ReadingEditor) methodRows(m int) fyne.CanvasObject {
	var rows []Row
	for _, fd := range job.Methods[m].Fields(e.Section) {
		rows = append(rows, e.field(m, readingField(fd)))
	}
	if m == Photograph {
		return container.NewVBox(e.Picture, Stacked(rows))
	}
	return Stacked(rows)
}

// field is a field of a reading. It is loaded and shown by the editor, not by
// the form, because only the fields of one method are in use.
func (e *ReadingEditor) field(m int, fd readingField) Row {
	get, set, same := fd.asNumbers()
	if fd.Points != nil {
		get, set, same = fd.asPoint()
	}
	n := len(e.f.Inputs)
	r := e.f.Field(e.key()+"."+fd.Key, tr(fd.Label), UnitShown(fd.Unit), 1,
		func(j job.Job) string {
			if r := e.reading(&j); r != nil {
				return get(r)
			}
			return ""
		},
		func(j *job.Job, s string) error {
			if r := e.reading(j); r != nil {
				return set(r, s)
			}
			return nil
		}, same)
	i := e.f.Inputs[n].(*FieldInput)
	i.reading = true
	if fd.Again != nil {
		i.Field.SetPlaceHolder(tr("one, or several with ;"))
	}
	if fd.Empty > 0 { // of a drawing it is exact
		empty := "0"
		if e.Which != "drawing" {
			empty = ShowNumber(job.Num(fd.Empty), fd.Unit)
		}
		i.Field.SetPlaceHolder(with("{{.Value}} if empty", map[string]any{"Value": empty}))
	}
	e.f.Inputs = e.f.Inputs[:n]
	e.Inputs[m] = append(e.Inputs[m], i)
	if sizes := fd.sizes(); sizes != nil {
		picker := container.New(kit.Sized{Width: 88}, newSizePicker(sizes, i.Put))
		r.Object = container.NewBorder(nil, nil, nil, container.NewVBox(picker), r.Object)
	}
	return r
}

// asNumbers reads and writes a field of one number, or of several where it was
// read several times.
func (fd readingField) asNumbers() (get func(*job.Reading) string, set func(*job.Reading, string) error, same func(a, b string) bool) {
	if fd.Again == nil {
		return func(r *job.Reading) string { return ShowNumber(*fd.Number(r), fd.Unit) },
			func(r *job.Reading, s string) error {
				n, err := ReadNumber(s, fd.Unit)
				if err == nil {
					*fd.Number(r) = n
				}
				return err
			}, SameNumber
	}
	return func(r *job.Reading) string {
			text := ShowNumber(*fd.Number(r), fd.Unit)
			for _, v := range *fd.Again(r) {
				text += "; " + ShowNumber(job.Num(v), fd.Unit)
			}
			return text
		},
		func(r *job.Reading, s string) error {
			list, err := parseRepeats(s)
			if err != nil {
				return err
			}
			for i, v := range list {
				list[i] = voice().Units().Keep(v, quantity.Unit(fd.Unit))
			}
			*fd.Number(r), *fd.Again(r) = job.Number{}, nil
			if len(list) > 0 {
				*fd.Number(r) = job.Num(list[0])
				*fd.Again(r) = list[1:]
			}
			return nil
		}, sameRepeats
}

// asPoint reads and writes a field of one point.
func (fd readingField) asPoint() (get func(*job.Reading) string, set func(*job.Reading, string) error, same func(a, b string) bool) {
	return func(r *job.Reading) string {
			if p := *fd.Points(r); len(p) == 1 {
				return kit.AsTyped(p[0].X) + "; " + kit.AsTyped(p[0].Y)
			}
			return ""
		},
		func(r *job.Reading, s string) error {
			p, err := parsePoint(s)
			if err == nil {
				*fd.Points(r) = p
			}
			return err
		}, samePoint
}

// parsePoint reads "x; y" or "x, y" with decimal points. An empty text is no
// point.
func parsePoint(text string) ([]job.Point, error) {
	list, err := ParseNumbers(text)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	if len(list) != 2 {
		return nil, errors.New(tr("must be two numbers, x and y, as in 12.5; −3"))
	}
	return []job.Point{{X: list[0], Y: list[1]}}, nil
}

func samePoint(a, b string) bool {
	x, errX := parsePoint(a)
	y, errY := parsePoint(b)
	return errX == nil && errY == nil && slices.Equal(x, y)
}
