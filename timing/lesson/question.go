package lesson

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// Question is one question with its answer.
type Question struct {
	Kind  Kind
	Level int
	Origin

	Given []phrase.Sentence // what has to be known
	Ask   phrase.Sentence
	Parts []Part            // what has to be answered, at least one
	Steps []phrase.Sentence // how the answer is reached
	Notes []phrase.Sentence // what must be known beside it

	Job    job.Job // the engine asked about, as the figures show it
	Before *Figure // what is asked about; nil: nothing to look at
	After  *Figure // the answer; nil: nothing to look at
}

// Figure is a figure that goes with a question.
type Figure struct {
	Name     string     // as in chart.Names, or "dial"
	At       timing.Deg // crank angle
	From     timing.End // seen from
	Cylinder int        // to be set off; 0: none
	Dial     *Dial      // of a "dial"

	Recording *Recording // of "signals"
}

// Dial is a degree wheel with what was read on it.
type Dial struct {
	First, Second timing.Deg // the readings, 0 to 360
	TDC           timing.Deg // the middle between them
	Mark          *timing.Deg
	Falls         bool // the numbers at the pointer fall as the engine turns forwards
}

// Again tells whether a wrong answer may be tried again: not where the other choice
// is then the right one.
func (q Question) Again() bool {
	guess := 1.0
	for _, p := range q.Parts {
		guess *= p.guess()
	}
	return guess < 0.5
}

// Clue is the first step towards the answer, empty where that is the answer already.
func (q Question) Clue() phrase.Sentence {
	if len(q.Steps) < 2 {
		return phrase.Sentence{}
	}
	return q.Steps[0]
}

// ErrUnsuited is returned for an engine of which a kind of question cannot be
// asked, such as what fires next in an engine of one cylinder.
var ErrUnsuited = phrase.Errorf("this engine does not suit that kind of question")

// Make returns a question about a job's engine: the same for the same job, kind,
// level and seed. What the question needs and the job does not have (a dowel, a
// sensor wheel, gears) is made up and given with it; readings are always made up.
// Levels outside 1 to [Levels] count as the nearest. A job that is not sound is
// refused.
func Make(j job.Job, k Kind, level int, seed uint64) (Question, error) {
	make, ok := makers[k]
	if !ok {
		return Question{}, phrase.Errorf("there is no kind of question %q", k)
	}
	if faults := job.Check(j); faults != nil {
		return Question{}, faults
	}
	e, err := finding.EngineOf(j)
	if err != nil {
		return Question{}, err
	}
	level = min(max(level, 1), Levels)
	d := newDice(seed, string(k))
	for range tries {
		m := maker{dice: d, level: level, job: bare(j), engine: e}
		if q, ok := make(&m); ok {
			q.Kind, q.Level, q.Job, q.Steps = k, level, m.job, once(q.Steps)
			return q, nil
		}
	}
	return Question{}, ErrUnsuited
}

// once leaves out the steps that were taken before.
func once(steps []phrase.Sentence) []phrase.Sentence {
	var list []phrase.Sentence
	said := map[string]bool{}
	for _, s := range steps {
		if words := s.String(); !said[words] {
			said[words] = true
			list = append(list, s)
		}
	}
	return list
}

// tries is how often numbers are drawn anew when those drawn leave more than one
// answer, or none worth asking for.
const tries = 200

// maker is what a question is made of.
type maker struct {
	dice
	level  int
	job    job.Job // the maker's own: what is made up goes in here
	engine timing.Scheme
}

// bare returns the job without what was measured or seen, nor the injection that
// is asked for: that is for the question to make up.
func bare(j job.Job) job.Job {
	j.Title, j.Notes, j.Evidence = "", "", nil
	j.Dowel, j.Keyway, j.Injection = nil, nil, nil
	if j.Gears != nil {
		g := *j.Gears
		g.CamTeethOut, g.PumpTeeth, g.PumpDrivenBy = 0, 0, ""
		j.Gears = &g
	}
	return j
}

// cylinder returns any cylinder.
func (m *maker) cylinder() int { return m.between(1, m.engine.Cylinders()) }

// clear tells whether a cylinder's own angle is so far from where strokes change
// that nobody can take it for either.
func clear(alpha timing.Deg) bool {
	off := timing.WrapSigned(alpha, 180)
	return off <= -clearance || off >= clearance
}

const clearance timing.Deg = 4

func say(text phrase.Text, data map[string]any) phrase.Sentence {
	return phrase.Sentence{Text: text, Data: data}
}

// deg is an angle in as many decimals as it needs, two at most.
func deg(d timing.Deg) phrase.Num { return phrase.Num{Value: float64(d), Decimals: 2} }

func size(d timing.Deg) timing.Deg { return max(d, -d) }
