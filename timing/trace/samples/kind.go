package samples

import (
	"bytes"
	"regexp"
	"unicode/utf8"

	"pinphase.org/pinphase/timing/phrase"
)

// refusal says what a file seems to be that is no recording; nil where it may be a table.
func refusal(head []byte) error {
	switch {
	case len(bytes.TrimSpace(head)) == 0:
		return phrase.Errorf("the file is empty: %v", ErrEmpty)
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return ErrUTF16
	}
	if like := looksLike(head); like != "" {
		return phrase.Errorf("the file seems to be %s: %v", like, ErrBinary)
	}
	if bytes.IndexByte(head, 0) >= 0 {
		return phrase.Errorf("the file is not text: %v", ErrBinary)
	}
	return nil
}

// beginning is how files of some kind begin, and what they then seem to be.
type beginning struct {
	bytes string
	seems phrase.Text
}

// looksLike names what begins so and is no recording; "" where nothing is known that does.
// A beginning that a text could have counts only where bytes follow that no text has.
func looksLike(head []byte) phrase.Text {
	for _, k := range []beginning{
		{"%PDF-", "a PDF"}, {"\x89PNG", "a picture"}, {"\xff\xd8\xff", "a picture"}, {"GIF8", "a picture"}, {"II*\x00", "a picture"}, {"MM\x00*", "a picture"}, {"BM", "a picture"},
		{"\x00\x00\x00\x18ftyp", "a film"}, {"\x00\x00\x00\x1cftyp", "a film"}, {"\x00\x00\x00\x20ftyp", "a film"},
		{"\x7fELF", "a program"}, {"MZ", "a program"}, {"\xcf\xfa\xed\xfe", "a program"}, {"\xca\xfe\xba\xbe", "a program"},
		{"PK\x03\x04", "a zip archive or an office document"}, {"PK\x05\x06", "a zip archive or an office document"}, {"\xd0\xcf\x11\xe0", "a zip archive or an office document"},
		{"BZh", "a file packed otherwise than by gzip"}, {"\xfd7zXZ", "a file packed otherwise than by gzip"}, {"\x28\xb5\x2f\xfd", "a file packed otherwise than by gzip"},
		{"7z\xbc\xaf", "a file packed otherwise than by gzip"}, {"Rar!", "a file packed otherwise than by gzip"}, {"\x1f\x8b", "a file packed twice"},
		{"fLaC", "sound that is not WAV"}, {"OggS", "sound that is not WAV"}, {"ID3", "sound that is not WAV"}, {"\xff\xfb", "sound that is not WAV"}, {"FORM", "sound that is not WAV"}, {"RIFX", "sound that is not WAV"},
		{"SQLite format 3", "a database"}, {"\x89HDF", "a database"}, {"MATLAB 5.0", "a database"}, {"{\\rtf", "a text document"},
	} {
		text := utf8.ValidString(k.bytes) && k.bytes[0] >= ' ' && len(k.bytes) < 5
		if bytes.HasPrefix(head, []byte(k.bytes)) && (!text || bytes.IndexByte(head, 0) >= 0) {
			return k.seems
		}
	}
	switch text := bytes.TrimSpace(head); {
	case text[0] == '<':
		return "a web page or XML"
	case text[0] == '{':
		return "JSON"
	}
	return ""
}

// settings are how a file of sections and keys looks, [engine] and strokes = 4.
var settings = regexp.MustCompile(`(?m)^\s*\[+[\w.]+\]+\s*$(?s:.*)^\s*\w+\s*=`)

// noRows says of a text without rows of numbers what it is where that shows.
func noRows(head []byte) error {
	if settings.Match(head) {
		return phrase.Errorf("the file seems to be %s: %v", phrase.Text("a settings or job file"), ErrBinary)
	}
	return ErrEmpty
}
