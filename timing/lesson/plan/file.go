package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/class"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/regular"
)

// MaxBytes is more than a lesson has.
const MaxBytes = 8 << 20

// mostParts is more engines, pages or exercises than a lesson has.
const mostParts = 500

// file is a lesson as it is written.
type file struct {
	Format int `toml:"format"`
	Lesson struct {
		Title string `toml:"title"`
		Notes string `toml:"notes,multiline"`
	} `toml:"lesson"`
	Engine   []fileEngine   `toml:"engine,omitempty"`
	Page     []filePage     `toml:"page,omitempty"`
	Exercise []fileExercise `toml:"exercise,omitempty"`
}

type fileEngine struct {
	Name string `toml:"name"`
	Job  string `toml:"job,multiline"`
}

type filePage struct {
	Engine   string  `toml:"engine"`
	Show     string  `toml:"show"`
	AtDeg    float64 `toml:"at_deg,omitempty"`
	Question string  `toml:"question,multiline,omitempty"`
	Answer   string  `toml:"answer,multiline,omitempty"`
}

type fileExercise struct {
	Title string `toml:"title"`
	Code  string `toml:"code"`
}

// Bytes returns the text of the lesson's file.
func (l Lesson) Bytes() []byte {
	f := file{Format: 1}
	f.Lesson.Title, f.Lesson.Notes = l.Title, l.Notes
	for _, e := range l.Engines {
		f.Engine = append(f.Engine, fileEngine{e.Name, string(e.Doc.Bytes())})
	}
	for _, p := range l.Pages {
		f.Page = append(f.Page, filePage{p.Engine, string(p.Show), p.AtDeg, p.Question, p.Answer})
	}
	for _, x := range l.Exercises {
		f.Exercise = append(f.Exercise, fileExercise(x))
	}
	data, err := toml.Marshal(f)
	if err != nil {
		panic("plan: a lesson that is no TOML: " + err.Error()) // there are only texts and numbers
	}
	return data
}

// ReadFile reads a lesson's file. Errors are as of [Read]; only an ordinary file is read.
func ReadFile(path string) (Lesson, error) {
	f, err := regular.Open(path)
	if err != nil {
		return Lesson{}, phrase.Errorf("reading the lesson: %v", err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return Lesson{}, phrase.Errorf("reading the lesson: %v", err)
	}
	return Read(path, data)
}

// Read reads a lesson. The error, if any, is [job.Faults]: what is wrong, each with its
// key, and its line where the file is no TOML of a lesson.
func Read(name string, data []byte) (Lesson, error) {
	c := &checker{name: name}
	if len(data) > MaxBytes {
		c.add(0, "", "is larger than %d MiB; a lesson is a few kilobytes of text", MaxBytes>>20)
		return Lesson{}, c.faults
	}
	if !utf8.Valid(data) {
		c.add(0, "", "is not UTF-8 text; a lesson is a text file")
		return Lesson{}, c.faults
	}
	var f file
	d := toml.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		c.undecoded(err)
		return Lesson{}, c.faults
	}
	l := c.lesson(f)
	if len(c.faults) > 0 {
		return Lesson{}, c.faults
	}
	return l, nil
}

// checker gathers what is wrong.
type checker struct {
	name   string
	faults job.Faults
}

func (c *checker) add(line int, key string, format phrase.Text, args ...any) {
	says := phrase.Of(format, args...)
	c.faults = append(c.faults, job.Fault{File: c.name, Line: line, Key: key, Message: says.String(), Says: says})
}

// undecoded is what the reader of TOML found.
func (c *checker) undecoded(err error) {
	var unknown *toml.StrictMissingError
	var wrong *toml.DecodeError
	switch {
	case errors.As(err, &unknown):
		for _, e := range unknown.Errors {
			row, _ := e.Position()
			c.add(row, strings.Join(e.Key(), "."), "is not a key of a lesson")
		}
	case errors.As(err, &wrong):
		row, _ := wrong.Position()
		c.add(row, strings.Join(wrong.Key(), "."), "%s", strings.TrimPrefix(wrong.Error(), "toml: "))
	default:
		c.add(0, "", "%s", err.Error())
	}
}

// lesson checks what was read.
func (c *checker) lesson(f file) Lesson {
	if f.Format != 1 {
		c.add(0, "format", "is %d; lessons of format 1 can be read", f.Format)
	}
	for key, n := range map[string]int{"engine": len(f.Engine), "page": len(f.Page), "exercise": len(f.Exercise)} {
		if n > mostParts {
			c.add(0, key, "occurs %d times; at most %d are accepted", n, mostParts)
		}
	}
	if len(c.faults) > 0 {
		return Lesson{}
	}
	l := Lesson{Title: f.Lesson.Title, Notes: f.Lesson.Notes}
	for i, e := range f.Engine {
		key := fmt.Sprintf("engine[%d]", i+1)
		if strings.TrimSpace(e.Name) == "" {
			c.add(0, key+".name", "is missing: pages name their engine by it")
		} else if l.Engine(e.Name) != nil {
			c.add(0, key+".name", "%q is the name of two engines", e.Name)
		}
		doc, err := job.Read(key+".job", []byte(e.Job))
		if err != nil {
			c.inJob(key+".job", err)
			doc = nil
		}
		l.Engines = append(l.Engines, Engine{e.Name, doc})
	}
	for i, p := range f.Page {
		l.Pages = append(l.Pages, c.page(l, p, fmt.Sprintf("page[%d]", i+1)))
	}
	for i, x := range f.Exercise {
		if _, err := class.ReadExercise(x.Code); err != nil {
			c.add(0, fmt.Sprintf("exercise[%d].code", i+1), "%v", err)
		}
		l.Exercises = append(l.Exercises, Exercise(x))
	}
	return l
}

// inJob adds the faults of an engine's job, with the lines of that.
func (c *checker) inJob(key string, err error) {
	var faults job.Faults
	if !errors.As(err, &faults) {
		c.add(0, key, "%v", err)
		return
	}
	for _, f := range faults {
		at := key
		if f.Line > 0 {
			at += ":" + strconv.Itoa(f.Line)
		}
		if f.Key != "" {
			at += ": " + f.Key
		}
		f.File, f.Line, f.Key = c.name, 0, at
		c.faults = append(c.faults, f)
	}
}

func (c *checker) page(l Lesson, f filePage, key string) Page {
	p := Page{f.Engine, Show(f.Show), f.AtDeg, f.Question, f.Answer}
	known := slices.Contains(Shows, p.Show)
	if !known {
		c.add(0, key+".show", "%q cannot be shown; firing_order, pairs, fault, turning, cycle, wheel and wheels can", f.Show)
	}
	if l.Engine(p.Engine) == nil {
		c.add(0, key+".engine", "there is no engine %q in the lesson", f.Engine)
	}
	if known && p.Show.Own() && strings.TrimSpace(p.Question) == "" {
		c.add(0, key+".question", "is missing: a page of your own needs a sentence")
	}
	if !(math.Abs(p.AtDeg) <= 1e6) { // not a number is none either
		c.add(0, key+".at_deg", "is not a crank angle")
	}
	return p
}
