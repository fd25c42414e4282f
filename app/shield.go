package app

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"runtime"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/store"
)

// shieldToolkit puts the toolkit's own file of preferences aside where reading it
// would stop the program before it begins: the toolkit waits for a pipe, and ends over
// a list of several kinds. The program keeps nothing there ([choiceFile]).
func shieldToolkit(files store.Files) {
	path := filepath.Join(toolkitFolder(), pinphase.About().ID, desk.OldChoiceName)
	if err := digestible(files, path); err != nil {
		name, failed := store.Aside(files, path)
		if failed != nil {
			fyne.LogError("the toolkit's preferences cannot be put aside", failed)
			return
		}
		fyne.LogError("the toolkit's preferences are put aside as "+name, err)
	}
}

// digestible returns an error where the toolkit must not read a file. What is wrong
// with it otherwise the toolkit only notes.
func digestible(files store.Files, path string) error {
	data, err := store.Read(files, path, desk.MaxChoices)
	if errors.Is(err, store.ErrNotPlain) {
		return err
	}
	var values map[string][]any
	_ = json.Unmarshal(data, &values) // what is no list is of no interest
	for key, list := range values {
		for _, item := range list {
			if reflect.TypeOf(item) != reflect.TypeOf(list[0]) {
				return fmt.Errorf("%s is a list of several kinds", key)
			}
		}
	}
	return nil
}

// toolkitFolder is where the toolkit has the folders of its programs.
func toolkitFolder() string {
	home, _ := os.UserHomeDir() // "" as the toolkit has it
	switch runtime.GOOS {
	case "darwin":
		return filepath.Join(home, "Library", "Preferences", "fyne")
	case "windows":
		return filepath.Join(home, "AppData", "Roaming", "fyne")
	}
	config, _ := os.UserConfigDir()
	return filepath.Join(config, "fyne")
}
