package desk

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"path/filepath"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/store"
)

// Choices are what is kept between starts, each under its key: the toolkit's
// preferences in tests, else [ChoiceFile].
type Choices interface {
	Bool(key string) bool
	BoolWithFallback(key string, fallback bool) bool
	SetBool(key string, value bool)
	Float(key string) float64
	FloatWithFallback(key string, fallback float64) float64
	SetFloat(key string, value float64)
	String(key string) string
	SetString(key, value string)
	StringList(key string) []string
	SetStringList(key string, value []string)
	RemoveValue(key string)
}

// ChoiceFile keeps choices in a file of the program's own, one JSON value a key. It is
// read before there is a window, and written on another goroutine, whole or not at
// all. The toolkit's preferences are not used: it empties its file before it writes
// it, on the main goroutine, and writes over what it could not read.
//
// Only the main goroutine may use it.
type ChoiceFile struct {
	ByKey map[string]any // bool, float64, string, []string; others are kept as they are
	Set   map[string]bool
	Files store.Files
	Path  string // "" when there is nowhere to write to

	writer *kit.Latest[choiceEdit] // nil until [ChoiceFile.WriteBy]
	unread error                   // why the file could not be read; nil where it could
	aside  string                  // where it is kept then; "" where it is still in its place
}

// choiceEdit is what this run of the program has chosen: another window's choices in
// the same file stay.
type choiceEdit struct {
	byKey map[string]any
	set   map[string]bool // keys of byKey, or removed
}

// ChoiceName is the file's name in the program's folder, and oldChoiceName that of the
// toolkit's, which is read where there is no other.
const (
	ChoiceName    = "choices.json"
	OldChoiceName = "preferences.json"
)

// MaxChoices is more than all choices take, in bytes.
const MaxChoices = 1 << 20

// LoadChoices reads the choices in a folder. A file that cannot be read is put aside,
// and where that fails it is left as it is and nothing is written.
func LoadChoices(files store.Files, folder string) *ChoiceFile {
	c := &ChoiceFile{Set: map[string]bool{}, Files: files, Path: filepath.Join(folder, ChoiceName)}
	path := c.Path
	values, err := readChoices(files, path)
	if errors.Is(err, fs.ErrNotExist) {
		path = filepath.Join(folder, OldChoiceName)
		values, err = readChoices(files, path)
	}
	c.ByKey = values
	if err == nil || errors.Is(err, fs.ErrNotExist) {
		return c
	}
	c.unread = err
	if aside, failed := store.Aside(files, path); failed == nil {
		c.aside = aside
	} else {
		c.Path = ""
	}
	return c
}

// Warning says what became of a file that could not be read, "" where it could.
func (c *ChoiceFile) Warning() string {
	switch {
	case c.unread == nil:
		return ""
	case c.aside != "":
		return with("The settings could not be read: {{.Why}}. They are kept as {{.Name}}; the program uses its defaults.",
			map[string]any{"Why": kit.InFull(kit.Reason(c.unread)), "Name": c.aside})
	}
	return with("The settings could not be read: {{.Why}}. Their file is left as it is; what you choose now lasts until the program ends.",
		map[string]any{"Why": kit.InFull(kit.Reason(c.unread))})
}

// readChoices reads a file of choices; after an error there are none.
func readChoices(files store.Files, path string) (map[string]any, error) {
	values := map[string]any{}
	data, err := store.Read(files, path, MaxChoices)
	if err == nil {
		err = json.Unmarshal(data, &values)
	}
	if err != nil {
		return map[string]any{}, err
	}
	if values == nil { // the text was "null"
		values = map[string]any{}
	}
	for key, v := range values {
		if list, ok := textList(v); ok {
			values[key] = list
		}
	}
	return values, nil
}

// textList are the texts of a JSON list of nothing else.
func textList(v any) ([]string, bool) {
	list, ok := v.([]any)
	if !ok {
		return nil, false
	}
	words := make([]string, len(list))
	for i, item := range list {
		if words[i], ok = item.(string); !ok {
			return nil, false
		}
	}
	return words, true
}

// WriteBy begins to write what is chosen; told hears, on the main goroutine, how it
// went each time.
func (c *ChoiceFile) WriteBy(inTurn *bool, told func(error)) {
	if c.Path == "" {
		return
	}
	c.writer = kit.NewLatest(inTurn, func(_ context.Context, e choiceEdit) func() {
		err := e.write(c.Files, c.Path)
		return func() { told(err) }
	})
}

// write puts what was chosen into the file.
func (e choiceEdit) write(files store.Files, path string) error {
	values, err := readChoices(files, path)
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case err == nil:
		for key := range e.set {
			if v, ok := e.byKey[key]; ok {
				values[key] = v
			} else {
				delete(values, key)
			}
		}
	case errors.As(err, &syntax) || errors.As(err, &kind): // damaged since it was read
		if _, err := store.Aside(files, path); err != nil {
			return err
		}
		values = e.byKey
	case errors.Is(err, fs.ErrNotExist):
		values = e.byKey
	default:
		return err
	}
	data, err := json.MarshalIndent(values, "", " ")
	if err != nil {
		return err
	}
	if err := store.Mkdir(files, filepath.Dir(path)); err != nil {
		return err
	}
	_, err = store.Replace(files, path, data, 0o600) // of one's own file nothing is lost that matters
	return err
}

// record makes a choice, nil for none.
func (c *ChoiceFile) record(key string, v any) {
	if v == nil {
		delete(c.ByKey, key)
	} else {
		c.ByKey[key] = v
	}
	c.Set[key] = true
	if c.writer != nil {
		c.writer.Give(choiceEdit{maps.Clone(c.ByKey), maps.Clone(c.Set)})
	}
}

// valueOf is a choice of a kind, or else something in its place.
func valueOf[T any](c *ChoiceFile, key string, fallback T) T {
	if v, ok := c.ByKey[key].(T); ok {
		return v
	}
	return fallback
}

// The methods of [Choices].

func (c *ChoiceFile) Bool(key string) bool                   { return valueOf(c, key, false) }
func (c *ChoiceFile) BoolWithFallback(k string, f bool) bool { return valueOf(c, k, f) }
func (c *ChoiceFile) SetBool(key string, v bool)             { c.record(key, v) }
func (c *ChoiceFile) Float(key string) float64               { return valueOf(c, key, 0.0) }
func (c *ChoiceFile) FloatWithFallback(k string, f float64) float64 {
	return valueOf(c, k, f)
}
func (c *ChoiceFile) SetFloat(key string, v float64)       { c.record(key, v) }
func (c *ChoiceFile) String(key string) string             { return valueOf(c, key, "") }
func (c *ChoiceFile) SetString(key, v string)              { c.record(key, v) }
func (c *ChoiceFile) StringList(key string) []string       { return valueOf[[]string](c, key, nil) }
func (c *ChoiceFile) SetStringList(key string, v []string) { c.record(key, v) }
func (c *ChoiceFile) RemoveValue(key string)               { c.record(key, nil) }
