package app

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
)

// What the program reads of its own at its start may have been damaged by anything:
// a full disk, a hand, another version. It starts all the same.

// FuzzRecovered: whatever lies in the folder of snapshots, the program starts, and
// what it takes back can be worked on, kept and written.
func FuzzRecovered(f *testing.F) {
	good, err := json.Marshal(desk.Snapshot{Text: []byte(byHand), Disk: []byte(byHand), Job: job.Job{Format: 1, Title: "x", Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}}}})
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range []string{string(good), "", "{}", "null", "[]", `{"Path":"/","Text":"","Job":null}`, `{"Job":{"Engine":{"Strokes":-1,"FiringOrder":[0,0,-7]}}}`,
		`{"Text":"c3Ryb2tlcw==","Job":{"Evidence":[{"Kind":"starts","Value":{"a":[1]}},{"Kind":"","Value":null}]}}`,
		string(good[:len(good)/2])} {
		f.Add([]byte(seed))
	}
	a := test.NewTempApp(f)
	u := testUI(a)
	u.InTurn = true
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "open-1.json"), data, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, l := range desk.Leftovers(store.System, dir) {
			l.Path = "" // what it names is none of the test's business
			s, err := l.Session()
			if err != nil {
				l.Discard()
				continue
			}
			u.Begin(s)
			for i := range u.pages.kinds {
				u.pages.show(i)
			}
			u.Undo()
			u.Redo()
			r := &desk.Recovery{Files: store.System, File: filepath.Join(dir, "kept.json")}
			if err := r.Keep(s.Snapshot()); err != nil {
				t.Errorf("it cannot be kept anew: %v", err)
			}
			if len(s.Faults()) == 0 {
				if _, err := job.Read("again", s.Doc.With(s.Job()).Bytes()); err != nil {
					t.Errorf("sound, but written it reads: %v", err)
				}
			}
			l.Discard()
		}
		if left, _ := filepath.Glob(filepath.Join(dir, "open-*.json")); len(left) != 0 {
			t.Errorf("left behind: %v", left)
		}
	})
}

// FuzzPreferences: whatever stands under the keys of the choices, of whatever type,
// the window comes up with choices that exist.
func FuzzPreferences(f *testing.F) {
	for _, seed := range []string{"{}", `{"theme":"purple","text.size":-3,"window.width":1e300,"language":"xx","units.length":"furlong"}`,
		`{"theme":7,"text.size":"large","job.recent":"none","job.last":["a"],"cursor.speed":-1e308,"split.form":0,"split.wheel":"half"}`,
		`{"cause.priors":["a=b","dowel=-1","=","dowel_angle=1e999"],"cause.minutes":[""],"practice.kinds":["strokes","none"],"tour.seen":"yes","wheel.seen_from":3}`,
		`{"new.seen_from":"above","new.rotation":"both","paper":"napkin","board.dark":2,"job.recent":["","/","\u0000"]}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 4096 {
			return
		}
		var values map[string]any
		if json.Unmarshal(data, &values) != nil {
			return // the toolkit begins with none then
		}
		a := test.NewTempApp(t)
		p := a.Preferences()
		for key, v := range values {
			switch v := v.(type) {
			case bool:
				p.SetBool(key, v)
			case float64:
				p.SetFloat(key, v)
			case string:
				p.SetString(key, v)
			case []any:
				var list []string
				for _, x := range v {
					if s, ok := x.(string); ok {
						list = append(list, s)
					}
				}
				p.SetStringList(key, list)
			}
		}
		u := testUI(a)
		u.InTurn = true
		if size := u.Prefs.Size(); !(size.Width >= 600 && size.Width < 1e5 && size.Height >= 400 && size.Height < 1e5) {
			t.Errorf("a window of %v", size)
		}
		for i := range u.pages.kinds {
			u.pages.show(i)
		}
		u.showSettings()
		u.Dismiss()
		u.rememberLayout()
	})
}

// FuzzShelf: whatever lies on a shelf of the library is listed, as what it is or
// with what is wrong with it, and what is sound can be taken into a job.
func FuzzShelf(f *testing.F) {
	for _, seed := range []string{"", byHand, "title = \"wheel\"\n[engine]\nstrokes = 4\nfiring_order = [1]\n[crank_wheel]\npositions = 36\nmissing = [36]\nfirst_tooth_btdc_deg = 90.0\n", "[crank_wheel]\n", "\xff\xfe"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		l := library{folder: dir, files: store.System}
		for _, s := range []shelf{engineShelf, crankShelf, camShelf} {
			folder := filepath.Join(dir, string(s))
			if err := os.MkdirAll(folder, 0o700); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(folder, "a.toml"), data, 0o600); err != nil {
				t.Fatal(err)
			}
			list, err := l.list(s)
			if err != nil || len(list) != 1 {
				t.Fatalf("%v, %v", list, err)
			}
			k := list[0]
			if k.title == "" {
				t.Error("it has no name")
			}
			if k.err != nil {
				continue
			}
			to := job.Job{Format: 1, Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}}}
			s.put(&to, k.job)
			if err := l.keep(s, k.title, to); err != nil {
				t.Errorf("it cannot be kept again: %v", err)
			}
			if again, err := l.list(s); err != nil || len(again) != 1 || again[0].err != nil {
				t.Errorf("kept again, the shelf holds %v, %v", again, err)
			}
		}
	})
}
