package finding

import (
	"errors"
	"reflect"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
)

// Photos are the angles that were taken from a job's photographs, by the key of
// their reading: "dowel.measured".
type Photos map[string]photo.Result

// Inspector says what a picture says of itself; [photo.InspectFile] is the real
// one.
type Inspector func(path string) (photo.Info, error)

// WithPhotos returns the job with every reading from a photograph replaced by the
// angle that the photograph shows, so that whatever works with angles need know
// no pictures. folder is that of the job file, to which a picture's name is
// relative. draws is how often the uncertainty is drawn, 0 for
// [photo.DefaultDraws]; fewer are coarser and follow a point that is being dragged.
// A picture that cannot be read is an ordinary error; marks from which no angle
// follows are [job.Faults]. A job without photographs comes back as it is. Of several
// parts the two that are compared count: see [job.Job.Compared]. The job given is not
// changed.
func WithPhotos(j job.Job, folder string, inspect Inspector, draws int) (job.Job, Photos, error) {
	return PhotoMemory{}.WithPhotos(j, folder, inspect, draws)
}

// PhotoMemory keeps what was measured on photographs, by the key of the reading, so that
// of many only the one whose points are moved is measured anew. It is for one goroutine.
type PhotoMemory map[string]remembered

type remembered struct {
	marks   photo.Marks
	options photo.Options
	result  photo.Result
	err     error
}

// WithPhotos is [WithPhotos], with the angles that are remembered where marks and picture
// are the same. One that was drawn more often than is asked for serves too.
func (p PhotoMemory) WithPhotos(j job.Job, folder string, inspect Inspector, draws int) (job.Job, Photos, error) {
	found := Photos{}
	var faults job.Faults
	var failed []error
	next := j.Clone()
	next.EachReading(func(key string, r *job.Reading) {
		if r.Method != "photo" || j.KeyOf(key) != key { // the part's own reading stands for it
			return
		}
		info, err := inspect(photo.InFolder(folder, r.File))
		if err != nil {
			failed = append(failed, err)
			return
		}
		if draws == 0 {
			draws = photo.DefaultDraws
		}
		o := photo.Options{Picture: info, Draws: draws}
		if r.UPx.Given {
			o.UPx = r.UPx.Value
		}
		result, err := p.measure(key, MarksOf(*r), o)
		if err != nil {
			faults = append(faults, markFault(key, err))
			return
		}
		found[key] = result
		*r = angleSeen(*r, result)
	})
	if len(faults) > 0 {
		return j.Compared(), found, faults
	}
	if len(found) == 0 {
		next = j
	}
	next = next.Compared()
	for _, section := range []string{"dowel", "keyway"} {
		for _, which := range []string{"drawing", "measured"} {
			key := section + "." + which
			if result, ok := found[next.KeyOf(key)]; ok {
				found[key] = result
			}
		}
	}
	return next, found, errors.Join(failed...)
}

// measure measures on a photograph, or remembers what it showed.
func (p PhotoMemory) measure(key string, marks photo.Marks, o photo.Options) (photo.Result, error) {
	was, ok := p[key]
	finer := was.options
	finer.Draws = o.Draws
	if ok && was.options.Draws >= o.Draws && finer == o && reflect.DeepEqual(was.marks, marks) {
		return was.result, was.err
	}
	result, err := photo.Measure(marks, o)
	p[key] = remembered{marks, o, result, err}
	return result, err
}

// readingIn is a reading of the job by its section and whether it is the drawing's
// or the measured one; nil when there is none.
func readingIn(j *job.Job, section, which string) *job.Reading {
	f := j.Dowel
	if section == "keyway" {
		f = j.Keyway
	}
	switch {
	case f == nil:
		return nil
	case which == "drawing":
		return f.Drawing
	}
	return f.Measured
}

// MarksOf returns the points a reading from a photograph was given.
func MarksOf(r job.Reading) photo.Marks {
	points := func(list []job.Point) []photo.Point {
		out := make([]photo.Point, len(list))
		for i, p := range list {
			out[i] = photo.Point{X: p.X, Y: p.Y}
		}
		return out
	}
	return photo.Marks{
		Rim: points(r.Rim), Keyway: points(r.Keyway), Dowel: points(r.Dowel),
		Throw: points(r.Throw), Bolts: points(r.Bolts), Centre: points(r.Centre),
	}
}

func markFault(key string, err error) job.Fault {
	var marks *photo.MarkError
	if errors.As(err, &marks) {
		return job.Fault{Key: key + "." + marks.Key, Message: marks.Message, Says: marks.Says}
	}
	return job.Fault{Key: key, Message: err.Error(), Says: phrase.From(err)}
}

