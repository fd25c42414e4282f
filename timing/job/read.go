package job

import (
	"bytes"
	"io"
	"unicode"
	"unicode/utf8"

	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/regular"
)

// maxSize is the size of the largest file that is read, in bytes. A job with a
// photograph's points in it has some ten thousand.
const maxSize = 4 << 20

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
	return document.Schema(schema).Read(d.data, schema()).Line(key)
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
		return Job{}, Faults{told("", line, "is not text: byte %d is 0x%02X; a job is a text file", at+1, data[at])}
	}
	var j Job
	c := checker{Report: document.Schema(schema).Read(data, j.slots())}
	if j.Format == 0 {
		j.Format = j.Needs()
	}
	c.job(&j)
	if faults := c.Faults(); len(faults) > 0 {
		return Job{}, faults
	}
	return j, nil
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

// told is a fault of the file as a whole, or of one of its lines.
func told(file string, line int, format phrase.Text, args ...any) Fault {
	says := phrase.Of(format, args...)
	return Fault{File: file, Line: line, Message: says.String(), Says: says}
}

// New returns the document of a job that was never a file: its sections in their
// order, their keys in theirs, what is not given left out. The job need not be
// sound; only one that is can be read again.
func New(j Job) *Document {
	j = j.AsItIs() // a what-if is kept nowhere
	j = written(j)
	return &Document{document.Write(j.slots()), j}
}

// With returns a document that holds job j; d stays as it is. Only what j changes
// is changed in the text.
func (d *Document) With(j Job) *Document {
	j = j.AsItIs()
	j = written(j)
	if d.job.Equal(j) {
		return d
	}
	old := d.job.Clone()
	return &Document{document.Schema(schema).Change(d.data, old.slots(), j.slots()), j}
}

// written is the job as a file holds it, with its format.
func written(j Job) Job {
	j = j.Clone()
	j.Format = max(j.Format, j.Needs())
	return j
}
