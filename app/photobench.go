package app

import (
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing/figure"
	"pinphase/timing/finding"
	"pinphase/timing/job"
	"pinphase/timing/part/photo"
	"pinphase/timing/part/photo/pixels"
	"pinphase/timing/plate"
	"pinphase/widgets"
)

// photoBench is where points are marked on a photograph of the part. The points
// are the job's: the view asks, the job changes, the view shows the job again.
type photoBench struct {
	p       *partPage
	content fyne.CanvasObject
	view    *widgets.PhotoView
	kinds   *widget.Select
	hint    *widget.Label
	found   *widget.Label

	feature figure.PartFeature
	path    string    // of the picture shown; "" for none
	places  []placeOf // of the view's marks, in their order
}

// placeOf says which of the job's points a mark of the view is.
type placeOf struct {
	kind  string
	index int
}

// pointKinds are the kinds of points, what they are called and how they are
// marked.
var pointKinds = []struct{ kind, name, hint string }{
	{"rim", "rim of the nose", "Mark five points or more, all round the rim of the face."},
	{"keyway", "keyway corners", "Mark the two corners where the keyway's walls meet the rim."},
	{"dowel", "dowel", "Mark the dowel's middle, or three points and more on its edge where it meets the face."},
	{"throw", "No. 1 throw", "Mark the throw's middle, or three points and more on its edge."},
	{"centre", "centre drilling", "Mark the middle of the centre drilling: it takes the perspective out."},
	{"bolts", "bolt holes", "Mark all holes of an evenly spaced circle, clockwise as you see them."},
}

func newPhotoBench(p *partPage) *photoBench {
	b := &photoBench{p: p, view: widgets.NewPhotoView(), hint: prose(), found: prose()}
	b.view.Placeholder = tr("Open a photograph of the crankshaft's end, or drop one here")
	b.view.Label = tr("photograph of the part")
	b.view.Looks = map[string]widgets.MarkLook{
		"rim": {Form: widgets.MarkRing, Role: figure.Commanded}, "keyway": {Form: widgets.MarkSquare, Role: figure.Keyway},
		"dowel": {Form: widgets.MarkDiamond, Role: figure.Measured}, "throw": {Form: widgets.MarkCross, Role: figure.Cursor},
		"bolts": {Form: widgets.MarkTriangle, Role: figure.Tooth}, "centre": {Form: widgets.MarkCross, Role: figure.Cursor},
	}
	b.kinds = widget.NewSelect(nil, func(string) { b.setKind() })
	b.view.OnPlace = func(kind string, x, y float64) {
		b.edit("", kind, func(list []job.Point) []job.Point { return append(list, job.Point{X: x, Y: y}) })
	}
	b.view.OnMove = func(i int, x, y float64) {
		at := b.places[i]
		b.edit(fmt.Sprint(at.index), at.kind, func(list []job.Point) []job.Point {
			list[at.index] = job.Point{X: x, Y: y}
			return list
		})
	}
	b.view.OnMoveEnd = func(int) { b.p.u.session.Seal() }
	b.view.OnRemove = func(i int) {
		at := b.places[i]
		b.edit("", at.kind, func(list []job.Point) []job.Point { return append(list[:at.index:at.index], list[at.index+1:]...) })
	}
	b.view.OnKey = p.u.key
	b.view.Overlay = b.overlay
	b.found.TextStyle.Bold = true
	open := widget.NewButton(tr("Open a photograph…"), b.open)
	zoom := func(text string, f func()) fyne.CanvasObject { return widget.NewButton(text, f) }
	bar := container.NewHBox(open, widget.NewLabel(tr("Mark")), b.kinds,
		zoom("+", func() { b.view.Zoom(1.5) }), zoom("−", func() { b.view.Zoom(1 / 1.5) }), zoom(tr("Fit"), b.view.Fit))
	b.content = container.NewBorder(container.NewVBox(container.NewHScroll(bar), b.hint), b.found, nil, nil, b.view)
	return b
}

func (b *photoBench) section() string { return [...]string{"dowel", "keyway"}[b.feature] }

// reading is the photograph's in a job; nil where the job has none.
func (b *photoBench) reading(j *job.Job) *job.Reading {
	f := *featureOf(b.section())(j)
	if f == nil || f.Measured == nil || f.Measured.Method != "photo" {
		return nil
	}
	return f.Measured
}

// pointsOf is the list of a kind's points in a reading.
func pointsOf(r *job.Reading, kind string) *[]job.Point {
	switch kind {
	case "keyway":
		return &r.Keyway
	case "dowel":
		return &r.Dowel
	case "throw":
		return &r.Throw
	case "centre":
		return &r.Centre
	case "bolts":
		return &r.Bolts
	}
	return &r.Rim
}

// kindsHere are the kinds of points that the feature shown has.
func (b *photoBench) kindsHere() (kinds, names []string) {
	other := "throw"
	if b.feature == figure.KeywayFromThrow {
		other = "dowel"
	}
	for _, k := range pointKinds {
		if k.kind != other {
			kinds, names = append(kinds, k.kind), append(names, tr(k.name))
		}
	}
	return kinds, names
}

// edit changes one kind's points. Edits of the same point in a row, as while it is
// dragged, are one step for undo; a which of "" is a step of its own.
func (b *photoBench) edit(which, kind string, change func([]job.Point) []job.Point) {
	u := b.p.u
	u.edit(b.section()+".measured."+kind+" "+which, func(j *job.Job) {
		if r := b.reading(j); r != nil {
			list := pointsOf(r, kind)
			*list = change(*list)
		}
	})
	if which == "" {
		u.session.Seal()
	}
}

