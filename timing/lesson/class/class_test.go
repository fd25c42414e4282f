package class

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
)

// engines are any that a job may have: up to 24 cylinders in any order, even or with
// intervals in tenths of a degree.
func engines() *rapid.Generator[*job.Engine] {
	return rapid.Custom(func(t *rapid.T) *job.Engine {
		e := &job.Engine{Strokes: rapid.SampledFrom([]int{2, 4}).Draw(t, "strokes"),
			Rotation: rapid.SampledFrom([]string{timing.Clockwise.String(), timing.Anticlockwise.String()}).Draw(t, "rotation")}
		n := rapid.IntRange(1, 24).Draw(t, "cylinders")
		for c := 1; c <= n; c++ {
			e.FiringOrder = append(e.FiringOrder, c)
		}
		e.FiringOrder = rapid.Permutation(e.FiringOrder).Draw(t, "order")
		if n > 1 && rapid.Bool().Draw(t, "uneven") {
			left := 180 * e.Strokes * 10
			for i := range n {
				v := left
				if i < n-1 {
					v = rapid.IntRange(1, left-(n-1-i)).Draw(t, "interval")
				}
				left -= v
				e.FiringIntervalsDeg = append(e.FiringIntervalsDeg, float64(v)/10)
			}
		}
		return e
	})
}

func exercises() *rapid.Generator[Exercise] {
	return rapid.Custom(func(t *rapid.T) Exercise {
		x := Exercise{Count: rapid.IntRange(1, MostQuestions).Draw(t, "count"), Seed: rapid.Uint64().Draw(t, "seed")}
		for _, k := range kinds {
			if rapid.Bool().Draw(t, string(k)) {
				x.Kinds = append(x.Kinds, k)
			}
		}
		if len(x.Kinds) == 0 {
			x.Kinds = []lesson.Kind{lesson.TDC}
		}
		if rapid.Bool().Draw(t, "of an engine") {
			x.Engine = engines().Draw(t, "engine")
		}
		return x
	})
}

func code(t rapid.TB, x Exercise) string {
	t.Helper()
	c, err := x.Code()
	if err != nil {
		t.Fatalf("%+v: %v", x, err)
	}
	return c
}

// Every kind of question can stand in a code.
func TestKinds(t *testing.T) {
	if !slices.Equal(slices.Sorted(slices.Values(kinds)), slices.Sorted(slices.Values(lesson.Kinds()))) {
		t.Errorf("codes know %v, practice %v", kinds, lesson.Kinds())
	}
}

// What is written is read again, whatever small letters, spaces, hyphens and signs that
// look like others the reader makes of it: the same kinds, number and count, and an
// engine that fires and turns alike.
func TestExerciseComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := exercises().Draw(t, "exercise")
		written := code(t, x)
		careless := strings.NewReplacer("-", " ", "1", "l", "0", "o").Replace(strings.ToLower(written))
		for _, typed := range []string{written, careless} {
			got, err := ReadExercise(typed)
			if err != nil {
				t.Fatalf("%s of %+v: %v", typed, x, err)
			}
			if !slices.Equal(got.Kinds, x.Kinds) || got.Count != x.Count || got.Seed != x.Seed || (got.Engine == nil) != (x.Engine == nil) {
				t.Fatalf("%s: %+v, written %+v", typed, got, x)
			}
			if x.Engine == nil {
				continue
			}
			order, intervals := fromOne(*x.Engine)
			if got.Engine.Strokes != x.Engine.Strokes || got.Engine.Rotation != x.Engine.Rotation ||
				!slices.Equal(got.Engine.FiringOrder, order) || !slices.Equal(got.Engine.FiringIntervalsDeg, intervals) {
				t.Fatalf("%s: the engine is %+v, written %+v", typed, *got.Engine, *x.Engine)
			}
		}
	})
}

// results are those of an exercise.
func results(x Exercise) *rapid.Generator[Result] {
	return rapid.Custom(func(t *rapid.T) Result {
		var answers []Answer
		for range rapid.IntRange(0, x.Count).Draw(t, "answered") {
			answers = append(answers, rapid.SampledFrom([]Answer{AtFirst, AtSecond, NotKnown}).Draw(t, "answer"))
		}
		r, err := x.Result(rapid.IntRange(0, MostLearners).Draw(t, "learner"), answers)
		if err != nil {
			t.Fatal(err)
		}
		return r
	})
}

func TestResultComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := exercises().Draw(t, "exercise")
		r := results(x).Draw(t, "result")
		got, err := x.ReadResult(r.Code())
		if err != nil || got.Learner != r.Learner || !slices.Equal(got.Answers, r.Answers) {
			t.Fatalf("%s: %+v (%v), written %+v", r.Code(), got, err, r)
		}
		if _, err := ReadExercise(r.Code()); err == nil {
			t.Fatal("a result is read as an exercise")
		}
		if _, err := x.ReadResult(code(t, x)); err == nil {
			t.Fatal("an exercise is read as a result")
		}
	})
}

// Results that earlier versions wrote are read as before: their mark is the first ten bits
// of today's.
func TestShorterResultComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := exercises().Draw(t, "exercise")
		r := results(x).Draw(t, "result")
		var b bitList
		b.put(headShort, headBits)
		b.put(uint64(r.mark>>(markBits-shortBits)), shortBits)
		b.put(uint64(r.Learner), learnerBits)
		b.put(uint64(len(r.Answers)-1), countBits)
		for _, a := range r.Answers {
			b.put(uint64(a), 2)
		}
		got, err := x.ReadResult(write(b))
		if err != nil || got.Learner != r.Learner || !slices.Equal(got.Answers, r.Answers) {
			t.Fatalf("%s: %+v (%v), written %+v", write(b), got, err, r)
		}
		if _, err := ReadExercise(write(b)); err == nil {
			t.Fatal("a result is read as an exercise")
		}
	})
}

// The results of two thousand exercises that differ by their number alone are told apart.
func TestResultsOfOtherExercises(t *testing.T) {
	seen := map[int]uint64{}
	for seed := range uint64(2000) {
		mark, err := Exercise{Kinds: kinds, Count: 20, Seed: seed}.mark()
		if err != nil {
			t.Fatal(err)
		}
		if other, ok := seen[mark]; ok {
			t.Errorf("exercises %d and %d have the same mark", other, seed)
		}
		seen[mark] = seed
	}
}

// All slips of one sign and all swaps of neighbours are found, in codes of any length,
// also where the check letter itself is wrong: tried one after the other, none by chance.
func TestEverySlipIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := exercises().Draw(t, "exercise")
		signs := []byte(Tidy(code(t, x)))
		if rapid.Bool().Draw(t, "of a result") {
			signs = []byte(Tidy(results(x).Draw(t, "result").Code()))
		}
		accepted := func(s []byte) bool {
			_, err := read(string(s))
			return err == nil
		}
		if !accepted(signs) {
			t.Fatalf("%s is refused", signs)
		}
		// The longest have 200 letters: 31 slips at each are more than a trial of a law may take.
		for _, at := range somePlaces(t, len(signs)) {
			for _, other := range []byte(alphabet) {
				slip := slices.Clone(signs)
				if slip[at] = other; other != signs[at] && accepted(slip) {
					t.Fatalf("%s is accepted for %s", slip, signs)
				}
			}
			if swap := slices.Clone(signs); at > 0 && swap[at] != swap[at-1] {
				if swap[at], swap[at-1] = swap[at-1], swap[at]; accepted(swap) {
					t.Fatalf("%s is accepted for %s", swap, signs)
				}
			}
		}
	})
}

// somePlaces are all places in a short code, and twenty of a long one.
func somePlaces(t *rapid.T, n int) []int {
	if n <= 20 {
		list := make([]int, n)
		for i := range list {
			list[i] = i
		}
		return list
	}
	return rapid.SliceOfN(rapid.IntRange(0, n-1), 20, 20).Draw(t, "places")
}

// The element by which signs are weighed is primitive: its first 31 powers differ and
// none is 0, which the promises of the check letter stand on (finite fields of 2ⁿ
// elements, any textbook of algebra).
func TestWeightsDiffer(t *testing.T) {
	seen := map[byte]bool{}
	v := byte(1)
	for range 31 {
		if v == 0 || seen[v] {
			t.Fatalf("the powers repeat after %d", len(seen))
		}
		seen[v] = true
		v = times(v)
	}
	if v != 1 {
		t.Errorf("the 31st power is %d, want 1", v)
	}
}

// What a class types is an exercise, or is refused with a reason; no code crashes.
func FuzzReadExercise(f *testing.F) {
	for _, x := range []Exercise{{Kinds: lesson.Kinds(), Count: 20, Seed: 7},
		{Engine: &job.Engine{Strokes: 4, FiringOrder: []int{1, 5, 3, 6, 2, 4}}, Kinds: lesson.Kinds()[:2], Count: 3, Seed: 1 << 40}} {
		c, err := x.Code()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(c)
	}
	f.Add("")
	f.Add("88888")
	f.Fuzz(func(t *testing.T, typed string) {
		x, err := ReadExercise(typed)
		if err != nil {
			if err.Error() == "" {
				t.Error("refused without a reason")
			}
			return
		}
		if _, err := x.Code(); err != nil {
			t.Errorf("%q holds %+v, which cannot be written: %v", typed, x, err)
		}
	})
}

