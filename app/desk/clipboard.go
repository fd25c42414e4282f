package desk

import (
	"bytes"
	"errors"
	"os"
	"os/exec"

	"pinphase.org/pinphase/timing/phrase"
)

// errTextOnly is why a picture cannot be put onto the clipboard.
var errTextOnly = phrase.Errorf("the clipboard takes only text here; with wl-clipboard or xclip installed it takes pictures too, or save a PNG")

// pictureCommands put what they are given onto a desktop's clipboard, each where its
// display is. The toolkit's clipboard takes only text.
var pictureCommands = []struct {
	display string // variable that names the display
	command []string
}{
	{"WAYLAND_DISPLAY", []string{"wl-copy", "--type", "image/png"}},
	{"DISPLAY", []string{"xclip", "-selection", "clipboard", "-t", "image/png", "-i"}},
}

// CopyPicture puts a PNG onto the desktop's clipboard. It waits for another program: the
// main goroutine must not call it.
func CopyPicture(png []byte) error {
	var failed []error
	for _, c := range pictureCommands {
		command, err := exec.LookPath(c.command[0])
		if err != nil || os.Getenv(c.display) == "" {
			continue
		}
		run := exec.Command(command, c.command[1:]...)
		run.Stdin = bytes.NewReader(png)
		if err = run.Run(); err == nil {
			return nil
		}
		failed = append(failed, err)
	}
	return errors.Join(append(failed, errTextOnly)...)
}
