package lesson

import (
	"encoding/json"
	"math"

	"pinphase.org/pinphase/timing/phrase"
)

// Record is how a learner does, kind by kind, and what they have still to put
// right. The zero value is a beginner.
//
// The level goes up after two right answers in a row and down after a wrong one,
// the staircase of Levitt, Transformed up-down methods in psychoacoustics, J. Acoust.
// Soc. Am. 49, 1971, which settles where 71 % are right. Who has been right so often that this would bore
// them goes up with each right answer.
type Record struct {
	Kinds  map[Kind]Skill `json:"kinds"`
	Streak int            `json:"streak,omitempty"` // right answers of any kind since the last that was not
	Missed []Missed       `json:"missed,omitempty"`
}

// Skill is how a learner does in one kind.
type Skill struct {
	Level  int `json:"level"` // to ask at; 0: not asked yet
	Run    int `json:"run"`   // right answers at this level since it changed or one was wrong
	Asked  int `json:"asked"`
	Right  int `json:"right"`
	Streak int `json:"streak"` // right answers since the last that was not
}

// Missed is a question that was not answered rightly and comes back.
type Missed struct {
	Kind  Kind `json:"kind"`
	Level int  `json:"level"`
	Origin
	Due  int `json:"due"`  // asked again once so many answers were given in all
	Step int `json:"step"` // of [spacing]
}

// Grade is how well a question was answered.
type Grade int

// The grades.
const (
	NotKnown Grade = iota // wrong twice, or given up
	AtSecond              // right when it was tried again
	AtFirst               // right at once
)

const (
	climb = 2 // right answers in a row raise the level
	fast  = 6 // right answers in a row, of any kinds, let each further one do so
)

// spacing is after how many other questions a missed one comes back, the first, the
// second and the third time: expanding, as Landauer and Bjork, Optimum rehearsal
// patterns and name learning, 1978, found best (from memory). The numbers are ours.
var spacing = [...]int{3, 8, 20}

// mostMissed is how many missed questions are remembered; the oldest go first.
const mostMissed = 40

// Level returns the level to ask at: in a kind that was not asked before, one below
// what the learner has reached in the others on the whole.
func (r Record) Level(k Kind) int {
	if s := r.Kinds[k]; s.Level > 0 {
		return s.Level
	}
	sum, n := 0, 0
	for _, s := range r.Kinds {
		if s.Level > 0 {
			sum, n = sum+s.Level, n+1
		}
	}
	if n == 0 {
		return 1
	}
	return max(1, int(math.Round(float64(sum)/float64(n)))-1)
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

// After returns the record after an answer to a question. Only one right at once
// counts as right. A question of another level than the present one, as one that
// came back, moves no level.
func (r Record) After(q Question, g Grade) Record {
	s := r.Of(q.Kind)
	if s.Level = r.Level(q.Kind); q.Level == s.Level {
		s.step(g, r.Streak >= fast)
	}
	s.Asked++
	s.Streak++
	if g == AtFirst {
		s.Right++
	} else {
		s.Streak = 0
	}
	next := Record{Kinds: map[Kind]Skill{q.Kind: s}}
	if g == AtFirst {
		next.Streak = min(r.Streak+1, fast)
	}
	for k, other := range r.Kinds {
		if k != q.Kind {
			next.Kinds[k] = other
		}
	}
	next.Missed = r.missedAfter(q, g)
	return next
}

// step moves the level.
func (s *Skill) step(g Grade, fast bool) {
	s.Run++
	switch {
	case g == NotKnown:
		s.Level, s.Run = max(1, s.Level-1), 0
	case g == AtSecond:
		s.Run = 0
	case fast || s.Run == climb:
		s.Level, s.Run = min(Levels, s.Level+1), 0
	}
}

// WasMissed tells whether a question is one that was missed and has come back.
func (r Record) WasMissed(q Question) bool {
	for _, m := range r.Missed {
		if m.Kind == q.Kind && m.Level == q.Level && m.Origin == q.Origin {
			return true
		}
	}
	return false
}

// missedAfter are the questions that come back, after an answer to one.
func (r Record) missedAfter(q Question, g Grade) []Missed {
	asked, _ := r.Total()
	asked++
	this := Missed{Kind: q.Kind, Level: q.Level, Origin: q.Origin}
	var list []Missed
	known := false
	for _, m := range r.Missed {
		if m.Kind == this.Kind && m.Level == this.Level && m.Origin == this.Origin {
			known, this.Step = true, m.Step+1
			continue
		}
		list = append(list, m)
	}
	if g != AtFirst {
		known, this.Step = true, 0
	}
	if known && this.Step < len(spacing) {
		this.Due = asked + spacing[this.Step]
		list = append(list, this)
	}
	return list[max(0, len(list)-mostMissed):]
}

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
		panic("lesson: a record that is no JSON: " + err.Error()) // there are only whole numbers
	}
	return append(data, '\n')
}

// ReadRecord reads what [Record.JSON] writes. It is an error, and the record a
// beginner's, when the text is damaged; kinds that are not known are left out.
func ReadRecord(data []byte) (Record, error) {
	var r struct {
		Streak int `json:"streak"`
		Kinds  map[Kind]struct {
			Skill
			Rating float64 `json:"rating"` // of earlier records, instead of a level: logits
		} `json:"kinds"`
		Missed []Missed `json:"missed"`
	}
	if err := json.Unmarshal(data, &r); err != nil {
		return Record{}, phrase.Errorf("reading the score: %v", err)
	}
	clean := Record{Kinds: map[Kind]Skill{}, Streak: min(max(r.Streak, 0), fast)}
	for k, kept := range r.Kinds {
		s := kept.Skill
		if s.Level == 0 && s.Asked > 0 {
			s.Level = min(max(int(math.Round(kept.Rating)), 1), Levels)
		}
		if s.Asked < 0 || s.Asked > mostAnswers || s.Right < 0 || s.Right > s.Asked || s.Streak < 0 || s.Streak > s.Right ||
			s.Level < 0 || s.Level > Levels || s.Run < 0 || s.Run > climb || math.Abs(kept.Rating) > 100 {
			return Record{}, errDamaged
		}
		if _, ok := ParseKind(string(k)); ok {
			clean.Kinds[k] = s
		}
	}
	for _, m := range r.Missed {
		if m.Level < 1 || m.Level > Levels || m.Step < 0 || m.Step >= len(spacing) || m.Due < 0 || m.Due > 2*mostAnswers {
			return Record{}, errDamaged
		}
		if _, ok := ParseKind(string(m.Kind)); ok && len(clean.Missed) < mostMissed {
			clean.Missed = append(clean.Missed, m)
		}
	}
	return clean, nil
}

var errDamaged = phrase.Errorf("reading the score: it holds impossible counts")
