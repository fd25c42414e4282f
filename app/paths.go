package app

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/sheet"
)

// askJob lets the user choose a job file for something.
func (u *desk) askJob(title string, then func(path string)) {
	u.askFile(title, []string{".toml"}, then)
}

// suggest is the folder and name to offer for a new file.
func (u *desk) suggest(ext string) (folder, name string) {
	if u.session.path != "" {
		base := filepath.Base(u.session.path)
		return filepath.Dir(u.session.path), strings.TrimSuffix(base, filepath.Ext(base)) + ext
	}
	folder, err := os.UserHomeDir()
	if err != nil {
		folder = "."
	}
	return folder, fileName(u.session.Job().Title) + ext
}

// fileName turns a title into a name for a file, of its first few words.
func fileName(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return !('a' <= r && r <= 'z' || '0' <= r && r <= '9' || r > 0x7f)
	})
	if len(words) == 0 {
		words = []string{"job"}
	}
	return strings.Join(words[:min(len(words), 6)], "-")
}

// askPath lets the user name a file in a folder; an existing one is only taken
// after asking.
func (u *desk) askPath(title, folder, name, ext string, then func(path string)) {
	place, file := newDialogEntry(), newDialogEntry()
	place.SetText(folder)
	file.SetText(name)
	browse := newDialogButton(tr("Choose a folder…"), func() {
		u.askFolder(place.Text, place.SetText)
	})
	grid := container.NewVBox(
		widget.NewLabel(tr("File name")), file,
		widget.NewLabel(tr("Folder")), container.NewBorder(nil, nil, nil, browse, place))
	u.askFor(title, tr("Save"), grid, fyne.NewSize(680, 260*u.look.scale), func() {
		if strings.TrimSpace(file.Text) == "" {
			u.tell(errors.New(tr("The file needs a name.")))
			return
		}
		path := filepath.Join(place.Text, file.Text)
		if filepath.Ext(path) == "" {
			path += ext
		}
		u.unlessThere(path, func() { then(path) })
	})
	u.window.Canvas().Focus(file)
	file.CursorColumn = len([]rune(strings.TrimSuffix(name, ext)))
	file.Refresh()
}

// unlessThere goes on with writing a file, after asking where one of that name is
// there that is not the open job's.
func (u *desk) unlessThere(path string, then func()) {
	u.background(func() func() {
		_, err := os.Stat(path)
		return func() {
			if err != nil || path == u.session.path {
				then()
				return
			}
			u.confirm(tr("The file is there already"),
				with("“{{.Name}}” is there already. Replace it?", map[string]any{"Name": filepath.Base(path)}),
				tr("Replace it"), then)
		}
	})
}

// fileEnding is a path's ending, as formats are named.
func fileEnding(path string) string { return strings.ToLower(filepath.Ext(path)) }

// paper is the paper that sheets are laid out on.
func (u *desk) paper() sheet.Paper {
	i := slices.IndexFunc(sheet.Papers, func(q sheet.Paper) bool { return q.Name == u.prefs.Paper() })
	return sheet.Papers[max(0, i)]
}

// filed is how a job in a folder names a picture: from the folder where the
// picture lies in it or below, else by its full name.
func filed(folder, path string) string {
	if folder != "" {
		if rel, err := filepath.Rel(folder, path); err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
			return filepath.ToSlash(rel)
		}
	}
	return filepath.ToSlash(path)
}
