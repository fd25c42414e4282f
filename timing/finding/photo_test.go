package finding

import (
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

// seenFrom is where a tilted camera sees a point of the face at an angle clockwise
// from the top and a distance from the axis: without perspective, the face turned
// about the picture's x by tilt (y is shortened by its cosine).
func seenFrom(tilt float64, clockwise timing.Deg, radius float64) job.Point {
	sin, cos := math.Sincos(clockwise.Radians())
	return job.Point{X: 1000 + radius*sin, Y: 800 - radius*cos*math.Cos(timing.Deg(tilt).Radians())}
}

// photographed is a reading from a picture of a face of 400 px radius, keyway at
// the top, dowel at an angle.
func photographed(tilt float64, clockwise timing.Deg) *job.Reading {
	r := &job.Reading{Method: "photo", File: "nose.jpg"}
	for a := timing.Deg(0); a < 360; a += 30 {
		r.Rim = append(r.Rim, seenFrom(tilt, a+15, 400))
	}
	r.Keyway = []job.Point{seenFrom(tilt, -5, 400), seenFrom(tilt, 5, 400)}
	r.Dowel = []job.Point{seenFrom(tilt, clockwise, 250)}
	return r
}

// square and far away is a camera with so long a lens that there is no
// perspective.
func farCamera(path string) (photo.Info, error) {
	return photo.Info{Format: "JPEG", Width: 2000, Height: 1600, FocalPx: 40_000}, nil
}

func photoJobOf(dowel, keyway *job.Reading) job.Job {
	j := job.Job{Format: 1, Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}, Rotation: "clockwise"}}
	if dowel != nil {
		j.Dowel = &job.Feature{Measured: dowel}
	}
	if keyway != nil {
		j.Keyway = &job.Feature{Measured: keyway}
	}
	return j
}

func TestWithPhotosGivesTheAngle(t *testing.T) {
	for _, tilt := range []float64{0, 12, 25} {
		for _, want := range []timing.Deg{-40, -12.5, 12.5, 120} {
			j := photoJobOf(photographed(tilt, want), nil)
			was := j.Clone()
			next, found, err := WithPhotos(j, "/jobs", farCamera, 0)
			if err != nil {
				t.Fatal(err)
			}
			if !j.Equal(was) {
				t.Fatal("the job given was changed")
			}
			r := found["dowel.measured"]
			if d := math.Abs(float64(r.Clockwise.Value - want)); d > 3*float64(r.Clockwise.U)+0.05 {
				t.Errorf("tilt %g: %v, want %g", tilt, r.Clockwise, float64(want))
			}
			p, err := PartOf(next)
			if err != nil {
				t.Fatal(err)
			}
			// Clockwise as seen from the nose is with the rotation.
			if got := *p.Dowel.MeasuredDeg; math.Abs(got-float64(r.Clockwise.Value)) > 1e-9 {
				t.Errorf("the part has %g, the photograph %g", got, float64(r.Clockwise.Value))
			}
			if got := *p.Dowel.UDeg; math.Abs(got-float64(r.Clockwise.U)) > 1e-9 || got <= 0 {
				t.Errorf("the part has ± %g, the photograph ± %g", got, float64(r.Clockwise.U))
			}
		}
	}
}

func TestPhotoSeenFromTheFlywheelIsTurnedRound(t *testing.T) {
	r := photographed(0, 20)
	r.SeenFrom = "flywheel"
	next, _, err := WithPhotos(photoJobOf(r, nil), "", farCamera, 0)
	if err != nil {
		t.Fatal(err)
	}
	p, err := PartOf(next)
	if err != nil || math.Abs(*p.Dowel.MeasuredDeg+20) > 0.5 {
		t.Errorf("20° clockwise from the flywheel is %v, %v", p.Dowel, err)
	}
}

func TestPictureIsSoughtFromTheJob(t *testing.T) {
	var paths []string
	look := func(path string) (photo.Info, error) { paths = append(paths, path); return farCamera(path) }
	r := photographed(0, 20)
	full := filepath.Join(t.TempDir(), "nose.jpg")
	for _, file := range []string{"nose.jpg", full} {
		r.File = file
		if _, _, err := WithPhotos(photoJobOf(r, nil), "jobs", look, 0); err != nil {
			t.Fatal(err)
		}
	}
	if len(paths) != 2 || paths[0] != filepath.Join("jobs", "nose.jpg") || paths[1] != full {
		t.Errorf("looked at %q", paths)
	}
}

