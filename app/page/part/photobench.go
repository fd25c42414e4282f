package part

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/widgets"
)

// photoBench is the photograph of the part with its points. The points are the
// job's: the view asks, the job changes, the view shows the job again.
type photoBench struct {
	p       *page
	content fyne.CanvasObject
	view    *widgets.PhotoView
	remove  *kit.TipButton
	found   *widget.Label
	mirror  *kit.Select // how it is known whether the photograph is mirrored

	feature figure.PartFeature
	which   string // of its readings: "drawing", "measured" or [form.Other]
	of      int    // the part's place, where several are there
	picture photograph
	places  []placeOf // of the view's marks, in their order
	beside  []figure.PhotoPlace
	rim     *photo.Ellipse // fitted to the rim's points while the others are wanted yet
	snap    *snapping
}

// placeOf says which of the job's points a mark of the view is.
type placeOf struct {
	kind  string
	index int
}

func newPhotoBench(p *page) *photoBench {
	b := &photoBench{p: p, which: "measured", view: widgets.NewPhotoView(), found: kit.Prose()}
	b.view.Label = tr("photograph of the part")
	b.view.Looks = map[string]widgets.MarkLook{
		"rim": {Form: widgets.MarkRing, Role: figure.Commanded}, "keyway": {Form: widgets.MarkSquare, Role: figure.Keyway},
		"dowel": {Form: widgets.MarkDiamond, Role: figure.Measured}, "throw": {Form: widgets.MarkCross, Role: figure.Cursor},
		"bolts": {Form: widgets.MarkTriangle, Role: figure.Tooth}, "centre": {Form: widgets.MarkCross, Role: figure.Cursor},
	}
	b.view.OnPlace = b.placed
	b.view.OnMove = func(i int, x, y float64) {
		at := b.places[i]
		b.p.u.Photos.Coarse = true
		b.edit(fmt.Sprint(at.index), at.kind, func(list []job.Point) []job.Point {
			list[at.index] = job.Point{X: x, Y: y}
			return list
		})
	}
	b.view.OnMoveEnd = func(int) {
		b.p.u.Session.Seal()
		b.p.u.Photos.Coarse = false
		b.p.u.Reload()
	}
	b.view.OnRemove = func(i int) {
		at := b.places[i]
		b.edit("", at.kind, func(list []job.Point) []job.Point { return append(list[:at.index:at.index], list[at.index+1:]...) })
	}
	b.view.OnSelect = func(int) { b.loadRemove() }
	b.view.OnKey = p.u.Key
	b.view.Overlay = b.overlay
	b.found.TextStyle.Bold = true
	b.remove = p.u.NewTipButton(theme.DeleteIcon(), tr("Remove the point"), func() {
		b.view.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
		b.loadRemove()
	})
	tools := container.NewVBox(
		p.u.NewTipButton(theme.ZoomInIcon(), tr("Zoom in"), func() { b.view.Zoom(1.5) }),
		p.u.NewTipButton(theme.ZoomOutIcon(), tr("Zoom out"), func() { b.view.Zoom(1 / 1.5) }),
		p.u.NewTipButton(theme.ZoomFitIcon(), tr("Fit"), b.view.Fit),
		b.remove)
	b.mirror = kit.NewSelect([]string{tr("not known"), tr("no: writing in it can be read"), tr("no: the turning direction marked on the part is right"), tr("yes: writing in it is reversed")}, func(string) { b.mirrored() })
	asked := container.NewBorder(nil, nil, widget.NewLabel(tr("Is the photograph mirrored?")), nil, b.mirror)
	b.snap = newSnapping(b)
	b.content = container.NewBorder(nil, container.NewVBox(b.snap.content, asked, container.New(&kit.Steady{}, b.found)), nil, tools, b.view)
	b.picture.bench = b
	b.loadRemove()
	return b
}

// mirrors are the answers to whether a photograph is mirrored, in the order of the list.
var mirrors = []string{"", job.MirrorWriting, job.MirrorRotation, job.MirrorMirrored}

