package plan

import (
	"slices"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/job"
)

// Ending is that of a lesson's file.
const Ending = ".lesson"

// Lesson is a lesson. The zero value is empty and sound.
type Lesson struct {
	Title     string
	Notes     string // the instructor's own
	Engines   []Engine
	Pages     []Page
	Exercises []Exercise
}

// Engine is an engine of a lesson, perhaps with a fault.
type Engine struct {
	Name string // by which pages name it, each once
	Doc  *job.Document
}

// Page is something to show on the board.
type Page struct {
	Engine   string // by its name
	Show     Show
	AtDeg    float64 // of an own page: crank angle
	Question string  // of an own page
	Answer   string  // of an own page; may be empty
}

// Exercise is an exercise for the class.
type Exercise struct {
	Title string
	Code  string // of package class
}

// Show is what a page shows.
type Show string

// What pages show. The first four are all pages that the board has of it, the others
// one page with the instructor's own words.
const (
	FiringOrder Show = "firing_order"
	Pairs       Show = "pairs"
	Fault       Show = "fault"
	Turning     Show = "turning"
	Cycle       Show = "cycle"
	Wheel       Show = "wheel"
	Wheels      Show = "wheels"
)

// Shows are all that a page can show, in the order in which to offer them.
var Shows = []Show{FiringOrder, Pairs, Fault, Turning, Cycle, Wheel, Wheels}

// Own tells whether the page has the instructor's own words.
func (s Show) Own() bool { return s == Cycle || s == Wheel || s == Wheels }

// Engine returns the engine of a name; nil where there is none.
func (l Lesson) Engine(name string) *Engine {
	for i := range l.Engines {
		if l.Engines[i].Name == name {
			return &l.Engines[i]
		}
	}
	return nil
}

// WithEngine returns the lesson with one more engine, under a name that no other has,
// and that name.
func (l Lesson) WithEngine(name string, doc *job.Document) (Lesson, string) {
	name = strings.Join(strings.Fields(name), " ")
	if name == "" {
		name = "1"
	}
	free := name
	for n := 2; l.Engine(free) != nil; n++ {
		free = name + " (" + strconv.Itoa(n) + ")"
	}
	l.Engines = append(slices.Clone(l.Engines), Engine{free, doc})
	return l, free
}

// WithoutEngine returns the lesson without an engine and without the pages that show it.
func (l Lesson) WithoutEngine(name string) Lesson {
	l.Engines = slices.DeleteFunc(slices.Clone(l.Engines), func(e Engine) bool { return e.Name == name })
	l.Pages = slices.DeleteFunc(slices.Clone(l.Pages), func(p Page) bool { return p.Engine == name })
	return l
}

// WithPages returns the lesson with other pages.
func (l Lesson) WithPages(pages []Page) Lesson {
	l.Pages = pages
	return l
}

// Moved returns pages with one in another's place; a place that is none changes nothing.
func Moved(pages []Page, from, to int) []Page {
	if from < 0 || to < 0 || from >= len(pages) || to >= len(pages) {
		return pages
	}
	p := pages[from]
	return slices.Insert(slices.Delete(slices.Clone(pages), from, from+1), to, p)
}

// Equal tells whether two lessons are written alike.
func (l Lesson) Equal(o Lesson) bool { return string(l.Bytes()) == string(o.Bytes()) }
