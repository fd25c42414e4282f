package class

import (
	"hash/fnv"
	"math"
	"math/bits"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/phrase"
)

// Exercise is what everybody in a class is asked.
type Exercise struct {
	Engine *job.Engine   // how it fires and turns; nil: made-up engines
	Kinds  []lesson.Kind // of questions, at least one
	Count  int           // of questions, 1 to [MostQuestions]
	Seed   uint64        // the exercise's number
}

// MostQuestions is more than anybody answers in one go.
const MostQuestions = 500

// What begins a code, in three bits.
const (
	headExercise = 1
	headShort    = 2 // a result with a shorter mark, as earlier versions wrote them
	headResult   = 3
	headBits     = 3
)

const (
	countBits    = 9
	cylinderBits = 5  // up to 32, of which 24 are allowed
	tenthBits    = 13 // a firing interval in tenths of a degree, up to 720
)

// kinds are the kinds of questions by their bit. A new kind gets a new bit and the codes
// a new head.
var kinds = []lesson.Kind{lesson.Stroke, lesson.Companion, lesson.Firing, lesson.Injection, lesson.Direction, lesson.Teeth, lesson.TDC, lesson.Gears, lesson.Trace}

// Of is the exercise about a job's engine.
func Of(j job.Job, kinds []lesson.Kind, count int, seed uint64) Exercise {
	e := job.Engine{Strokes: j.Engine.Strokes, FiringOrder: j.Engine.FiringOrder, FiringIntervalsDeg: j.Engine.FiringIntervalsDeg, Rotation: j.Engine.Rotation}
	return Exercise{Engine: &e, Kinds: kinds, Count: count, Seed: seed}
}

// Source gives the engines that the questions are about.
func (e Exercise) Source() lesson.Source {
	if e.Engine == nil {
		return lesson.Source{}
	}
	return lesson.Only(job.Job{Format: 1, Engine: *e.Engine})
}

// Questions are the questions, the same for everybody.
func (e Exercise) Questions() ([]lesson.Question, error) {
	return lesson.Exercise(e.Source(), e.Kinds, e.Seed, e.Count)
}

// Code writes the exercise. It is an error when the engine is not sound, has firing
// intervals of more than one decimal, or when nothing is asked.
func (e Exercise) Code() (string, error) {
	if len(e.Kinds) == 0 {
		return "", lesson.ErrNoKind
	}
	if e.Count < 1 || e.Count > MostQuestions {
		return "", phrase.Errorf("an exercise of %d questions; it may have 1 to %d", e.Count, MostQuestions)
	}
	var b bitList
	b.put(headExercise, headBits)
	for _, k := range kinds {
		b.flag(slices.Contains(e.Kinds, k))
	}
	b.put(uint64(e.Count-1), countBits)
	b.putAny(e.Seed)
	b.flag(e.Engine != nil)
	if e.Engine != nil {
		if err := b.engine(*e.Engine); err != nil {
			return "", err
		}
	}
	return write(b), nil
}

// ReadExercise reads what [Exercise.Code] writes.
func ReadExercise(code string) (Exercise, error) {
	b, err := read(code)
	if err != nil {
		return Exercise{}, err
	}
	r := &reader{left: b}
	if err := r.head(headExercise); err != nil {
		return Exercise{}, err
	}
	var e Exercise
	for _, k := range kinds {
		if r.flag() {
			e.Kinds = append(e.Kinds, k)
		}
	}
	e.Count = int(r.take(countBits)) + 1
	e.Seed = r.takeAny()
	if r.flag() {
		engine := r.engine()
		if job.Check(job.Job{Format: 1, Engine: engine}) != nil {
			return Exercise{}, errNoExercise
		}
		e.Engine = &engine
	}
	if !r.done() || len(e.Kinds) == 0 || e.Count > MostQuestions {
		return Exercise{}, errNoExercise
	}
	return e, nil
}

var errNoExercise = phrase.Errorf("the code does not hold an exercise that this version of the program knows")

