package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
)

// A job that names a picture outside its folder puts it on a sheet only when the
// user says so in the dialog, each time anew; one in its folder is not asked about.
func TestOutsidePicturesAreAskedFor(t *testing.T) {
	top := t.TempDir()
	for _, dir := range []string{"job", "mine"} {
		if err := os.Mkdir(filepath.Join(top, dir), 0o755); err != nil {
			t.Fatal(err)
		}
		copyFile(t, filepath.Join(photoFolder, "nose-square.jpg"), filepath.Join(top, dir, "nose.jpg"))
	}
	u := window(t)
	u.InTurn = true
	saved := func(name string, tick bool) string {
		t.Helper()
		u.openFile(filepath.Join(top, "job", name))
		choose(t, u, "File", "Save measurement report…")
		press(t, u, "HTML")
		asked := strings.Contains(said(u), "The job names pictures outside its folder: ../mine/nose.jpg. Whoever gets the sheet would see them.")
		if asked != (name == "outside.toml") {
			t.Errorf("%s: the dialog says %q", name, said(u))
		}
		if tick {
			tap(t, u, "Show on the sheet")
		}
		press(t, u, "Save…")
		return read(t, put(t, u, "claim.html"))
	}
	for name, picture := range map[string]string{"outside.toml": "../mine/nose.jpg", "inside.toml": "nose.jpg"} {
		text := photographedJob(t, picture)
		if err := os.WriteFile(filepath.Join(top, "job", name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	const shown = "data:image/jpeg"
	if got := saved("outside.toml", false); strings.Contains(got, shown) || !strings.Contains(got, "is outside the job&#39;s folder") || !strings.Contains(got, "12.5") {
		t.Error("without a yes the picture is on the sheet, or the sheet does not say why it is not, or the angle is gone")
	}
	if got := saved("outside.toml", true); !strings.Contains(got, shown) {
		t.Error("with a yes the picture is not on the sheet")
	}
	if got := saved("outside.toml", false); strings.Contains(got, shown) {
		t.Error("the next sheet shows the picture without being asked")
	}
	if got := saved("inside.toml", false); !strings.Contains(got, shown) {
		t.Error("a picture in the job's folder is not on the sheet")
	}
}

// photographedJob is a job whose dowel was measured on a picture.
func photographedJob(t *testing.T, picture string) string {
	t.Helper()
	var pairs = func(list []job.Point) string {
		var s []string
		for _, p := range list {
			s = append(s, fmt.Sprintf("[%g, %g]", p.X, p.Y))
		}
		return "[" + strings.Join(s, ", ") + "]"
	}
	m := marksOf(t, "nose-square.jpg")
	return fmt.Sprintf(`engine = { strokes = 4, firing_order = [1, 5, 3, 6, 2, 4] }
[injection]
start_btdc_deg = 9
[dowel]
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
[dowel.measured]
method = "photo"
file = %q
rim = %s
keyway = %s
dowel = %s
`, picture, pairs(points(m.Rim)), pairs(points(m.Keyway)), pairs(points(m.Dowel)))
}

// tap taps a box to be ticked of what is on top of the window.
func tap(t *testing.T, u *ui, name string) {
	t.Helper()
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if c, ok := o.(*kit.Check); ok && c.Text == name {
			c.Tapped(&fyne.PointEvent{Position: fyne.NewPos(5, 5)})
			return
		}
	}
	t.Fatalf("there is no box %q in %q", name, said(u))
}
