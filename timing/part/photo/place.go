package photo

import (
	"os"
	"path/filepath"
	"strings"
)

// InFolder is where a job in a folder finds a picture by the name that the job has
// for it: relative to the folder, or whole. The folder "" is the current one.
func InFolder(folder, name string) string {
	name = filepath.FromSlash(name)
	if filepath.IsAbs(name) {
		return filepath.Clean(name)
	}
	return filepath.Join(folder, name)
}

// OutsideFolder tells whether a picture lies outside the job's folder and those below it,
// wherever links lead. A job comes from anybody; whoever makes a sheet of it must not
// send along a picture of their own that the job happened to name.
func OutsideFolder(folder, name string) bool {
	if folder == "" {
		folder = "."
	}
	home, err := resolved(folder)
	if err != nil {
		return true
	}
	path, err := resolved(InFolder(folder, name))
	if err != nil {
		return true
	}
	rel, err := filepath.Rel(home, path)
	return err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// resolved is where a path leads in the end. What is not there leads nowhere else
// than its folder; a link that leads to nothing, or round, is an error.
func resolved(path string) (string, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	led, err := filepath.EvalSymlinks(path)
	if err == nil {
		return led, nil
	}
	if _, there := os.Lstat(path); there == nil || filepath.Dir(path) == path {
		return "", err
	}
	folder, err := resolved(filepath.Dir(path))
	return filepath.Join(folder, filepath.Base(path)), err
}
