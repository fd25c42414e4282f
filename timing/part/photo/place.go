package photo

import (
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

// resolved is where a path leads in the end. Of what is not there the folder counts.
func resolved(path string) (string, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	if led, err := filepath.EvalSymlinks(path); err == nil {
		return led, nil
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return path, nil
	}
	return filepath.Join(folder, filepath.Base(path)), nil
}
