package class

import (
	"slices"

	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/phrase"
)

// Result is how one learner did in an exercise.
type Result struct {
	Learner int      // number in the class list, 1 to [MostLearners]; 0: not given
	Answers []Answer // to every question of the exercise, in their order
	mark    int      // of the exercise
}

// MostLearners is the highest number in a class list.
const MostLearners = 127

const learnerBits = 7

// Answer is what became of a question.
type Answer int

// The answers. Open is a question that was not reached.
const (
	Open Answer = iota
	AtFirst
	AtSecond
	NotKnown
)

// AnswerOf is the answer that a grade stands for.
func AnswerOf(g lesson.Grade) Answer {
	return map[lesson.Grade]Answer{lesson.AtFirst: AtFirst, lesson.AtSecond: AtSecond, lesson.NotKnown: NotKnown}[g]
}

// Right is how many were answered rightly at once.
func (r Result) Right() int {
	n := 0
	for _, a := range r.Answers {
		if a == AtFirst {
			n++
		}
	}
	return n
}

// Result is that of a learner in the exercise: with as many answers as it has
// questions, those not given being open.
func (e Exercise) Result(learner int, answers []Answer) (Result, error) {
	mark, err := e.mark()
	r := Result{Learner: min(max(learner, 0), MostLearners), Answers: make([]Answer, e.Count), mark: mark}
	copy(r.Answers, answers)
	return r, err
}

// Code writes the result, as short as the exercise allows: two bits a question.
func (r Result) Code() string {
	var b bitList
	b.put(headResult, headBits)
	b.put(uint64(r.mark), markBits)
	b.put(uint64(r.Learner), learnerBits)
	b.put(uint64(len(r.Answers)-1), countBits)
	for _, a := range r.Answers {
		b.put(uint64(a), 2)
	}
	return write(b)
}

// ReadResult reads what [Result.Code] writes. A result of another exercise is refused.
func (e Exercise) ReadResult(code string) (Result, error) {
	b, err := read(code)
	if err != nil {
		return Result{}, err
	}
	want, err := e.mark()
	if err != nil {
		return Result{}, err
	}
	r, size := &reader{left: b}, markBits
	if (&reader{left: b}).head(headShort) == nil {
		r.head(headShort)
		size = shortBits
	} else if err := r.head(headResult); err != nil {
		return Result{}, err
	}
	mark := int(r.take(size))
	got := Result{mark: want, Learner: int(r.take(learnerBits))}
	count := int(r.take(countBits)) + 1
	if mark != want>>(markBits-size) || count != e.Count {
		return Result{}, phrase.Errorf("this is a result of another exercise")
	}
	for range count {
		got.Answers = append(got.Answers, Answer(r.take(2)))
	}
	if !r.done() {
		return Result{}, phrase.Errorf("the code does not hold a result that this version of the program knows")
	}
	return got, nil
}

// Tally is how a class answered one question.
type Tally struct{ AtFirst, AtSecond, NotKnown, Open int }

// Tallies counts the answers to each question. Where a learner has handed in more than
// one result, the last counts.
func (e Exercise) Tallies(results []Result) []Tally {
	list := make([]Tally, e.Count)
	for _, r := range Last(results) {
		for i, a := range r.Answers {
			t := &list[i]
			*map[Answer]*int{AtFirst: &t.AtFirst, AtSecond: &t.AtSecond, NotKnown: &t.NotKnown, Open: &t.Open}[a]++
		}
	}
	return list
}

// Last leaves out results after which the same learner has handed in another one; those
// without a number all stay.
func Last(results []Result) []Result {
	var list []Result
	for i, r := range results {
		later := slices.ContainsFunc(results[i+1:], func(o Result) bool { return o.Learner == r.Learner })
		if r.Learner == 0 || !later {
			list = append(list, r)
		}
	}
	return list
}
