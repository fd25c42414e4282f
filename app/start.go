package app

import (
	"cmp"
	"fmt"
	"image"
	"io"
	"log"
	"os"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/app/page/signals"
	"pinphase.org/pinphase/timing/console"
	"pinphase.org/pinphase/timing/store"
)

// Main runs the desktop program on a job file, "demo", or "" for the job that
// was open last, and reads a recording unless its name is "". It returns when the
// window is closed, or at once with the reason why it cannot begin: display tells why
// there is none to open a window on, or how many pixels of it a window has, zero for
// nobody knows. It is asked once folders are settled, because the
// display's drivers keep files of their own in them.
func Main(name, recording string, display func() (image.Point, error)) error {
	log.SetOutput(console.NewWriter(os.Stderr))
	kept, err := findFolders(kit.Patience)
	if err != nil {
		return err
	}
	defer kept.forget()
	room, err := display()
	if err != nil {
		return err
	}
	about := pinphase.About()
	fyneapp.SetMetadata(fyne.AppMetadata{
		ID: about.ID, Name: about.Name, Version: about.Version, Build: about.Build, Migrations: about.Migrations,
	})
	shieldToolkit(store.System)
	show := kept.hide()
	a := fyneapp.NewWithID(about.ID)
	show()
	folder := kit.PathOf(a.Storage().RootURI())
	own := desk.LoadChoices(store.System, folder)
	u := newUI(a, own, folder)
	own.WriteBy(&u.InTurn, u.WarnUnchosen)
	u.Warnings.Set(kit.AboutOldOnes, cmp.Or(kept.warning(), own.Warning()))
	u.openFirst(name, func() {
		if recording != "" {
			u.pages.at(u.pages.place(signals.Name)).(desk.Taker).Take(recording)
		}
	})
	kit.NameWindows(about.ID)
	u.Window.Show()
	kit.ClickWhereItIs(u.Window)
	u.fitScreen(room)
	u.watch()
	recoveries := recoveryFolder(a)
	u.Background(func() func() {
		r, left, err := desk.StartRecovery(u.Files, recoveries)
		return func() {
			u.KeepIn(r, err)
			u.offer(left)
			u.firstTour(name)
		}
	})
	a.Lifecycle().SetOnStarted(kept.hide())
	a.Run()
	return nil
}

// fitScreen makes the window no larger than the room for it, in pixels: a system may cut
// a larger one off, and the toolkit would go on as if all of it were there. How many
// pixels a point has is known when the window is there.
func (u *ui) fitScreen(room image.Point) {
	size, scale := u.Prefs.Size(), u.Window.Canvas().Scale()
	least := u.Window.Canvas().Content().MinSize()
	fits := func(want, least float32, pixels int) float32 {
		if pixels <= 0 {
			return want
		}
		return max(min(want, float32(pixels)/scale), least)
	}
	if fit := fyne.NewSize(fits(size.Width, least.Width, room.X), fits(size.Height, least.Height, room.Y)); fit != size {
		u.Window.Resize(fit)
	}
}

func recoveryFolder(a fyne.App) string {
	return filepath.Join(kit.PathOf(a.Storage().RootURI()), "recovery")
}

// folders are those that the system named, and one that goes with the program where it
// named none, or one that does not answer.
type folders struct {
	temporary string // "" for none
	silent    string // the folder for settings that does not answer, "" for none
}

// findFolders sees to it that there are folders for settings, copies of unsaved jobs
// and what can be made again: the toolkit would write where the program was started if
// the system named none, and wait without end for one on a disk that is gone. What is
// kept then goes with the program, and that is said.
func findFolders(patience time.Duration) (*folders, error) {
	// Relative names are to be ignored (XDG Base Directory Specification 0.8).
	for _, name := range []string{"XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "HOME"} {
		if given := os.Getenv(name); given != "" && !filepath.IsAbs(given) {
			os.Unsetenv(name)
		}
	}
	f := &folders{}
	for _, wanted := range []struct {
		name string // not HOME, which is offered as a place to save in
		find func() (string, error)
	}{{"XDG_CONFIG_HOME", os.UserConfigDir}, {"XDG_CACHE_HOME", os.UserCacheDir}} {
		settings := wanted.name == "XDG_CONFIG_HOME"
		path, err := wanted.find()
		why := "there is no home folder (HOME)"
		if err == nil && !inTime(path, settings, patience) {
			why = path + " does not answer"
			if settings {
				f.silent = path
			}
			err = os.ErrDeadlineExceeded
		}
		if err == nil {
			continue
		}
		if f.temporary == "" {
			if f.temporary, err = os.MkdirTemp("", "pinphase-"); err != nil {
				return nil, fmt.Errorf("%s, and there is no place for settings: %w", why, err)
			}
		}
		os.Setenv(wanted.name, f.temporary)
		if path, err = wanted.find(); err != nil {
			f.forget()
			return nil, fmt.Errorf("there is no place for settings: %w", err)
		}
		if path == f.temporary && settings {
			fmt.Fprintf(os.Stderr, "pinphase: %s, so settings and copies of unsaved jobs go when the window is closed\n", why)
		}
	}
	return f, nil
}

// inTime tells whether a folder, and in that for settings what is read before there is
// a window, can be looked at in time. A new user has none: it is made.
func inTime(path string, settings bool, patience time.Duration) bool {
	_, done := kit.Within(patience, func() error {
		err := os.MkdirAll(path, 0o700) // the toolkit tells when it cannot write there
		if settings {
			for _, folder := range []string{filepath.Join(toolkitFolder(), pinphase.About().ID), toolkitFolder()} {
				for _, name := range []string{desk.ChoiceName, desk.OldChoiceName, "settings.json"} {
					_, _ = store.Read(store.System, filepath.Join(folder, name), desk.MaxChoices) // whoever needs it tells
				}
			}
		}
		return err
	})
	return done
}

// warning says that settings go with the program because their folder does not answer,
// "" where it does.
func (f *folders) warning() string {
	if f.silent == "" {
		return ""
	}
	return with("The settings cannot be read: {{.Name}} does not answer. What you choose now, and copies of unsaved jobs, last until the program ends.", map[string]any{"Name": f.silent})
}

// hide keeps a folder that goes with the program from the toolkit until show is called.
// What the toolkit finds when it begins it watches for as long as the process lives, and
// makes again as soon as it is gone: nobody could take it away.
func (f *folders) hide() (show func()) {
	if f.temporary == "" || os.Getenv("XDG_CONFIG_HOME") != f.temporary {
		return func() {}
	}
	before := log.Writer()
	log.SetOutput(io.Discard) // the toolkit says at length that it found none
	os.Setenv("XDG_CONFIG_HOME", os.DevNull)
	return func() {
		os.Setenv("XDG_CONFIG_HOME", f.temporary)
		log.SetOutput(before)
	}
}

// forget takes away what goes with the program.
func (f *folders) forget() {
	if f.temporary == "" {
		return
	}
	// The toolkit saves settings once more a moment after it has ended.
	log.SetOutput(io.Discard)
	os.Setenv("XDG_CONFIG_HOME", os.DevNull)
	os.RemoveAll(f.temporary)
}
