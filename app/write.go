package app

import "pinphase.org/pinphase/timing/store"

// replaceFile writes a file, whole or not at all.
func replaceFile(path string, data []byte) error {
	_, err := store.Replace(store.System, path, data, 0o666)
	return err
}
