package desk

import (
	"net/url"
	"os/exec"
	"path/filepath"

	"fyne.io/fyne/v2/storage"
)

// viewer opens a file with the program that the desktop has for it, and returns
// once that is under way or cannot be.
type viewer func(path string) error

// DesktopViewer asks the desktop. Where there is a command for it, its exit code
// tells whether anything opens such a file, which starting it does not.
func DesktopViewer(u *Desk) viewer {
	return func(path string) error {
		if command, err := exec.LookPath("xdg-open"); err == nil {
			return exec.Command(command, path).Run()
		}
		at, err := url.Parse(storage.NewFileURI(path).String())
		if err != nil {
			return err
		}
		return u.App.OpenURL(at)
	}
}

// Written says that a file was written, and where.
func (u *Desk) Written(path string) { u.Notice.Done(writtenWords(path)) }

// WrittenToView says that a file was written and opens it. That nothing here opens
// it is no failure of what was asked for, and said as an addition.
func (u *Desk) WrittenToView(path string) {
	u.Written(path)
	u.Background(func() func() {
		err := u.View(path)
		return func() {
			if err != nil {
				u.Notice.Done(writtenWords(path) + " " + tr("No program on this computer opens it."))
			}
		}
	})
}

func writtenWords(path string) string {
	return with("“{{.Name}}” was written to the folder {{.Folder}}.", map[string]any{"Name": filepath.Base(path), "Folder": filepath.Dir(path)})
}