// angleSeen is a reading that says as an angle what a photograph showed.
func angleSeen(r job.Reading, p photo.Result) job.Reading {
	size, side := p.Clockwise.Value, timing.Clockwise
	if r.Mirror == job.MirrorMirrored {
		size = -size
	}
	if size < 0 {
		size, side = -size, timing.Anticlockwise
	}
	return job.Reading{
		Method: "angle", SeenFrom: r.SeenFrom, Side: side.String(),
		AngleDeg: job.Num(float64(size)), UDeg: job.Num(float64(p.Clockwise.U)),
	}
}

// The sentences about a photograph.
const (
	photoFound   phrase.Text = "The photograph shows {{.Size}}° {{.Side}} in the picture (± {{.U}}° standard uncertainty), from the {{.Basis}}; the camera was tilted by {{.Tilt}}°."
	photoOblique phrase.Text = "The camera was tilted by {{.Value}}°; beyond 35° do not trust the angle. Take it again with the camera straight in front of the shaft, 6 to 10 nose diameters away, so that the rim looks round."
	photoNear    phrase.Text = "The camera was only about {{.Value}} nose diameters away. Take it again from 6 to 10 nose diameters, straight in front of the shaft, and zoom in until the face fills half of the picture; or mark the centre drilling."
	photoWide    phrase.Text = "The unknown perspective makes up {{.Value}}° of the uncertainty; marking the centre drilling removes that."
	photoShort   phrase.Text = "The points cover only {{.Value}}° of the rim; spread them around all of it."
	photoFive    phrase.Text = "Five rim points fit any ellipse: mark more, to see how well they fit."
	photoMisfit  phrase.Text = "The rim points miss the fitted rim by {{.Value}} px; look for a misplaced one."
	photoCorners phrase.Text = "A corner of the keyway lies off the rim by {{.Value}} % of its radius; mark where its walls meet the rim."
	photoKeyway  phrase.Text = "The keyway's corners are {{.Value}}° apart, wide for a keyway."
	photoCentre  phrase.Text = "The centre mark lies {{.Value}} px from where a camera would see the centre."
	photoBolts   phrase.Text = "The bolt holes miss an evenly spaced circle by {{.Value}} px; they may not be evenly spaced, or one is misplaced."
	photoRimBolt phrase.Text = "The rim's centre is {{.Value}} % of its radius from that of the bolt holes."
	photoRimOdd  phrase.Text = "No ellipse fits the rim points; the bolt holes alone were used."
	photoOutside phrase.Text = "{{.Value}} points lie outside the picture."
	photoProud   phrase.Text = "If the dowel stands proud of the face, mark it where it meets the face: {{.Height}} of height moves its mark by {{.Value}}."
	photoFront   phrase.Text = "The picture was taken with a front camera, which may store it mirrored. Photograph again with the rear camera, or make sure that writing in it can be read."
	photoThrow   phrase.Text = "The throw lies behind the face: {{.Height}} of depth moves its mark by {{.Value}}."
)

var photoWarnings = map[photo.Kind]phrase.Text{
	photo.Oblique: photoOblique, photo.Near: photoNear, photo.Perspective: photoWide, photo.ShortArc: photoShort, photo.NoResidual: photoFive,
	photo.RimMisfit: photoMisfit, photo.CornersOffRim: photoCorners, photo.WideKeyway: photoKeyway, photo.CentreUnlikely: photoCentre,
	photo.BoltMisfit: photoBolts, photo.RimOffBolts: photoRimBolt, photo.RimUnfit: photoRimOdd, photo.Outside: photoOutside,
	photo.Standing: photoProud, photo.ThrowBehind: photoThrow, photo.FrontCamera: photoFront,
}

// PhotoNotes are what must be known about an angle from a photograph.
func PhotoNotes(p photo.Result) []phrase.Sentence {
	size, side := p.Clockwise.Value, timing.Clockwise
	if size < 0 {
		size, side = -size, timing.Anticlockwise
	}
	list := []phrase.Sentence{{Text: photoFound, Data: map[string]any{
		"Size": deg(size), "Side": side.Text(), "U": fine(p.Clockwise.U), "Basis": p.Basis.Text(), "Tilt": deg(p.Tilt.Value)}}}
	for _, w := range p.Warnings {
		data := map[string]any{"Value": phrase.Num{Value: w.Value, Decimals: 1}}
		if w.Kind == photo.Standing || w.Kind == photo.ThrowBehind {
			data = map[string]any{"Value": mm(w.Value, 1), "Height": mm(1, 0)}
		}
		list = append(list, phrase.Sentence{Text: photoWarnings[w.Kind], Data: data})
	}
	return list
}
