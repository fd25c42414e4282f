package lesson

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

var regen = flag.Bool("regen", false, "write the golden file anew")

// An exercise is what it was on every machine: the file was written on another
// day, and perhaps on another machine.
func TestSameSeedSameQuestions(t *testing.T) {
	list, err := Exercise(Source{}, Kinds(), 1, 60)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for i, q := range list {
		fmt.Fprintf(&b, "%d %s, level %d\n", i+1, q.Kind, q.Level)
		for _, s := range q.Given {
			fmt.Fprintln(&b, "  ", s)
		}
		fmt.Fprintln(&b, "?", q.Ask)
		for _, s := range q.Steps {
			fmt.Fprintln(&b, "  -", s)
		}
		for _, s := range q.Notes {
			fmt.Fprintln(&b, "  !", s)
		}
		for _, p := range q.Parts {
			fmt.Fprintf(&b, "= %s: %s\n", p.Ask, p.Answer())
		}
		if q.After != nil {
			fmt.Fprintf(&b, "  [%s at %g]\n", q.After.Name, float64(q.After.At))
		}
	}
	name := filepath.Join("testdata", "exercise-1.txt")
	if *regen {
		if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Split(b.String(), "\n")
	for i, line := range strings.Split(string(want), "\n") {
		if i >= len(got) || got[i] != line {
			t.Fatalf("line %d is not %q any more", i+1, line)
		}
	}
	other, err := Exercise(Source{}, Kinds(), 2, 60)
	if err != nil {
		t.Fatal(err)
	}
	same := 0
	for i := range list {
		if list[i].Ask.String() == other[i].Ask.String() {
			same++
		}
	}
	if same > 30 {
		t.Errorf("%d of 60 questions are the same with another seed", same)
	}
}

func TestExercise(t *testing.T) {
	list, err := Exercise(Source{}, Kinds(), 7, 2*len(Kinds()))
	if err != nil {
		t.Fatal(err)
	}
	times := map[Kind]int{}
	for i, q := range list {
		times[q.Kind]++
		if i > 0 && q.Level < list[i-1].Level {
			t.Errorf("question %d is easier than the one before", i+1)
		}
	}
	if times[TDC] == 0 || len(times) < len(Kinds())-1 {
		t.Errorf("the kinds are not asked in turn: %v", times)
	}
	if list[0].Level != 1 || list[len(list)-1].Level != Levels {
		t.Errorf("levels run from %d to %d", list[0].Level, list[len(list)-1].Level)
	}
	if _, err := Exercise(Source{}, nil, 1, 3); !errors.Is(err, ErrNoKind) {
		t.Errorf("without a kind: %v", err)
	}
	single := job.Job{Engine: job.Engine{Strokes: 2, FiringOrder: []int{1}}}
	if list, err := Exercise(Only(single), []Kind{Firing}, 1, 1); err != nil || !list[0].MadeUp {
		t.Errorf("what fires next in an engine of one cylinder is not asked of one made up: %v", err)
	}
	if list, err := Exercise(Only(single), []Kind{Firing, Stroke}, 1, 4); err != nil || len(list) != 4 {
		t.Errorf("a kind that does not suit is not passed over: %v", err)
	}
	if _, err := Exercise(Only(job.Job{}), Kinds(), 1, 1); !errors.As(err, new(job.Faults)) {
		t.Errorf("a job that is not sound: %v", err)
	}
	if _, err := Make(single, "unknown", 1, 1); err == nil {
		t.Error("a kind that there is not was asked")
	}
}

// What is measured in the open job is not given away, and the job stays as it was.
func TestTheJobIsLeftAlone(t *testing.T) {
	j := job.Job{Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}, PinOffsetMM: job.Num(1), StrokeMM: job.Num(100)},
		Gears:      &job.Gears{CrankTeeth: 30, IdlerTeeth: []int{45}, CamTeeth: 60, CamTeethOut: 3},
		CrankWheel: &job.CrankWheel{Positions: 36, Missing: []int{36}, FirstToothBTDCDeg: job.Num(-10)}, Injection: &job.Injection{StartBTDCDeg: job.Num(9)}}
	before := fmt.Sprintf("%+v %+v %+v %+v", j.Engine, *j.Gears, *j.CrankWheel, *j.Injection)
	for _, k := range Kinds() {
		for level := 1; level <= Levels; level++ {
			if _, err := Make(j, k, level, 3); err != nil {
				t.Fatal(err)
			}
		}
	}
	if after := fmt.Sprintf("%+v %+v %+v %+v", j.Engine, *j.Gears, *j.CrankWheel, *j.Injection); after != before {
		t.Errorf("the job has become\n%s, was\n%s", after, before)
	}
}

// Every text has what belongs in its places.
func TestEveryTextIsFilled(t *testing.T) {
	look := func(s phrase.Sentence) {
		if got := s.String(); got == "" || strings.Contains(got, "{{") {
			t.Errorf("%q is filled to %q", s.Text, got)
		}
	}
	for seed := range uint64(150) {
		for level := 1; level <= Levels; level++ {
			j := Invent(level, seed)
			if faults := job.Check(j); faults != nil {
				t.Fatalf("level %d, seed %d: the engine made up is not sound: %v", level, seed, faults)
			}
			for _, k := range Kinds() {
				q, err := Make(j, k, level, seed)
				if errors.Is(err, ErrUnsuited) {
					continue
				}
				if err != nil {
					t.Fatal(err)
				}
				for _, s := range slices.Concat(q.Given, q.Steps, q.Notes, []phrase.Sentence{q.Ask}) {
					look(s)
				}
				for _, p := range q.Parts {
					look(p.Ask)
					look(p.Label())
					look(p.Answer())
					for _, c := range append(p.Sides.Names(), p.Choices...) {
						look(c)
					}
				}
			}
		}
	}
}
