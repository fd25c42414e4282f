package part

import (
	"testing"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/timing/job"
)

// onPhoto returns the page with a sample photograph and its marks.
func onPhoto(t testing.TB, name string) *desktest.Bench {
	t.Helper()
	u := desktest.New(t, Kind)
	u.OpenFile(t, desktest.PhotoFile(t, name))
	u.Page.(*page).photo.snap.on.SetChecked(false) // points stay where these tests place them
	return u
}

// measureBy chooses a method, as the job file calls it.
func measureBy(t testing.TB, e *form.ReadingEditor, method string) {
	t.Helper()
	i := job.MethodOf(&job.Reading{Method: method})
	if i < 0 {
		t.Fatalf("the form does not offer %q", method)
	}
	e.Method.SetSelectedIndex(i)
}
