package chart

import (
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func deck(t testing.TB, j job.Job, say Say) Deck {
	t.Helper()
	d, err := NewDeck(j, DeckOptions{Say: say})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// pages are the questions and answers of a chapter.
func pages(d Deck, c Chapter) (list []string) {
	for i := range d.Len() {
		if d.Chapter(i) == c {
			list = append(list, d.Page(i, PageView{}).Sentence+" "+d.Page(i, PageView{Answer: true}).Sentence)
		}
	}
	return list
}

func TestDeckOfTheDemo(t *testing.T) {
	t.Parallel()
	d := deck(t, sample.Demo(t), nil)
	// 1-5-3-6-2-4 fires every 120 degrees, and 1+6, 5+2 and 3+4 move together.
	order := pages(d, FiringOrder)
	if len(order) != 6 || order[1] != "Cylinder 5 fires at 120°. Which cylinder fires next? Cylinder 3 fires next, 120° later." ||
		!strings.HasSuffix(order[5], "Cylinder 1 fires next, 120° later.") {
		t.Errorf("%q", order)
	}
	pairs := pages(d, Pairs)
	if len(pairs) != 6 || !strings.HasPrefix(pairs[2], "Cylinder 3 fires at 240°.") || !strings.Contains(pairs[2], "Cylinder 4 reaches TDC with it") {
		t.Errorf("%q", pairs)
	}
	// The dowel of the demo is mirrored from 14 to −14, so all is 28 late: at 6
	// degrees a tooth, 28 is four teeth and two thirds, which from tooth 1 back over
	// the gap at 59 and 60 is nearest to tooth 56.
	fault := pages(d, Fault)
	for i, want := range []string{
		"sits 28° behind its place.", "the sensor sees tooth 1. What does the other sensor see? It sees tooth 56",
		"commands injection at 10° BTDC. Where is each crankshaft when it starts? The correct crankshaft is at 10° BTDC, the other at 18° ATDC.",
		"Every injection starts 18° after TDC",
	} {
		if i >= len(fault) || !strings.Contains(fault[i], want) {
			t.Fatalf("page %d of %q lacks %q", i, fault, want)
		}
	}
	if turning := pages(d, Turning); len(turning) != 2 || !strings.Contains(turning[1], "the other passes 28° later") {
		t.Errorf("%q", turning)
	}
	for c, want := range map[Chapter]int{FiringOrder: 0, Pairs: 6, Fault: 12, Turning: 16} {
		if got, ok := d.First(c); !ok || got != want {
			t.Errorf("chapter %d begins on page %d", c, got)
		}
	}
}

// texts are all that is written on a page.
func texts(in figure.BoardInput) string {
	var words []string
	for _, s := range figure.Board(in, 16.0/9).Shapes {
		if t, ok := s.(figure.Text); ok {
			words = append(words, t.S)
		}
	}
	return strings.Join(words, "|")
}

// Nothing that is asked for is to be read on the page before.
func TestDeckKeepsItsAnswers(t *testing.T) {
	t.Parallel()
	d := deck(t, sample.Demo(t), nil)
	for i := range d.Len() {
		asked, named, told := texts(d.Page(i, PageView{})), texts(d.Page(i, PageView{Names: true})), texts(d.Page(i, PageView{Answer: true}))
		if strings.Contains(asked, "compression") || strings.Contains(asked, "intake|") {
			t.Errorf("page %d names strokes that nobody asked for: %s", i, asked)
		}
		if d.pages[i].wheels == 0 && (!strings.Contains(named, "compression") || !strings.Contains(told, "compression")) {
			t.Errorf("page %d does not name the strokes: %s", i, named)
		}
		for _, secret := range []string{"−28°", "18° ATDC"} {
			if strings.Contains(asked, secret) {
				t.Errorf("page %d tells %s before it is asked: %s", i, secret, asked)
			}
		}
	}
	fault, _ := d.First(Fault)
	if s := texts(d.Page(fault, PageView{Answer: true})); !strings.Contains(s, "−28°") {
		t.Errorf("with the answer the displacement is not shown: %s", s)
	}
	if s := texts(d.Page(fault+2, PageView{Answer: true})); !strings.Contains(s, "actual, 18° ATDC") || !strings.Contains(s, "commanded, 10° BTDC") {
		t.Errorf("with the answer the injections are not marked: %s", s)
	}
	// The question and the answer leave the figures the same room.
	for i := range d.Len() {
		q, a := d.Page(i, PageView{}), d.Page(i, PageView{Answer: true})
		if !slices.Equal(q.Others, a.Others) {
			t.Errorf("page %d keeps room for %q, then for %q", i, q.Others, a.Others)
		}
	}
}

// However many cylinders there are, the answer names the strokes.
func TestDeckNamesStrokesOfManyCylinders(t *testing.T) {
	t.Parallel()
	for _, n := range []int{1, 6, 8, 10, 12, 13, 16, 18, 20, 24} {
		order := make([]int, n)
		for i := range order {
			order[i] = i + 1
		}
		d := deck(t, job.Job{Engine: job.Engine{Strokes: 4, FiringOrder: order}}, nil)
		for i := range d.Len() {
			if d.pages[i].wheels > 0 {
				continue
			}
			if s := texts(d.Page(i, PageView{Answer: true})); !strings.Contains(s, "compression") {
				t.Errorf("%d cylinders, page %d: %s", n, i, s)
			}
		}
	}
}

// The crank can leave the angle that a page speaks of; then the page speaks of
// where it is.
func TestDeckTurns(t *testing.T) {
	t.Parallel()
	d := deck(t, sample.Demo(t), nil)
	for turned, want := range map[timing.Deg]string{
		0:    "Cylinder 5 fires next, 120° later.",
		10:   "Cylinder 1 fired last; cylinder 5 fires next.",
		120:  "Cylinder 5 fired last; cylinder 3 fires next.",
		-1:   "Cylinder 4 fired last; cylinder 1 fires next.",
		1440: "Cylinder 1 fired last; cylinder 5 fires next.",
	} {
		if got := d.Page(0, PageView{Turned: turned, Answer: true}).Sentence; got != want {
			t.Errorf("turned by %g: %s", float64(turned), got)
		}
	}
	if s := texts(d.Page(0, PageView{Turned: 725})); !strings.Contains(s, "|5°") {
		t.Errorf("after a cycle and 5 degrees the cursor does not stand at 5: %s", s)
	}
	sees, _ := d.First(Fault)
	if got := d.Page(sees+1, PageView{Turned: 6}).Sentence; got != string(boardTogether) {
		t.Errorf("turned away from tooth 1 it asks %q", got)
	}
}

// without returns the demo with something taken out or changed.
func without(t testing.TB, change func(*job.Job)) job.Job {
	j := sample.Demo(t)
	change(&j)
	return j
}

func TestDecksOfOtherJobs(t *testing.T) {
	t.Parallel()
	ahead := without(t, func(j *job.Job) { j.Dowel.Drawing.Side, j.Dowel.Measured.Side = "anticlockwise", "clockwise" })
	for name, c := range map[string]struct {
		job    job.Job
		fault  string
		pairs  int
		faults int
	}{
		"ahead":        {ahead, "28° ahead of its place", 6, 4},
		"right":        {without(t, func(j *job.Job) { j.Dowel.Measured = j.Dowel.Drawing }), string(boardSame), 6, 2},
		"not measured": {without(t, func(j *job.Job) { j.Dowel.Measured = nil }), string(boardNotMeasured), 6, 1},
		"no drawing":   {without(t, func(j *job.Job) { j.Dowel.Drawing = nil }), string(boardUnknown), 6, 1},
		"no wheel":     {without(t, func(j *job.Job) { j.CrankWheel = nil }), "28° behind", 6, 3},
		"no injection": {without(t, func(j *job.Job) { j.Injection = nil }), "28° behind", 6, 2},
		"two-stroke":   {sample.File(t, "two-stroke"), "", 0, -1},
		"thin":         {sample.Read(t, thin), string(boardNotMeasured), 0, 1},
		"one cylinder": {sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [1]\n"), string(boardNotMeasured), 0, 1},
		"sixteen":      {sample.File(t, "v16-uneven"), "", -1, -1},
	} {
		d := deck(t, c.job, nil)
		if n := len(pages(d, FiringOrder)); n != d.engine.Cylinders() {
			t.Errorf("%s: %d pages of firings", name, n)
		}
		if n := len(pages(d, Pairs)); c.pairs >= 0 && n != c.pairs {
			t.Errorf("%s: %d pages of pairs", name, n)
		}
		fault := pages(d, Fault)
		if c.faults >= 0 && len(fault) != c.faults || !strings.Contains(fault[0], c.fault) {
			t.Errorf("%s: %q", name, fault)
		}
		for i := range d.Len() {
			for _, v := range []PageView{{}, {Answer: true}, {Turned: 33.3, Answer: true}, {Turned: -500, Names: true}} {
				in := d.Page(i, v)
				if in.Sentence == "" || in.Desc == "" || len(in.Panels) == 0 || len(figure.Board(in, 1.6).Shapes) < 10 {
					t.Errorf("%s: page %d shows %+v", name, i, in)
				}
			}
		}
	}
	if _, err := NewDeck(job.Job{}, DeckOptions{}); err == nil {
		t.Error("there is a deck without an engine")
	}
	if s := pages(deck(t, sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [1]\n"), nil), FiringOrder)[0]; !strings.HasSuffix(s, "Cylinder 1 fires again, 720° later.") {
		t.Errorf("%q", s)
	}
}

// Every word of a board goes through the reader's translation, is among the texts,
// and is said for one of these jobs.
func TestBoardWords(t *testing.T) {
	t.Parallel()
	say, _ := listener(t)
	for _, j := range []job.Job{
		sample.Demo(t), sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [1]\n"),
		without(t, func(j *job.Job) { j.Dowel.Drawing.Side, j.Dowel.Measured.Side = "anticlockwise", "clockwise" }),
		without(t, func(j *job.Job) { j.Dowel.Measured = j.Dowel.Drawing }), without(t, func(j *job.Job) { j.Dowel.Drawing = nil }),
	} {
		d := deck(t, j, say)
		for i := range d.Len() {
			for _, v := range []PageView{{}, {Answer: true}, {Turned: 1, Answer: true}} {
				in := d.Page(i, v)
				for _, p := range in.Panels {
					if p.Heading != "" && !strings.HasPrefix(p.Heading, "~") {
						t.Errorf("%q speaks English only", p.Heading)
					}
				}
				if !strings.HasPrefix(in.Sentence, "~") {
					t.Errorf("%q speaks English only", in.Sentence)
				}
			}
		}
	}
}
