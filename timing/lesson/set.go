package lesson

import (
	"errors"
	"fmt"
	"strings"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// Source gives the engine that a question is about. The zero value makes engines up.
type Source struct{ own *job.Job }

// Only is the source of one job's engine.
func Only(j job.Job) Source { return Source{&j} }

func (s Source) engine(o Origin, level int) job.Job {
	if s.own == nil || o.MadeUp {
		return Invent(level, o.Engine)
	}
	return *s.own
}

// Origin is what a question was made from, beside its kind and level.
type Origin struct {
	MadeUp bool   `json:"made_up,omitempty"` // the engine was made up
	Engine uint64 `json:"engine,string"`     // the seed it was made up from
	Seed   uint64 `json:"seed,string"`       // of the question
}

// Asked are the questions of a set that were asked, by their key.
type Asked map[string]bool

// Add notes that a question was asked.
func (a Asked) Add(q Question) { a[q.Key()] = true }

// Key is the same for two questions that a learner would call the same.
func (q Question) Key() string {
	var b strings.Builder
	for _, s := range append(append([]phrase.Sentence{}, q.Given...), q.Ask) {
		fmt.Fprintln(&b, s)
	}
	if f := q.Before; f != nil && f.Recording != nil {
		fmt.Fprintln(&b, *f.Recording)
	}
	for _, p := range q.Parts {
		fmt.Fprintln(&b, p.Answer())
	}
	return b.String()
}

// ErrNoKind is returned when no kind of question is left to choose from.
var ErrNoKind = phrase.Errorf("choose at least one kind of question")

// Next returns the question to ask a learner: one that they missed and that is due
// again, else one not asked in this set, of the kind, among those given, that they
// have come less far in of two drawn, at the level that suits them. The same for the
// same record, seed, number and questions asked.
func Next(r Record, from Source, kinds []Kind, seed uint64, number int, asked Asked) (Question, error) {
	if q, ok := r.due(from, kinds); ok {
		return q, nil
	}
	if len(kinds) == 0 {
		return Question{}, ErrNoKind
	}
	d := newDice(seed, fmt.Sprint("next ", number))
	k := oneOf(d, kinds...)
	if other := oneOf(d, kinds...); r.Level(other) < r.Level(k) {
		k = other
	}
	return fresh(d, from, k, r.Level(k), asked)
}

// due returns the question that has waited longest to be asked again.
func (r Record) due(from Source, kinds []Kind) (Question, bool) {
	total, _ := r.Total()
	for _, m := range r.Missed {
		for _, k := range kinds {
			if m.Due > total || m.Kind != k {
				continue
			}
			if q, err := from.make(k, m.Level, m.Origin); err == nil {
				return q, true
			}
		}
	}
	return Question{}, false
}

func (s Source) make(k Kind, level int, o Origin) (Question, error) {
	q, err := Make(s.engine(o, level), k, level, o.Seed)
	o.MadeUp = o.MadeUp || s.own == nil
	q.Origin = o
	return q, err
}

// Numbered returns question number n, counted from 1, of an exercise of count
// questions: kinds in turn, levels rising from 1, none twice while there are others.
// It does not depend on who is asked: the same for the same source, kinds, seed and
// count.
func Numbered(from Source, kinds []Kind, seed uint64, n, count int) (Question, error) {
	list, err := numbered(from, kinds, seed, n, count)
	if err != nil {
		return Question{}, err
	}
	return list[n-1], nil
}

// Exercise returns the questions of an exercise; see [Numbered].
func Exercise(from Source, kinds []Kind, seed uint64, count int) ([]Question, error) {
	return numbered(from, kinds, seed, count, count)
}

// numbered are the first n questions of an exercise.
func numbered(from Source, kinds []Kind, seed uint64, n, count int) ([]Question, error) {
	var list []Question
	asked := Asked{}
	for i := range n {
		q, err := inTurn(from, kinds, seed, i, count, asked)
		if err != nil {
			return nil, err
		}
		asked.Add(q)
		list = append(list, q)
	}
	return list, nil
}

// inTurn is the question after i others of an exercise.
func inTurn(from Source, kinds []Kind, seed uint64, i, count int, asked Asked) (Question, error) {
	if len(kinds) == 0 {
		return Question{}, ErrNoKind
	}
	d := newDice(seed, fmt.Sprint("number ", i+1))
	order := append([]Kind(nil), kinds...)
	shuffle(newDice(seed, fmt.Sprint("round ", i/len(kinds))), order)
	level := 1
	if count > 1 {
		level += min(i*Levels/count, Levels-1)
	}
	return fresh(d, from, order[i%len(kinds)], level, asked)
}

// How often a question that was not asked yet is looked for: on the engine of the
// job, and in all.
const ownTries, allTries = 12, 60

// fresh returns a question of a kind that was not asked yet: about the source's
// engine; where that does not suit or gives too few, about one made up; when all were
// asked, one of those.
func fresh(d dice, from Source, k Kind, level int, asked Asked) (Question, error) {
	var again *Question
	for try := 0; try < allTries; try++ {
		q, err := from.make(k, level, Origin{MadeUp: try >= ownTries, Engine: d.seed(), Seed: d.seed()})
		switch {
		case errors.Is(err, ErrUnsuited):
			try = max(try, ownTries-1) // every question of the kind was tried
		case err != nil:
			return Question{}, err
		case !asked[q.Key()]:
			return q, nil
		case again == nil:
			again = &q
		}
	}
	if again == nil {
		return Question{}, ErrUnsuited
	}
	return *again, nil
}
