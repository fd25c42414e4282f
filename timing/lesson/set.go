package lesson

import (
	"errors"
	"fmt"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// Source gives the engine that a question is about.
type Source func(level int, seed uint64) job.Job

// Only is the source of one job's engine.
func Only(j job.Job) Source { return func(int, uint64) job.Job { return j } }

// ErrNoKind is returned when no kind of question is left to choose from.
var ErrNoKind = phrase.Errorf("choose at least one kind of question")

// Next returns the question to ask a learner: of the kind, among those given, that
// they do worse in of two drawn, at the level that suits them. The same for the
// same record, seed and number.
func Next(r Record, from Source, kinds []Kind, seed uint64, number int) (Question, error) {
	d := newDice(seed, fmt.Sprint("next ", number))
	return first(d, kinds, func() (Question, error) {
		k := oneOf(d, kinds...)
		if other := oneOf(d, kinds...); r.Of(other).Rating < r.Of(k).Rating {
			k = other
		}
		level := r.Of(k).Level()
		return Make(from(level, d.seed()), k, level, d.seed())
	})
}

// Numbered returns question number n, counted from 1, of an exercise of count
// questions: kinds in turn, levels rising from 1. It does not depend on who is
// asked: the same for the same source, kinds, seed and count.
func Numbered(from Source, kinds []Kind, seed uint64, n, count int) (Question, error) {
	if len(kinds) == 0 {
		return Question{}, ErrNoKind
	}
	d := newDice(seed, fmt.Sprint("number ", n))
	turns := newDice(seed, fmt.Sprint("round ", (n-1)/len(kinds)))
	order := append([]Kind(nil), kinds...)
	shuffle(turns, order)
	k := order[(n-1)%len(order)]
	level := 1
	if count > 1 {
		level += min((n-1)*Levels/count, Levels-1)
	}
	fresh := true
	return first(d, kinds, func() (Question, error) {
		if !fresh { // an engine that does not suit the kind whose turn it is
			k = oneOf(d, kinds...)
		}
		fresh = false
		return Make(from(level, d.seed()), k, level, d.seed())
	})
}

// Exercise returns the questions of an exercise; see [Numbered].
func Exercise(from Source, kinds []Kind, seed uint64, count int) ([]Question, error) {
	var list []Question
	for n := 1; n <= count; n++ {
		q, err := Numbered(from, kinds, seed, n, count)
		if err != nil {
			return nil, err
		}
		list = append(list, q)
	}
	return list, nil
}

// first returns the first question that can be asked, of several that are tried.
func first(d dice, kinds []Kind, try func() (Question, error)) (q Question, err error) {
	if len(kinds) == 0 {
		return q, ErrNoKind
	}
	for range tries {
		if q, err = try(); err == nil || !errors.Is(err, ErrUnsuited) {
			break
		}
	}
	return q, err
}