func (b *photoBench) setKind() {
	kinds, _ := b.kindsHere()
	if k := b.kinds.SelectedIndex(); k >= 0 && k < len(kinds) {
		b.view.PlaceKind = kinds[k]
		for _, p := range pointKinds {
			if p.kind == kinds[k] {
				b.hint.SetText(tr(p.hint))
			}
		}
	}
}

// load shows the job's photograph with its points.
func (b *photoBench) load(feature figure.PartFeature) {
	b.feature = feature
	kinds, names := b.kindsHere()
	if strings.Join(b.kinds.Options, "\n") != strings.Join(names, "\n") {
		b.kinds.SetOptions(names)
		b.kinds.SetSelectedIndex(0)
	}
	j := b.p.u.session.Job() // with the points just placed, too few as they may be
	r := b.reading(&j)
	if r == nil {
		return
	}
	b.show(r.File)
	b.places = b.places[:0]
	var marks []widgets.Mark
	for _, kind := range kinds {
		for i, p := range *pointsOf(r, kind) {
			marks = append(marks, widgets.Mark{Kind: kind, X: p.X, Y: p.Y})
			b.places = append(b.places, placeOf{kind, i})
		}
	}
	b.view.SetMarks(marks)
	b.found.SetText(b.finds())
}

// finds says what the marks show, or what is wanted yet.
func (b *photoBench) finds() string {
	u := b.p.u
	u.shown()
	if result, ok := u.photos.results[b.section()+".measured"]; ok && len(u.session.Faults()) == 0 {
		var words []string
		for _, s := range finding.PhotoNotes(result) {
			words = append(words, say(s))
		}
		return strings.Join(words, " ")
	}
	if wrong, _ := u.wrong(); wrong != "" {
		return strings.ReplaceAll(wrong, "\n", "; ")
	}
	if u.photos.err != nil {
		return u.form.errorWords(u.photos.err)
	}
	return ""
}

// overlay draws the fitted rim and the angle over the picture.
func (b *photoBench) overlay(t widgets.Transform) figure.Drawing {
	result, ok := b.p.u.photos.results[b.section()+".measured"]
	if !ok || b.path == "" {
		return figure.Drawing{}
	}
	in := plate.PhotoMarks(result, say)
	in.Scale, in.X, in.Y = t.Scale, t.DX, t.DY
	size := b.view.Size()
	in.W, in.H = float64(size.Width)*0.75, float64(size.Height)*0.75 // points to the unit
	return figure.PhotoMarks(in)
}

// show brings a picture onto the view; reading it is done beside the main
// goroutine, for a phone's picture takes longer than a frame.
func (b *photoBench) show(file string) {
	path := file
	if file != "" && !filepath.IsAbs(file) {
		path = filepath.Join(b.p.u.folder(), file)
	}
	if path == b.path {
		return
	}
	b.path = path
	b.view.SetPicture(nil)
	if path == "" {
		return
	}
	b.p.u.background(func() func() {
		img, _, err := pixels.Load(path, 0)
		var pyramid *widgets.Pyramid
		if err == nil {
			pyramid = widgets.NewPyramid(img)
		}
		return func() {
			switch {
			case b.path != path: // another one was opened meanwhile
			case err != nil:
				b.p.u.tell(err)
			default:
				b.view.SetPicture(pyramid)
			}
		}
	})
}

// background works beside the main goroutine and then shows the result on it. What
// work needs it must be given; it must not touch the window.
func (u *ui) background(work func() (show func())) {
	if u.inTurn { // tests have no main goroutine to come back to
		work()()
		return
	}
	go func() {
		show := work()
		fyne.Do(show)
	}()
}

// open lets the user choose a photograph.
func (b *photoBench) open() {
	u := b.p.u
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			u.tell(err)
			return
		}
		if r != nil {
			path := r.URI().Path()
			r.Close()
			b.take(path)
		}
	}, u.window)
	d.SetTitleText(tr("Open a photograph"))
	d.SetFilter(storage.NewExtensionFileFilter(pictureEndings))
	if u.folder() != "" {
		if at, err := storage.ListerForURI(storage.NewFileURI(u.folder())); err == nil {
			d.SetLocation(at)
		}
	}
	d.Resize(u.dialogSize())
	u.show(d)
}

var pictureEndings = []string{".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".JPG", ".JPEG", ".PNG", ".WEBP", ".HEIC"}

// take makes a file the photograph of the feature shown. Points of another
// picture mean nothing on it and are taken away, which undo brings back.
func (b *photoBench) take(path string) {
	u := b.p.u
	if _, err := photo.InspectFile(path); err != nil {
		u.tell(err)
		return
	}
	file := path
	if folder := u.folder(); folder != "" {
		if rel, err := filepath.Rel(folder, path); err == nil && !strings.HasPrefix(rel, "..") {
			file = rel
		}
	}
	u.edit(b.section()+".measured.file", func(j *job.Job) {
		r := b.reading(j)
		if r == nil {
			return
		}
		*r = job.Reading{Method: "photo", SeenFrom: r.SeenFrom, File: filepath.ToSlash(file)}
	})
	u.session.Seal()
}

// shown tells whether the photograph is what the page shows.
func (b *photoBench) shown() bool {
	o := b.p.right.Objects
	return len(o) == 1 && o[0] == b.content
}
