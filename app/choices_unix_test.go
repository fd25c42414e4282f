//go:build unix

package app

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/timing/store/fault"
)

// chosen are the choices of a folder, written at once, and what was told of writing.
func chosen(t *testing.T, files store.Files, folder string) (c *desk.ChoiceFile, told *error) {
	t.Helper()
	c, told = desk.LoadChoices(files, folder), new(error)
	inTurn := true
	c.WriteBy(&inTurn, func(err error) { *told = err })
	return c, told
}

func TestChoicesAreKept(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "not made yet")
	c, told := chosen(t, store.System, folder)
	c.SetBool("b", true)
	c.SetFloat("f", 0.25)
	c.SetString("s", "dark")
	c.SetStringList("l", []string{"one", "two"})
	c.SetString("gone", "x")
	c.RemoveValue("gone")
	if *told != nil || c.Warning() != "" {
		t.Fatalf("%v, %q", *told, c.Warning())
	}
	again, _ := chosen(t, store.System, folder)
	if !again.Bool("b") || again.Float("f") != 0.25 || again.String("s") != "dark" || !slices.Equal(again.StringList("l"), []string{"one", "two"}) || again.String("gone") != "" {
		t.Errorf("at the next start they are %v", again.ByKey)
	}
	if again.String("b") != "" || again.FloatWithFallback("s", 7) != 7 || !again.BoolWithFallback("f", true) {
		t.Error("a value of another kind is taken")
	}
	if st, err := os.Stat(filepath.Join(folder, desk.ChoiceName)); err != nil || st.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", st, err)
	}
}

// What another window chose meanwhile stays, and so does what this version does not
// know.
func TestChoicesOfTwoWindows(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, desk.ChoiceName), []byte(`{"newer": {"a": [1, "b"]}, "theme": "light", "speed": 3}`), 0o600); err != nil {
		t.Fatal(err)
	}
	one, _ := chosen(t, store.System, folder)
	two, _ := chosen(t, store.System, folder)
	one.SetString("theme", "dark")
	two.SetFloat("speed", 9)
	one.SetBool("seen", true)
	again, _ := chosen(t, store.System, folder)
	if again.String("theme") != "dark" || again.Float("speed") != 9 || !again.Bool("seen") {
		t.Errorf("they are %v", again.ByKey)
	}
	if got, err := json.Marshal(again.ByKey["newer"]); err != nil || string(got) != `{"a":[1,"b"]}` {
		t.Errorf("what is unknown became %s, %v", got, err)
	}
}

// The toolkit's preferences of earlier versions are taken over once.
func TestChoicesOfTheToolkitAreTakenOver(t *testing.T) {
	folder := t.TempDir()
	old := filepath.Join(folder, desk.OldChoiceName)
	if err := os.WriteFile(old, []byte(`{"theme": "dark"}`), 0o600); err != nil {
		t.Fatal(err)
	}
	c, _ := chosen(t, store.System, folder)
	if c.String("theme") != "dark" {
		t.Errorf("they are %v", c.ByKey)
	}
	c.SetString("theme", "light")
	if c, _ = chosen(t, store.System, folder); c.String("theme") != "light" || read(t, old) != `{"theme": "dark"}` {
		t.Errorf("they are %v, the old file holds %s", c.ByKey, read(t, old))
	}
}

// What cannot be read is kept aside and told, and the program begins with its own.
func TestUnreadableChoicesAreKeptAside(t *testing.T) {
	for name, text := range map[string]string{"cut short": `{"theme": "da`, "no text": "\x00\x01", "a list": "[1, 2]", "empty": "", "too long": `{"a": "` + strings.Repeat("x", desk.MaxChoices) + `"}`} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			path := filepath.Join(folder, desk.ChoiceName)
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			c, told := chosen(t, store.System, folder)
			aside := path + ".damaged"
			if !strings.Contains(c.Warning(), aside) || read(t, aside) != text {
				t.Errorf("told is %q", c.Warning())
			}
			c.SetString("theme", "dark")
			if again, _ := chosen(t, store.System, folder); *told != nil || again.String("theme") != "dark" || again.Warning() != "" || read(t, aside) != text {
				t.Errorf("%v; then they are %v", *told, again.ByKey)
			}
		})
	}
}

// locked does not let a file be read, nor anything be renamed.
type locked struct{ store.Files }

func (locked) Read(path string, _ int64) ([]byte, error) {
	return nil, &os.PathError{Op: "open", Path: path, Err: syscall.EACCES}
}
func (locked) Rename(from, _ string) error {
	return &os.PathError{Op: "rename", Path: from, Err: syscall.EACCES}
}

// Where they cannot even be put aside nothing is written over them.
func TestChoicesThatCannotBePutAsideStay(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, desk.ChoiceName)
	if err := os.WriteFile(path, []byte(`{"theme": "dark"}`), 0o600); err != nil {
		t.Fatal(err)
	}
	c, _ := chosen(t, locked{store.System}, folder)
	c.SetString("theme", "light")
	if !strings.Contains(c.Warning(), "permission denied") || !strings.Contains(c.Warning(), "left as it is") || read(t, path) != `{"theme": "dark"}` || c.String("theme") != "light" {
		t.Errorf("told is %q, the file holds %s", c.Warning(), read(t, path))
	}
}

// Whatever fails while they are read, they are there afterwards, in their place or
// aside.
func TestChoicesSurviveEveryFaultOfReading(t *testing.T) {
	const text = `{"theme": "dark"}`
	for _, broken := range fault.Errors {
		for n := 1; ; n++ {
			folder := t.TempDir()
			path := filepath.Join(folder, desk.ChoiceName)
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			files := &fault.Files{N: n, Err: broken}
			c, _ := chosen(t, files, folder)
			if !files.Failed() {
				break
			}
			if errors.Is(broken, syscall.EINTR) && (c.String("theme") != "dark" || c.Warning() != "") {
				t.Errorf("interrupted, they are %v", c.ByKey)
			}
			if c.String("theme") != "dark" && c.Warning() == "" {
				t.Errorf("%v in %s: nothing is told", broken, files.Log()[n-1])
			}
			c.SetString("theme", "light")
			found := false
			for _, p := range []string{path, path + ".damaged"} {
				data, err := os.ReadFile(p)
				found = found || err == nil && (string(data) == text || c.Warning() == "")
			}
			if !found {
				t.Errorf("%v in %s: what was there is gone", broken, files.Log()[n-1])
			}
		}
	}
}

// What the toolkit cannot digest is put out of its way before it looks.
func TestToolkitIsShielded(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(home, "config"))
	path := filepath.Join(toolkitFolder(), pinphase.About().ID, desk.OldChoiceName)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	for text, stays := range map[string]bool{
		`{"a": ["b", 1]}`:    false, // its reader panics over it
		`{"a": [true, "b"]}`: false,
		`{"a": ["b", null]}`: false,
		`{"a": ["b", "c"], "d": [1, 2], "e": [], "f": 1}`: true,
		`{"a": `: true, // which it notes, and choices.json is elsewhere
	} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		shieldToolkit(store.System)
		if _, err := os.Stat(path); (err == nil) != stays {
			t.Errorf("%s: in its place: %v, want %v", text, err == nil, stays)
		}
	}
	os.Remove(path)
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip("pipes cannot be made here:", err)
	}
	shieldToolkit(store.System)
	if _, err := os.Lstat(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a pipe stays: %v", err)
	}
}
