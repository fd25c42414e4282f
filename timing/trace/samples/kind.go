package samples

import (
	"bytes"
	"unicode/utf8"

	"pinphase.org/pinphase/timing/phrase"
)

// beginnings are those of files that are no recordings, and what they are.
var beginnings = []struct {
	bytes string
	is    phrase.Word
}{
	{"%PDF-", "a PDF document"}, {"\x89PNG", "a picture"}, {"\xff\xd8\xff", "a picture"}, {"GIF8", "a picture"}, {"II*\x00", "a picture"}, {"MM\x00*", "a picture"},
	{"BM", "a picture"}, {"\x00\x00\x00\x18ftyp", "a film or a picture"}, {"\x00\x00\x00\x1cftyp", "a film or a picture"}, {"\x00\x00\x00\x20ftyp", "a film or a picture"},
	{"\x7fELF", "a program"}, {"MZ", "a program"}, {"\xcf\xfa\xed\xfe", "a program"}, {"\xca\xfe\xba\xbe", "a program"},
	{"PK\x03\x04", "a zip archive or an office document"}, {"PK\x05\x06", "a zip archive or an office document"}, {"\xd0\xcf\x11\xe0", "an office document"}, {"{\\rtf", "an office document"},
	{"BZh", "a packed file"}, {"\xfd7zXZ", "a packed file"}, {"\x28\xb5\x2f\xfd", "a packed file"}, {"7z\xbc\xaf", "a packed file"}, {"Rar!", "a packed file"}, {"\x1f\x8b", "a packed file"},
	{"fLaC", "compressed sound"}, {"OggS", "compressed sound"}, {"ID3", "compressed sound"}, {"\xff\xfb", "compressed sound"}, {"FORM", "sound that is not WAV"}, {"RIFX", "sound that is not WAV"}, {"riff\x2e", "sound that is not WAV"},
	{"SQLite format 3", "a database"}, {"\x89HDF", "a database"}, {"MATLAB 5.0", "a database"},
}

// refusal says what a file seems to be that is no recording; nil where it may be a table.
func refusal(head []byte) error {
	switch {
	case len(bytes.TrimSpace(head)) == 0:
		return phrase.Errorf("the file is empty: %v", ErrEmpty)
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return ErrUTF16
	}
	for _, b := range beginnings {
		binary := !utf8.ValidString(b.bytes) || b.bytes[0] < ' ' || len(b.bytes) > 3
		if bytes.HasPrefix(head, []byte(b.bytes)) && (binary || bytes.IndexByte(head, 0) >= 0) {
			return phrase.Errorf("the file seems to be %v: %v", b.is, ErrBinary)
		}
	}
	if text := bytes.TrimSpace(head); text[0] == '<' || text[0] == '{' || text[0] == '[' && bytes.IndexByte(text, '=') > 0 {
		return phrase.Errorf("the file seems to be %v: %v", markup(text[0]), ErrBinary)
	}
	if bytes.IndexByte(head, 0) >= 0 {
		return phrase.Errorf("the file is not text: %v", ErrBinary)
	}
	return nil
}

// markup is what a text is that begins with a sign of that kind.
func markup(first byte) phrase.Word {
	switch first {
	case '<':
		return "a web page or XML"
	case '[':
		return "a settings or job file"
	}
	return "JSON"
}
