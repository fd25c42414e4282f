package app

import (
	"fmt"
	"io"
	"log"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/console"
	"pinphase.org/pinphase/timing/store"
)

// Main runs the desktop program on a job file, "demo", or "" for the job that
// was open last, and reads a recording unless its name is "". It returns when the
// window is closed, or at once with the reason why it cannot begin: display tells why
// there is none to open a window on. It is asked once folders are settled, because the
// display's drivers keep files of their own in them.
func Main(name, recording string, display func() error) error {
	log.SetOutput(console.NewWriter(os.Stderr))
	kept, err := findFolders()
	if err != nil {
		return err
	}
	defer kept.forget()
	if err := display(); err != nil {
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
	own := desk.LoadChoices(store.System, a.Storage().RootURI().Path())
	u := newUI(a, own, a.Storage().RootURI().Path())
	own.WriteBy(&u.InTurn, u.WarnUnchosen)
	u.Warnings.Set(kit.AboutOldOnes, own.Warning())
	u.openFirst(name, func() {
		if recording != "" {
			u.pages.at(u.pages.place(signalsName)).(desk.Taker).Take(recording)
		}
	})
	u.Window.Show()
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

func recoveryFolder(a fyne.App) string {
	return filepath.Join(a.Storage().RootURI().Path(), "recovery")
}

// folders are those that the system named, and one that goes with the program where it
// named none.
type folders struct{ temporary string } // "" for none

// findFolders sees to it that there are folders for settings, copies of unsaved jobs
// and what can be made again: the toolkit would write where the program was started if
// the system named none. What is kept then goes with the program, and that is said.
func findFolders() (*folders, error) {
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
		path, err := wanted.find()
		if err != nil {
			if f.temporary == "" {
				if f.temporary, err = os.MkdirTemp("", "pinphase-"); err != nil {
					return nil, fmt.Errorf("there is no home folder, and no place for settings: %w", err)
				}
			}
			os.Setenv(wanted.name, f.temporary)
			if path, err = wanted.find(); err != nil {
				f.forget()
				return nil, fmt.Errorf("there is no place for settings: %w", err)
			}
		}
		if path == f.temporary && wanted.name == "XDG_CONFIG_HOME" {
			fmt.Fprintln(os.Stderr, "pinphase: there is no home folder (HOME), so settings and copies of unsaved jobs go when the window is closed")
		}
		os.MkdirAll(path, 0o700) // a new user has none; the toolkit tells when it cannot write there
	}
	return f, nil
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