// head checks what a code begins with.
func (r *reader) head(want uint64) error {
	switch got := r.take(headBits); {
	case got == want:
		return nil
	case got == headResult || got == headShort:
		return phrase.Errorf("this is the code of a result, not that of an exercise")
	case got == headExercise:
		return phrase.Errorf("this is the code of an exercise, not that of a result")
	}
	return phrase.Errorf("the code is from another version of the program")
}

// engine appends an engine: its firing order from cylinder 1 on, each cylinder by its
// place among those that are left, and its intervals as often as they repeat.
func (b *bitList) engine(e job.Engine) error {
	if faults := job.Check(job.Job{Format: 1, Engine: e}); faults != nil {
		return faults
	}
	order, intervals := fromOne(e)
	b.flag(e.Strokes == 2)
	b.flag(e.Rotation == timing.Anticlockwise.String())
	b.put(uint64(len(order)-1), cylinderBits)
	left := slices.Sorted(slices.Values(order))[1:]
	for _, c := range order[1:] {
		at := slices.Index(left, c)
		b.put(uint64(at), bits.Len(uint(len(left)-1)))
		left = slices.Delete(left, at, at+1)
	}
	b.flag(len(intervals) > 0)
	if len(intervals) == 0 {
		return nil
	}
	n := period(intervals)
	b.put(uint64(n-1), cylinderBits)
	for _, v := range intervals[:n] {
		tenths := math.Round(10 * v)
		if math.Abs(10*v-tenths) > 1e-6 {
			return phrase.Errorf("a firing interval of %v° does not fit into a code: one decimal does", phrase.Num{Value: v, Decimals: 3})
		}
		b.put(uint64(tenths), tenthBits)
	}
	return nil
}

// fromOne is the firing order from cylinder 1 on, and the intervals that go with it.
func fromOne(e job.Engine) (order []int, intervals []float64) {
	at := slices.Index(e.FiringOrder, 1)
	order = slices.Concat(e.FiringOrder[at:], e.FiringOrder[:at])
	if len(e.FiringIntervalsDeg) > 0 {
		intervals = slices.Concat(e.FiringIntervalsDeg[at:], e.FiringIntervalsDeg[:at])
	}
	return order, intervals
}

// period is after how many intervals the same ones follow again.
func period(intervals []float64) int {
	for n := 1; n < len(intervals); n++ {
		if len(intervals)%n == 0 && slices.Equal(intervals[n:], intervals[:len(intervals)-n]) {
			return n
		}
	}
	return len(intervals)
}

// engine takes an engine. What it returns need not be sound.
func (r *reader) engine() job.Engine {
	e := job.Engine{Strokes: 4, Rotation: timing.Clockwise.String()}
	if r.flag() {
		e.Strokes = 2
	}
	if r.flag() {
		e.Rotation = timing.Anticlockwise.String()
	}
	n := int(r.take(cylinderBits)) + 1
	e.FiringOrder = append(e.FiringOrder, 1)
	var left []int
	for c := 2; c <= n; c++ {
		left = append(left, c)
	}
	for len(left) > 0 {
		at := min(int(r.take(bits.Len(uint(len(left)-1)))), len(left)-1)
		e.FiringOrder = append(e.FiringOrder, left[at])
		left = slices.Delete(left, at, at+1)
	}
	if !r.flag() {
		return e
	}
	each := int(r.take(cylinderBits)) + 1
	for range each {
		e.FiringIntervalsDeg = append(e.FiringIntervalsDeg, float64(r.take(tenthBits))/10)
	}
	for len(e.FiringIntervalsDeg) < n {
		e.FiringIntervalsDeg = append(e.FiringIntervalsDeg, e.FiringIntervalsDeg[len(e.FiringIntervalsDeg)-each])
	}
	return e
}

// markBits are those of the mark of an exercise in a result, shortBits what earlier
// versions wrote of it.
const (
	markBits  = 25
	shortBits = 10
)

// mark tells results of one exercise from those of others: of thirty million others one
// has the same.
func (e Exercise) mark() (int, error) {
	code, err := e.Code()
	if err != nil {
		return 0, err
	}
	h := fnv.New32a()
	h.Write([]byte(code))
	return int(h.Sum32() >> (32 - markBits)), nil
}
