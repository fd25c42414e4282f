package lesson

import (
	"encoding/json"
	"math"

	"pinphase.org/pinphase/timing/phrase"
)

// Record is how a learner does, kind by kind. The zero value is a beginner.
//
// Skill and difficulty are numbers on one scale, as in chess: the chance of a
// right answer is logistic in their difference, and each answer moves the skill
// by how far it surprises (Elo, The Rating of Chessplayers, 1978; for learners:
// Pelánek, Applications of the Elo rating system in adaptive educational systems,
// Computers & Education 98, 2016, whose form for questions that can be guessed is
// used, and whose step shrinks with the number of answers).
type Record struct {
	Kinds map[Kind]Skill `json:"kinds"`
}

// Skill is how a learner does in one kind.
type Skill struct {
	Rating float64 `json:"rating"` // logits; 0 is a learner who gets half of level 1 right
	Asked  int     `json:"asked"`
	Right  int     `json:"right"`
	Streak int     `json:"streak"` // right answers since the last that was not
}

const (
	levelStep = 1.0  // logits from a level to the next: our choice
	firstStep = 1.0  // logits; Pelánek's a, from memory
	stepDecay = 0.05 // Pelánek's b, from memory
	// The share of right answers to aim at (Klinkenberg, Straatemeier and van der
	// Maas, Computer adaptive practice of Maths ability, Computers & Education 57,
	// 2011, where it is one of three that pupils choose from; from memory).
	aim = 0.75
)

// difficulty of a level.
func difficulty(level int) float64 { return levelStep * float64(level-1) }

// chance returns how probable a right answer is at a level, when a guess is right
// with the given chance.
func (s Skill) chance(level int, guess float64) float64 {
	return guess + (1-guess)/(1+math.Exp(difficulty(level)-s.Rating))
}

// Level returns the level to ask at: the one at which the chance of a right answer
// that is not guessed comes nearest to three in four.
func (s Skill) Level() int {
	best := 1
	for l := 2; l <= Levels; l++ {
		if math.Abs(s.chance(l, 0)-aim) < math.Abs(s.chance(best, 0)-aim) {
			best = l
		}
	}
	return best
}

// Share returns the share of right answers, 0 to 1; 0 before the first.
func (s Skill) Share() float64 {
	if s.Asked == 0 {
		return 0
	}
	return float64(s.Right) / float64(s.Asked)
}

// Of returns the skill in a kind.
func (r Record) Of(k Kind) Skill { return r.Kinds[k] }

// After returns the record after an answer to a question. Not knowing counts as
// not right.
func (r Record) After(q Question, right bool) Record {
	s := r.Of(q.Kind)
	guess, got := 1.0, 0.0
	for _, p := range q.Parts {
		guess *= p.guess()
	}
	if right {
		got = 1
	}
	s.Rating += firstStep / (1 + stepDecay*float64(s.Asked)) * (got - s.chance(q.Level, guess))
	s.Rating = min(max(s.Rating, -ratingLimit), ratingLimit)
	s.Asked++
	s.Streak++
	if right {
		s.Right++
	} else {
		s.Streak = 0
	}
	next := Record{Kinds: map[Kind]Skill{q.Kind: s}}
	for k, other := range r.Kinds {
		if k != q.Kind {
			next.Kinds[k] = other
		}
	}
	return next
}

// ratingLimit keeps the level within a few answers of falling or rising, however
// long somebody has been right or wrong.
const ratingLimit = levelStep*(Levels-1) + 2

// mostAnswers is more than anybody gives: a score that says more is damaged.
const mostAnswers = 1 << 30

// Total returns the answers of all kinds together.
func (r Record) Total() (asked, right int) {
	for _, s := range r.Kinds {
		asked, right = asked+s.Asked, right+s.Right
	}
	return asked, right
}

// JSON returns the record as it is kept.
func (r Record) JSON() []byte {
	data, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		panic("lesson: a record that is no JSON: " + err.Error()) // ratings are finite
	}
	return append(data, '\n')
}

// ReadRecord reads what [Record.JSON] writes. It is an error, and the record a
// beginner's, when the text is damaged; kinds that are not known are left out.
func ReadRecord(data []byte) (Record, error) {
	var r Record
	if err := json.Unmarshal(data, &r); err != nil {
		return Record{}, phrase.Errorf("reading the score: %v", err)
	}
	clean := Record{Kinds: map[Kind]Skill{}}
	for k, s := range r.Kinds {
		if s.Asked < 0 || s.Asked > mostAnswers || s.Right < 0 || s.Right > s.Asked || s.Streak < 0 || s.Streak > s.Right || math.Abs(s.Rating) > ratingLimit {
			return Record{}, errDamaged
		}
		if _, ok := ParseKind(string(k)); ok {
			clean.Kinds[k] = s
		}
	}
	return clean, nil
}

var errDamaged = phrase.Errorf("reading the score: it counts what cannot be")