// mirrored puts the answer into the job.
func (b *photoBench) mirrored() {
	j := b.p.u.Session.Job()
	to := mirrors[max(0, b.mirror.SelectedIndex())]
	if r := b.reading(&j); r == nil || r.Mirror == to {
		return
	}
	b.p.u.Session.Seal()
	b.p.u.Edit(b.key()+".mirror", func(j *job.Job) { b.reading(j).Mirror = to })
	b.p.u.Session.Seal()
}

func (b *photoBench) section() string { return desk.SectionOf(b.feature) }

// key is that of the reading whose photograph is shown.
func (b *photoBench) key() string {
	which := b.p.readingOf(b.which)
	if b.which == form.Other {
		return which + "." + b.section()
	}
	return b.section() + "." + which
}

// reading is the one whose photograph is shown, nil where it is not of one.
func (b *photoBench) reading(j *job.Job) *job.Reading {
	return desk.PhotoIn(j, b.section(), b.p.readingOf(b.which))
}

// panel is the one beside the photograph shown.
func (b *photoBench) panel() *marksPanel { return b.p.benches[b.feature].marks[b.which] }

// placed puts a point where the user clicked. Of a kind that is complete the
// nearest point comes there instead.
func (b *photoBench) placed(kind string, x, y float64) {
	to, most := b.snap.moved(kind, x, y), kindOf(kind).most
	n := 0
	b.edit("", kind, func(list []job.Point) []job.Point {
		if most == 0 || len(list) < most {
			list = append(list, to)
		} else {
			list[nearestPoint(list, to)] = to
		}
		n = len(list)
		return list
	})
	own := desk.FeatureKind(b.section())
	j := b.p.u.Session.Job()
	if r := b.reading(&j); r != nil && kind == "keyway" && n == most && len(*desk.PointsOf(r, own)) == 0 {
		b.panel().set(own)
	}
	b.snap.placed(kind)
}

func nearestPoint(list []job.Point, to job.Point) int {
	best, least := 0, math.Inf(1)
	for i, p := range list {
		if d := math.Hypot(p.X-to.X, p.Y-to.Y); d < least {
			best, least = i, d
		}
	}
	return best
}

// edit changes one kind's points. Edits of the same point in a row, as while it is
// dragged, are one step for undo; a which of "" is a step of its own.
func (b *photoBench) edit(which, kind string, change func([]job.Point) []job.Point) {
	u := b.p.u
	if which == "" {
		u.Session.Seal()
	}
	u.Edit(b.key()+"."+kind+" "+which, func(j *job.Job) {
		if r := b.reading(j); r != nil {
			list := desk.PointsOf(r, kind)
			*list = change(*list)
		}
	})
	if which == "" {
		u.Session.Seal()
	}
}

// clear takes all points away, in one step.
func (b *photoBench) clear() {
	b.p.u.Session.Seal()
	b.p.u.Edit(b.key(), func(j *job.Job) {
		if r := b.reading(j); r != nil {
			for _, k := range pointKinds {
				*desk.PointsOf(r, k.kind) = nil
			}
		}
	})
	b.p.u.Session.Seal()
	b.panel().set("rim")
}

// load shows the photograph of one of a feature's readings with its points.
func (b *photoBench) load(feature figure.PartFeature, which string) {
	if b.feature != feature || b.which != which || b.of != b.p.parts.chosen {
		b.feature, b.which, b.of = feature, which, b.p.parts.chosen
		b.view.Select(-1)
		b.snap.clear()
	}
	j := b.p.u.Session.Job()
	r := b.reading(&j)
	b.snap.keep(r)
	if r == nil {
		return
	}
	b.picture.show(r.File)
	b.mirror.SetSelectedIndex(max(0, slices.Index(mirrors, r.Mirror)))
	b.places = b.places[:0]
	var marks []widgets.Mark
	for _, kind := range b.panel().kinds {
		for i, p := range *desk.PointsOf(r, kind) {
			marks = append(marks, widgets.Mark{Kind: kind, X: p.X, Y: p.Y})
			b.places = append(b.places, placeOf{kind, i})
		}
	}
	b.rim = nil
	if _, ok := b.result(); !ok && len(r.Rim) >= 5 {
		if e, _, err := photo.FitEllipse(finding.MarksOf(*r).Rim); err == nil {
			b.rim = &e
		}
	}
	b.beside = b.beside[:0:0]
	for _, m := range marks {
		b.beside = append(b.beside, figure.PhotoPlace{X: m.X, Y: m.Y})
	}
	b.view.SetMarks(marks)
	b.loadFound()
	b.loadRemove()
}