func TestPhotoFaultNamesItsKey(t *testing.T) {
	line := photographed(0, 20)
	for i := range line.Rim {
		line.Rim[i] = job.Point{X: float64(100 * i), Y: float64(50 * i)}
	}
	few := photographed(0, 20)
	few.Rim = few.Rim[:4]
	corner := photographed(0, 20)
	corner.Keyway = corner.Keyway[:1]
	centre := photographed(0, 20)
	centre.Centre = []job.Point{{X: 5000, Y: 5000}}
	bolts := photographed(0, 20)
	bolts.Bolts = bolts.Rim[:3]
	throw := photographed(0, 20)
	throw.Throw, throw.Dowel = throw.Dowel, nil
	throw.Keyway[1] = throw.Keyway[0]
	for _, c := range []struct {
		dowel, keyway *job.Reading
		want          []string
	}{
		{line, nil, []string{"dowel.measured.rim"}},
		{few, nil, []string{"dowel.measured.rim"}},
		{corner, nil, []string{"dowel.measured.keyway"}},
		{centre, nil, []string{"dowel.measured.centre"}},
		{bolts, nil, []string{"dowel.measured.bolts"}},
		{nil, throw, []string{"keyway.measured.keyway"}},
		{line, throw, []string{"dowel.measured.rim", "keyway.measured.keyway"}},
	} {
		j := photoJobOf(c.dowel, c.keyway)
		next, _, err := WithPhotos(j, "", farCamera, 0)
		var faults job.Faults
		if !errors.As(err, &faults) || len(faults) != len(c.want) {
			t.Errorf("%v: the error is %v", c.want, err)
			continue
		}
		for i, key := range c.want {
			if faults[i].Key != key || faults[i].Message == "" || strings.Contains(faults[i].Message, "\n") {
				t.Errorf("the fault is %+v, want one at %s", faults[i], key)
			}
		}
		if !next.Equal(j) {
			t.Errorf("%v: with a fault the job is changed", c.want)
		}
	}
}

func TestPictureThatCannotBeReadIsNoFault(t *testing.T) {
	broken := errors.New("nose.jpg: is a text, not a picture")
	_, found, err := WithPhotos(photoJobOf(photographed(0, 20), nil), "", func(string) (photo.Info, error) { return photo.Info{}, broken }, 0)
	if !errors.Is(err, broken) || errors.As(err, new(job.Faults)) || len(found) != 0 {
		t.Errorf("the error is %v, found is %v", err, found)
	}
}

func TestJobWithoutPhotosComesBackAsItIs(t *testing.T) {
	j := photoJobOf(&job.Reading{Method: "angle", AngleDeg: job.Num(12), Side: "clockwise"}, nil)
	next, found, err := WithPhotos(j, "", func(string) (photo.Info, error) { t.Error("a picture was looked for"); return photo.Info{}, nil }, 0)
	if err != nil || len(found) != 0 || !next.Equal(j) {
		t.Errorf("%+v, %v, %v", next, found, err)
	}
}

// An uncertainty from n draws has itself one of 1/√(2n): 200 draws 5 %, 1000 draws
// 2.2 %.
func TestFewDrawsAreCoarser(t *testing.T) {
	j := photoJobOf(photographed(20, 12.5), nil)
	_, fine, err := WithPhotos(j, "", farCamera, 0)
	if err != nil {
		t.Fatal(err)
	}
	_, coarse, err := WithPhotos(j, "", farCamera, 200)
	if err != nil {
		t.Fatal(err)
	}
	a, b := fine["dowel.measured"].Clockwise, coarse["dowel.measured"].Clockwise
	if a.Value != b.Value || a.U == b.U || math.Abs(float64(b.U/a.U)-1) > 3*math.Hypot(0.05, 0.022) {
		t.Errorf("1000 draws give %v, 200 give %v", a, b)
	}
}

func TestPhotoNotesSayWhatIsSeen(t *testing.T) {
	r := photographed(0, -12.5)
	r.UPx = job.Num(3)
	_, found, err := WithPhotos(photoJobOf(r, nil), "", farCamera, 0)
	if err != nil {
		t.Fatal(err)
	}
	notes := PhotoNotes(found["dowel.measured"])
	if got := notes[0].String(); !strings.HasPrefix(got, "The photograph shows 12.5° anticlockwise in the picture") || !strings.Contains(got, "rim alone") {
		t.Errorf("the photograph is said as %q", got)
	}
	if got := found["dowel.measured"].UPx; got != 3 {
		t.Errorf("the click's uncertainty given as 3 px is %g", got)
	}
	short := photographed(0, 12.5)
	short.Rim = short.Rim[:5] // 120 degrees
	_, found, err = WithPhotos(photoJobOf(short, nil), "", farCamera, 0)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, n := range PhotoNotes(found["dowel.measured"]) {
		if strings.Contains(n.String(), "{{") {
			t.Errorf("%q has an open place", n)
		}
		all = append(all, n.String())
	}
	if got := strings.Join(all, " "); !strings.Contains(got, "cover only") || !strings.Contains(got, "Five rim points fit any ellipse") {
		t.Errorf("five points on a short arc are noted as %q", got)
	}
}

// Every kind of warning has words.
func TestEveryPhotoWarningIsSaid(t *testing.T) {
	for k := photo.Oblique; k <= photo.ThrowBehind; k++ {
		if photoWarnings[k] == "" {
			t.Errorf("nothing is said of warning %v", k)
		}
	}
}
