package job

import (
	"bytes"
	"errors"
	"io"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/regular"
)

// Format is the number of the file format this program reads and writes.
const Format = 1

// maxSize is the size of the largest file that is read, in bytes. A job with a
// photograph's points in it has some ten thousand.
const maxSize = 4 << 20

var bom = []byte("\ufeff")

// Document is a job together with the text it was read from or is written as,
// so that a change leaves the rest of the text as its author laid it out. It
// never changes.
type Document struct {
	data []byte
	job  Job
}

// Job returns the job. The caller may do with it as he likes.
func (d *Document) Job() Job { return d.job.Clone() }

// Bytes returns the text of the file.
func (d *Document) Bytes() []byte { return bytes.Clone(d.data) }

// ReadFile reads a job file. When something is wrong with its content the error
// is [Faults], every fault there is in one go; a file that cannot be opened or
// read gives any other error. Only an ordinary file is read: see [regular.Open].
func ReadFile(path string) (*Document, error) {
	f, err := regular.Open(path)
	if err != nil {
		return nil, phrase.Errorf("reading the job: %v", err)
	}
	defer f.Close()
	return ReadFrom(path, f)
}

// ReadFrom reads a job from where it comes, to its end but no further than a job may
// be long. name is what faults call it; errors are as of [ReadFile].
func ReadFrom(name string, r io.Reader) (*Document, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxSize+1))
	if err != nil {
		return nil, phrase.Errorf("reading the job: %v", err)
	}
	return Read(name, data)
}

// Line returns the line of a key or a section, named as in a [Fault], counted from
// 1; 0 where the file has none of that name.
func (d *Document) Line(key string) int {
	_, found, _ := decode(newText(d.data))
	return found.lines[key]
}

// Read reads a job from the content of a file, UTF-8 with or without byte order
// mark, lines ending either way. name is what faults call the file. The error,
// if any, is [Faults], every fault there is in one go.
func Read(name string, data []byte) (*Document, error) {
	if len(data) > maxSize {
		return nil, Faults{told(name, 0, "is larger than %d MiB; a job file is a few kilobytes of text", maxSize>>20)}
	}
	data = bytes.Clone(data)
	j, faults := parse(data)
	if len(faults) > 0 {
		for i := range faults {
			faults[i].File = name
		}
		return nil, faults
	}
	return &Document{data, j}, nil
}

// parse reads and checks a job. Its faults have no file yet.
func parse(data []byte) (Job, Faults) {
	if bytes.HasPrefix(data, []byte{0xFF, 0xFE}) || bytes.HasPrefix(data, []byte{0xFE, 0xFF}) {
		return Job{}, Faults{told("", 1, "is UTF-16 text; save it as UTF-8")}
	}
	if at, no := noText(data); no {
		line := 1 + bytes.Count(data[:at], []byte("\n"))
		return Job{}, Faults{told("", line, "is no text: byte %d is 0x%02X; a job is a text file", at+1, data[at])}
	}
	readable, lines, bad := onlyUTF8(data)
	t := newText(readable)
	j, d, hid := decode(t)
	if bad >= 0 {
		says := notUTF8(lines)
		d.faults.add(t.line(bad), "", says.Format, says.Args...)
	}
	c := checker{decoder: d, hidden: &hid}
	c.job(&j)
	if d.faults.count > 0 {
		return Job{}, d.faults.sorted("")
	}
	if err := library(readable); err != nil {
		return Job{}, Faults{libraryFault(err)}
	}
	return j, nil
}

// decode reads a job without judging its values. What is wrong with the text is
// in the decoder's faults.
func decode(t text) (Job, *decoder, hiding) {
	b, hid := build(t)
	d := &decoder{lines: map[string]int{}, bad: hid.keys, faults: b.faults}
	var j Job
	d.table(b.root, j.slots())
	if j.Format == 0 {
		j.Format = Format
	}
	return j, d, hid
}

// library returns what the TOML library has against the whole text, which may be
// more than was looked for here.
func library(data []byte) error {
	var all map[string]any
	return toml.Unmarshal(bytes.TrimPrefix(data, bom), &all)
}

// noText tells whether the data are no text at all, such as a picture or a program,
// and at which offset that shows first: they hold a zero byte, or many of their
// bytes, more than a tenth, are control characters or no UTF-8.
func noText(data []byte) (at int, no bool) {
	first, odd := -1, 0
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size <= 1 || unicode.IsControl(r) && !unicode.IsSpace(r) {
			odd++
			if first < 0 {
				first = i
			}
		}
		i += size
	}
	const many = 20 // a short text in another encoding has fewer
	return first, bytes.IndexByte(data, 0) >= 0 || odd > many && 10*odd > len(data)
}

// onlyUTF8 returns the text with every byte that is no UTF-8 replaced by '?', on
// how many lines there are such, and the offset of the first, -1 for none.
func onlyUTF8(data []byte) (text []byte, lines, first int) {
	if utf8.Valid(data) {
		return data, 0, -1
	}
	text, first = bytes.Clone(data), -1
	counted := false
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		switch {
		case r == utf8.RuneError && size <= 1:
			if first < 0 {
				first = i
			}
			if !counted {
				lines, counted = lines+1, true
			}
			text[i] = '?'
		case r == '\n':
			counted = false
		}
		i += size
	}
	return text, lines, first
}

func notUTF8(lines int) phrase.Phrase {
	if lines > 1 {
		return phrase.Of("this line and %d more are not UTF-8 text; save the file as UTF-8", lines-1)
	}
	return phrase.Of("this line is not UTF-8 text; save the file as UTF-8")
}

// told is a fault of the file as a whole, or of one of its lines.
func told(file string, line int, format string, args ...any) Fault {
	says := phrase.Of(format, args...)
	return Fault{File: file, Line: line, Message: says.String(), Says: says}
}

// libraryFault is an error of the TOML library as a fault.
func libraryFault(err error) Fault {
	f := told("", 1, "is no TOML: %s", err.Error())
	var de *toml.DecodeError
	if errors.As(err, &de) {
		f.Line, _ = de.Position()
		key := ""
		for _, part := range de.Key() {
			key = join(key, part)
		}
		f.Key = key
		f.Message, f.Says.Args = "is no TOML: "+de.Error(), []any{de.Error()}
	}
	return f
}
