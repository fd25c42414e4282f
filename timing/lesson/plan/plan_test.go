package plan

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/class"

	"pinphase.org/pinphase/timing/lesson"
)

func engine(t rapid.TB, text string) *job.Document {
	t.Helper()
	doc, err := job.Read("job", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

const six = "# as it came\nformat = 1\ntitle = \"Harbour launch\"\n[engine]\nstrokes = 4\nfiring_order = [1, 5, 3, 6, 2, 4]\n"

// lessons are any that can be made: names and sentences in any letters, with quotes,
// backslashes and line ends among them.
func lessons() *rapid.Generator[Lesson] {
	return rapid.Custom(func(t *rapid.T) Lesson {
		words := rapid.StringOf(rapid.SampledFrom([]rune("ab \n\t\"'\\°ñß–{#]=")))
		l := Lesson{Title: words.Draw(t, "title"), Notes: words.Draw(t, "notes")}
		for range rapid.IntRange(0, 3).Draw(t, "engines") {
			text := rapid.SampledFrom([]string{six, "format = 1\r\n[engine]\r\nstrokes = 2\r\nfiring_order = [1]\r\n"}).Draw(t, "job")
			l, _ = l.WithEngine(words.Draw(t, "name"), engine(t, text))
		}
		if len(l.Engines) > 0 {
			for range rapid.IntRange(0, 4).Draw(t, "pages") {
				p := Page{Engine: rapid.SampledFrom(l.Engines).Draw(t, "of").Name, Show: rapid.SampledFrom(Shows).Draw(t, "show")}
				if p.Show.Own() {
					p.AtDeg = math.Round(rapid.Float64Range(-720, 720).Draw(t, "at")*10) / 10
					p.Question, p.Answer = "?"+words.Draw(t, "question"), words.Draw(t, "answer")
				}
				l.Pages = append(l.Pages, p)
			}
		}
		x := class.Exercise{Kinds: lesson.Kinds(), Count: rapid.IntRange(1, 40).Draw(t, "count"), Seed: 7}
		if code, err := x.Code(); err == nil && rapid.Bool().Draw(t, "exercise") {
			l.Exercises = append(l.Exercises, Exercise{words.Draw(t, "exercise's title"), code})
		}
		return l
	})
}

// A lesson that is written is read again, with each job as its author laid it out.
func TestLessonComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := lessons().Draw(t, "lesson")
		got, err := Read("x.lesson", l.Bytes())
		if err != nil {
			t.Fatalf("%s\n%v", l.Bytes(), err)
		}
		if !got.Equal(l) || got.Title != l.Title || got.Notes != l.Notes || len(got.Pages) != len(l.Pages) {
			t.Fatalf("it came back as\n%s\nwant\n%s", got.Bytes(), l.Bytes())
		}
		for i, e := range l.Engines {
			if string(got.Engines[i].Doc.Bytes()) != string(e.Doc.Bytes()) {
				t.Fatalf("the job %q came back as %q", e.Doc.Bytes(), got.Engines[i].Doc.Bytes())
			}
		}
		for i, p := range l.Pages {
			if got.Pages[i] != p {
				t.Fatalf("the page %+v came back as %+v", p, got.Pages[i])
			}
		}
	})
}

// What is wrong is named with its place and what would be right, all of it at once.
func TestFaults(t *testing.T) {
	for text, want := range map[string][]string{
		"format = 2":                          {"x.lesson: format: is 2"},
		"format = 1\n[lesson]\ntitel = \"a\"": {"x.lesson:3: lesson.titel: is not a key of a lesson"},
		"format = 1\n[lesson\n":               {"x.lesson:2: "},
		"format = \"1\"":                      {"x.lesson:1: format: "},
		"format = 1\n[[page]]\nengine = \"a\"\nshow = \"all\"":                                                              {"page[1].show: \"all\" cannot be shown", "page[1].engine: there is no engine \"a\""},
		"format = 1\n[[engine]]\nname = \"a\"\njob = \"\"\"\nformat = 1\n[engine]\nstrokes = 3\nfiring_order = [1]\n\"\"\"": {"engine[1].job:3: engine.strokes: "},
		"format = 1\n[[exercise]]\ncode = \"AAAA-A\"":                                                                       {"exercise[1].code: the code is not correct"},
		"\xff": {"is not UTF-8"},
	} {
		_, err := Read("x.lesson", []byte(text))
		var faults job.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%q: %v", text, err)
			continue
		}
		for _, w := range want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%q: %q lacks %q", text, err, w)
			}
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("format = 1\n[lesson]\ntitle = \"a\"\n"))
	f.Add([]byte("format = 1\n[[page]]\nshow = \"cycle\"\nat_deg = nan\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := Read("x.lesson", data)
		if err != nil {
			return
		}
		again, err := Read("x.lesson", l.Bytes())
		if err != nil || !again.Equal(l) {
			t.Errorf("%q is read, written as %q, and then %v", data, l.Bytes(), err)
		}
	})
}

func TestReadFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a"+Ending)
	if _, err := ReadFile(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
	l, name := Lesson{Title: "Tuesday"}.WithEngine(" Six ", engine(t, six))
	l = l.WithPages([]Page{{Engine: name, Show: Pairs}})
	if err := os.WriteFile(path, l.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if got, err := ReadFile(path); err != nil || !got.Equal(l) {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestEdits(t *testing.T) {
	l, a := Lesson{}.WithEngine("A", engine(t, six))
	l, b := l.WithEngine("A", engine(t, six))
	if a == b || len(l.Engines) != 2 {
		t.Fatalf("two engines are called %q and %q", a, b)
	}
	l = l.WithPages([]Page{{Engine: a, Show: Pairs}, {Engine: b, Show: Fault}, {Engine: b, Show: Turning}})
	moved := Moved(l.Pages, 2, 0)
	if moved[0].Show != Turning || moved[2].Show != Fault || l.Pages[0].Show != Pairs {
		t.Errorf("moved to %v, leaving %v", moved, l.Pages)
	}
	if got := Moved(l.Pages, 0, 3); len(got) != 3 || got[0].Show != Pairs {
		t.Errorf("moved past the end to %v", got)
	}
	if l = l.WithoutEngine(b); len(l.Pages) != 1 || l.Engine(b) != nil || l.Engine(a) == nil {
		t.Errorf("without %q there is %+v", b, l)
	}
}