func (b *photoBench) loadRemove() {
	if b.view.Selected() >= 0 {
		b.remove.Enable()
	} else {
		b.remove.Disable()
	}
}

// result is the angle that the points in the view show, if they show one.
func (b *photoBench) result() (photo.Result, bool) { return b.resultOf(b.key()) }

func (b *photoBench) resultOf(key string) (photo.Result, bool) {
	u := b.p.u
	if len(u.Session.Faults()) > 0 {
		return photo.Result{}, false
	}
	u.Known()
	r, ok := u.Photos.Results[key]
	return r, ok
}

// notes are what must be known about the angles from a feature's photographs, as
// paragraphs.
func (b *photoBench) notes(feature figure.PartFeature) (list []string) {
	if r, ok := b.resultOf(desk.SectionOf(feature) + ".measured"); ok {
		for _, s := range finding.PhotoNotes(r)[1:] {
			list = append(list, say(s))
		}
	}
	if r, ok := b.resultOf(desk.SectionOf(feature) + ".drawing"); ok {
		for _, s := range finding.PhotoNotes(r)[1:] {
			list = append(list, with("On the drawing's photograph: {{.What}}", map[string]any{"What": say(s)}))
		}
	}
	return list
}

// loadFound says what the points show, or what is wanted yet.
func (b *photoBench) loadFound() {
	text := b.finds()
	if text != b.found.Text {
		b.found.SetText(text)
		b.found.Hidden = text == ""
	}
}

func (b *photoBench) finds() string {
	u := b.p.u
	if b.picture.failed != nil {
		return oneLine(voice().Error(b.picture.failed)) + ". " + tr("The points are kept: open the photograph again from where it is now.")
	}
	if text := u.Unfinished(); text != "" {
		return text
	}
	if wrong, _ := u.Wrong(); wrong != "" {
		return oneLine(wrong)
	}
	if r, ok := b.result(); ok {
		return say(finding.PhotoNotes(r)[0])
	}
	if u.Photos.Err != nil {
		return oneLine(u.ErrorWords(u.Photos.Err))
	}
	return ""
}

func oneLine(text string) string { return strings.ReplaceAll(text, "\n", "; ") }

// overlay draws the fitted rim and the angle over the picture.
func (b *photoBench) overlay(t widgets.Transform) figure.Drawing {
	var in figure.PhotoMarksInput
	if r, ok := b.result(); ok {
		in = chart.PhotoMarks(r, say)
	} else if b.rim != nil {
		in = chart.PhotoRim(*b.rim)
	} else if b.snap.kind == "" {
		return figure.Drawing{}
	}
	if e := b.snap.rim; e != nil {
		in.Rim, in.Proposed = chart.PhotoRim(*e).Rim, true
	}
	for _, p := range b.snap.points {
		in.Points = append(in.Points, figure.PhotoPoint{PhotoPlace: figure.PhotoPlace{X: p.X, Y: p.Y}, Kind: proposedKinds[b.snap.kind]})
	}
	in.Beside = b.beside
	if t != b.view.View() {
		in.Value = "" // it would hide what the loupe is for
	}
	in.Scale, in.X, in.Y = t.Scale, t.DX, t.DY
	size := b.view.Size()
	in.W, in.H = float64(size.Width)*pointsPerUnit, float64(size.Height)*pointsPerUnit
	return figure.PhotoMarks(in)
}

// proposedKinds are the forms of points that are proposed.
var proposedKinds = map[string]figure.PhotoKind{"rim": figure.RimPoint, "bolts": figure.BoltPoint}
