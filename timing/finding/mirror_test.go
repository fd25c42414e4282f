package finding

import (
	"os"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

const pictured = `[engine]
strokes = 4
firing_order = [1, 3, 4, 2]
[dowel]
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
[dowel.measured]
method = "photo"
file = "nose-square.jpg"
rim = [[1072.4, 525.9], [1027.2, 711.6], [902.4, 793.1], [834.2, 801.6], [691.6, 743.1], [624.4, 639.5], [626.9, 496.2], [746.9, 362.6], [925.7, 353.6], [1031.6, 433.7]]
keyway = [[783.5, 348.1], [837.8, 340.6]]
dowel = [[812, 439.4], [799.3, 453.5], [787.6, 454.9], [773, 440.7], [783.5, 419.5], [797.7, 416.5]]
centre = [[842.3, 567.6]]
`

// A photograph that is said to be mirrored shows the angle of the same size on the other
// side, and the verdict turns round with it; where nobody says, both are told.
func TestMirroredPhotograph(t *testing.T) {
	if _, err := os.Stat("../../testdata/photos/nose-square.jpg"); err != nil {
		t.Fatal(err)
	}
	found := func(mirror string) (job.Job, job.Job, Part) {
		doc, err := job.Read("a.toml", []byte(pictured))
		if err != nil {
			t.Fatal(err)
		}
		j := doc.Job()
		j.Dowel.Measured.Mirror = mirror
		angles, _, err := WithPhotos(j, "../../testdata/photos", photo.InspectFile, 200)
		if err != nil {
			t.Fatal(err)
		}
		p, err := PartOf(angles)
		if err != nil {
			t.Fatal(err)
		}
		return j, angles, p
	}
	_, _, as := found("")
	_, _, turned := found(job.MirrorMirrored)
	if *as.Dowel.MeasuredDeg != -*turned.Dowel.MeasuredDeg || !as.Mirrored || turned.Mirrored {
		t.Errorf("as it is %v, turned %v", *as.Dowel.MeasuredDeg, *turned.Dowel.MeasuredDeg)
	}
	for mirror, want := range map[string][]string{
		"":                 {"Not confirmed", turned.Says.String(), "in place of 25", "Look for writing"},
		job.MirrorWriting:  {"Confirmed: writing in the photograph nose-square.jpg"},
		job.MirrorRotation: {"Confirmed: the turning direction"},
		job.MirrorMirrored: {"its angle was turned round"},
	} {
		j, angles, _ := found(mirror)
		var says []string
		for _, s := range MirrorNotes(j, angles) {
			says = append(says, s.String())
		}
		all := strings.Join(says, "\n")
		for _, w := range want {
			if !strings.Contains(all, w) {
				t.Errorf("%q: %q lacks %q", mirror, all, w)
			}
		}
	}
}
