package desk

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/sheet"
)

// AskJob lets the user choose a job file for something, packed or not.
func (u *Desk) AskJob(title string, then func(path string)) {
	u.AskFile(title, JobEndings, then)
}

// Suggest is the folder and name to offer for a new file.
func (u *Desk) Suggest(ext string) (folder, name string) {
	if u.Session.Path != "" {
		base := filepath.Base(u.Session.Path)
		return filepath.Dir(u.Session.Path), strings.TrimSuffix(base, filepath.Ext(base)) + ext
	}
	folder, err := os.UserHomeDir()
	if err != nil {
		folder = "."
	}
	return folder, FileName(u.Session.Job().Title) + ext
}

// FileName turns a title into a name for a file, of its first few words.
func FileName(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return !('a' <= r && r <= 'z' || '0' <= r && r <= '9' || r > 0x7f)
	})
	if len(words) == 0 {
		words = []string{"job"}
	}
	return strings.Join(words[:min(len(words), 6)], "-")
}

// AskPath lets the user name a file in a folder; an existing one is only taken
// after asking.
func (u *Desk) AskPath(title, folder, name, ext string, then func(path string)) {
	place, file := kit.NewDialogEntry(), kit.NewDialogEntry()
	place.SetText(folder)
	file.SetText(name)
	browse := kit.NewDialogButton(tr("Choose a folder…"), func() {
		u.AskFolder(place.Text, place.SetText)
	})
	grid := container.NewVBox(
		widget.NewLabel(tr("File name")), file,
		widget.NewLabel(tr("Folder")), container.NewBorder(nil, nil, nil, browse, place))
	u.AskFor(title, tr("Save"), grid, fyne.NewSize(680, 260*u.Look.Scale), func() {
		if strings.TrimSpace(file.Text) == "" {
			u.Tell(errors.New(tr("The file needs a name.")))
			return
		}
		path := filepath.Join(place.Text, file.Text)
		if filepath.Ext(path) == "" {
			path += ext
		}
		u.UnlessThere(path, func() { then(path) })
	})
	u.Window.Canvas().Focus(file)
	file.CursorColumn = len([]rune(strings.TrimSuffix(name, ext)))
	file.Refresh()
}

// UnlessThere goes on with writing a file, after asking where one of that name is
// there that is not the open job's.
func (u *Desk) UnlessThere(path string, then func()) {
	u.Background(func() func() {
		_, err := os.Stat(path)
		return func() {
			if err != nil || path == u.Session.Path {
				then()
				return
			}
			u.Confirm(tr("The file already exists"),
				with("“{{.Name}}” already exists. Replace it?", map[string]any{"Name": filepath.Base(path)}),
				tr("Replace"), then)
		}
	})
}

// FileEnding is a path's ending, as formats are named.
func FileEnding(path string) string { return strings.ToLower(filepath.Ext(path)) }

// Paper is the paper that sheets are laid out on.
func (u *Desk) Paper() sheet.Paper {
	i := slices.IndexFunc(sheet.Papers, func(q sheet.Paper) bool { return q.Name == u.Prefs.Paper() })
	return sheet.Papers[max(0, i)]
}

// Filed is how a job in a folder names a picture: from the folder where the
// picture lies in it or below, else by its full name.
func Filed(folder, path string) string {
	if folder != "" {
		if rel, err := filepath.Rel(folder, path); err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
			return filepath.ToSlash(rel)
		}
	}
	return filepath.ToSlash(path)
}