// The questions of a code are those of the exercise it was made from, on a computer that
// has nothing but the code; wheel and gears of the instructor's job play no part.
func TestSameQuestions(t *testing.T) {
	j := job.Job{Format: 1, Engine: job.Engine{Strokes: 4, FiringOrder: []int{3, 6, 2, 4, 1, 5}, Rotation: "clockwise"},
		CrankWheel: &job.CrankWheel{Positions: 36, Missing: []int{36}, FirstToothBTDCDeg: job.Num(90)}}
	here := Of(j, lesson.Kinds(), 18, 77)
	there, err := ReadExercise(code(t, here))
	if err != nil {
		t.Fatal(err)
	}
	want, err := here.Questions()
	if err != nil {
		t.Fatal(err)
	}
	got, err := there.Questions()
	if err != nil {
		t.Fatal(err)
	}
	for i := range want {
		if got[i].Key() != want[i].Key() {
			t.Errorf("question %d is\n%s\nwant\n%s", i+1, got[i].Key(), want[i].Key())
		}
	}
}

// How long codes are: what fits on a board and is typed in a moment.
func TestShort(t *testing.T) {
	for _, c := range []struct {
		x    Exercise
		most int
	}{
		{Exercise{Kinds: lesson.Kinds(), Count: 20, Seed: 7}, 8},
		{Exercise{Kinds: lesson.Kinds(), Count: 20, Seed: 9999, Engine: &job.Engine{Strokes: 4, FiringOrder: []int{1, 5, 3, 6, 2, 4}}}, 13},
		{Exercise{Kinds: lesson.Kinds(), Count: 20, Seed: 9999, Engine: &job.Engine{Strokes: 4, FiringOrder: []int{1, 6, 5, 4, 3, 2}, FiringIntervalsDeg: []float64{150, 90, 150, 90, 150, 90}}}, 20},
	} {
		if n := len(Tidy(code(t, c.x))); n > c.most {
			t.Errorf("%s has %d letters, at most %d are wanted", code(t, c.x), n, c.most)
		}
	}
}

// Each question's tally is counted by hand. Learner 1 has handed in twice: the second
// counts. Two without a number are two.
func TestTallies(t *testing.T) {
	x := Exercise{Kinds: lesson.Kinds(), Count: 3, Seed: 7}
	var list []Result
	for _, r := range []struct {
		learner int
		answers []Answer
	}{{1, []Answer{NotKnown, NotKnown, NotKnown}}, {2, []Answer{AtFirst, AtSecond}}, {1, []Answer{AtFirst, NotKnown, AtFirst}}, {0, []Answer{AtFirst}}, {0, nil}} {
		result, err := x.Result(r.learner, r.answers)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, result)
	}
	want := []Tally{{AtFirst: 3, Open: 1}, {AtSecond: 1, NotKnown: 1, Open: 2}, {AtFirst: 1, Open: 3}}
	if got := x.Tallies(list); !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	other := x
	other.Seed++
	if _, err := other.ReadResult(list[0].Code()); err == nil {
		t.Error("a result of another exercise is taken")
	}
}

func TestRefused(t *testing.T) {
	x := Exercise{Kinds: lesson.Kinds(), Count: 20, Seed: 7}
	for name, change := range map[string]func(*Exercise){
		"no kinds":       func(x *Exercise) { x.Kinds = nil },
		"no questions":   func(x *Exercise) { x.Count = 0 },
		"too many":       func(x *Exercise) { x.Count = MostQuestions + 1 },
		"unsound engine": func(x *Exercise) { x.Engine = &job.Engine{Strokes: 4, FiringOrder: []int{1, 1}} },
		"finer than it is": func(x *Exercise) {
			x.Engine = &job.Engine{Strokes: 4, FiringOrder: []int{1, 2}, FiringIntervalsDeg: []float64{180.05, 539.95}}
		},
	} {
		y := x
		change(&y)
		if c, err := y.Code(); err == nil {
			t.Errorf("%s: written as %s", name, c)
		}
	}
	if _, err := (Exercise{Count: 3}).Code(); !errors.Is(err, lesson.ErrNoKind) {
		t.Errorf("without kinds: %v", err)
	}
	for _, typed := range []string{"", "U", "8*8", "0000", strings.Repeat("0", 1000)} {
		if _, err := ReadExercise(typed); err == nil {
			t.Errorf("%q is taken for an exercise", typed)
		}
	}
}
