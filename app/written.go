package app

import (
	"net/url"
	"os/exec"
	"path/filepath"

	"fyne.io/fyne/v2/storage"
)

// viewer opens a file with the program that the desktop has for it, and returns
// once that is under way or cannot be.
type viewer func(path string) error

// desktopViewer asks the desktop. Where there is a command for it, its exit code
// tells whether anything opens such a file, which starting it does not.
func desktopViewer(u *desk) viewer {
	return func(path string) error {
		if command, err := exec.LookPath("xdg-open"); err == nil {
			return exec.Command(command, path).Run()
		}
		at, err := url.Parse(storage.NewFileURI(path).String())
		if err != nil {
			return err
		}
		return u.app.OpenURL(at)
	}
}

// written says that a file was written, and where.
func (u *desk) written(path string) { u.notice.done(writtenWords(path)) }

// writtenToView says that a file was written and opens it. That nothing here opens
// it is no failure of what was asked for, and said as an addition.
func (u *desk) writtenToView(path string) {
	u.written(path)
	u.background(func() func() {
		err := u.view(path)
		return func() {
			if err != nil {
				u.notice.done(writtenWords(path) + " " + tr("No program on this computer opens it."))
			}
		}
	})
}

func writtenWords(path string) string {
	return with("“{{.Name}}” was written to the folder {{.Folder}}.", map[string]any{"Name": filepath.Base(path), "Folder": filepath.Dir(path)})
}
