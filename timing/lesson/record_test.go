package lesson

import (
	"math"
	"slices"
	"testing"

	"pinphase.org/pinphase/timing/job"
)

// A learner of whom it is known how likely they are right at each level is asked,
// after a while, at the levels where about 71 % are right (Levitt 1971, table I: two
// right in a row up, one wrong down).
func TestLevelFollowsTheLearner(t *testing.T) {
	for _, skill := range []float64{1.5, 2.5, 3.5} {
		d := newDice(uint64(10*skill), "learner")
		var r Record
		right, asked := 0, 0
		q := Question{Kind: TDC, Parts: []Part{{Form: Number}}}
		for n := range 2000 {
			q.Level, q.Origin.Seed = r.Level(TDC), uint64(n)
			p := 1 / (1 + math.Exp(float64(q.Level-1)-skill))
			g := NotKnown
			if float64(d.below(1000))/1000 < p {
				g = AtFirst
			}
			r = r.After(q, g)
			if n >= 100 {
				asked++
				if g == AtFirst {
					right++
				}
			}
		}
		// That is so for small steps; levels are a whole logit apart, a quarter more or
		// fewer right, which shifts the balance.
		if share := float64(right) / float64(asked); math.Abs(share-math.Sqrt(0.5)) > 0.08 {
			t.Errorf("skill %g: %.2f of the answers were right", skill, share)
		}
	}
}

func TestRecord(t *testing.T) {
	var r Record
	if l := r.Level(Stroke); l != 1 {
		t.Errorf("a beginner starts at level %d", l)
	}
	q, err := Make(Invent(1, 1), Stroke, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	one := r.After(q, AtFirst)
	if r.Kinds != nil {
		t.Error("the record before has changed")
	}
	for _, c := range []struct {
		level  int
		grades []Grade
		want   Skill
	}{
		{1, []Grade{AtFirst}, Skill{Level: 1, Run: 1, Asked: 1, Right: 1, Streak: 1}},
		{1, []Grade{AtFirst, AtFirst}, Skill{Level: 2, Asked: 2, Right: 2, Streak: 2}},
		{1, []Grade{AtFirst, AtSecond}, Skill{Level: 1, Asked: 2, Right: 1}},
		{1, []Grade{AtFirst, NotKnown}, Skill{Level: 1, Asked: 2, Right: 1}},
		{1, []Grade{AtFirst, AtFirst, NotKnown}, Skill{Level: 2, Asked: 3, Right: 2}},                             // of level 1, which is not the present one
		{0, []Grade{AtFirst, AtFirst, NotKnown, AtFirst}, Skill{Level: 1, Run: 1, Asked: 4, Right: 3, Streak: 1}}, // of the present level each time
	} {
		r, q := Record{}, q
		for _, g := range c.grades {
			if q.Level = c.level; c.level == 0 {
				q.Level = r.Level(Stroke)
			}
			r = r.After(q, g)
		}
		if s := r.Of(Stroke); s != c.want {
			t.Errorf("%v: %+v, want %+v", c.grades, s, c.want)
		}
	}
	for range 2000 {
		q.Level = one.Level(Stroke)
		one = one.After(q, AtFirst)
	}
	if s := one.Of(Stroke); s.Level != Levels || s.Share() != 1 {
		t.Errorf("2000 right answers lead to %+v", s)
	}
	// A new kind begins one below what was reached in others.
	if l := one.Level(TDC); l != Levels-1 {
		t.Errorf("a new kind begins at level %d", l)
	}
}

// What was missed comes back after 3 other questions, then after 8 and 20 more, and
// not again once it was right each time; wrong again, it begins anew.
func TestMissedComesBack(t *testing.T) {
	for _, from := range []Source{{}, Only(Invent(1, 4))} {
		var r Record
		var missed Question
		asked := Asked{}
		back := []int{}
		for n := range 60 {
			q, err := Next(r, from, []Kind{Stroke, Injection}, 3, n, asked)
			if err != nil {
				t.Fatal(err)
			}
			g := AtFirst
			switch {
			case n == 0:
				missed, g = q, NotKnown
			case q.Key() == missed.Key():
				back = append(back, n)
			case asked[q.Key()]:
				t.Errorf("question %d was asked before: %s", n, q.Ask)
			}
			asked.Add(q)
			r = r.After(q, g)
		}
		if want := []int{4, 13, 34}; !slices.Equal(back, want) {
			t.Errorf("what was missed at 0 came back at %v, want %v", back, want)
		}
		if len(r.Missed) != 0 {
			t.Errorf("it is still to come: %+v", r.Missed)
		}
	}
	q := Question{Kind: TDC, Level: 1}
	r := Record{}.After(q, NotKnown).After(q, AtFirst).After(q, AtSecond)
	if len(r.Missed) != 1 || r.Missed[0].Step != 0 || r.Missed[0].Due != 6 {
		t.Errorf("missed again: %+v", r.Missed)
	}
	for i := range 2 * mostMissed {
		q.Origin.Seed = uint64(i)
		r = r.After(q, NotKnown)
	}
	if len(r.Missed) != mostMissed || r.Missed[mostMissed-1].Seed != 2*mostMissed-1 {
		t.Errorf("%d are remembered, the last %+v", len(r.Missed), r.Missed[len(r.Missed)-1])
	}
}

// A learner who is always right reaches level 5 of one kind within 8 questions, and of
// every kind in under 60 where all are asked; nothing is asked twice, on any engine.
func TestAlwaysRight(t *testing.T) {
	own := Only(job.Job{Format: 1, Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 5, 3, 6, 2, 4}},
		Gears: &job.Gears{CrankTeeth: 32, IdlerTeeth: []int{49}, CamTeeth: 64}})
	single := Only(job.Job{Format: 1, Engine: job.Engine{Strokes: 2, FiringOrder: []int{1}}})
	for name, from := range map[string]Source{"made up": {}, "own": own, "one cylinder": single} {
		sets := [][]Kind{Kinds()}
		for _, k := range Kinds() {
			sets = append(sets, []Kind{k})
		}
		for _, kinds := range sets {
			for seed := range uint64(2) {
				var r Record
				asked := Asked{}
				n, lowest := 0, 1
				for ; lowest < Levels && n < 200; n++ {
					q, err := Next(r, from, kinds, seed, n, asked)
					if err != nil {
						t.Fatal(err)
					}
					if asked[q.Key()] {
						t.Errorf("%s, %v: question %d was asked before: %v %s", name, kinds, n, q.Given, q.Ask)
					}
					asked.Add(q)
					r = r.After(q, AtFirst)
					lowest = Levels
					for _, k := range kinds {
						lowest = min(lowest, r.Of(k).Level)
					}
				}
				if most := map[bool]int{true: 8, false: 59}[len(kinds) == 1]; n > most {
					t.Errorf("%s, %v: level 5 after %d questions, want at most %d", name, kinds, n, most)
				}
				if t.Failed() {
					return
				}
			}
		}
	}
}

func TestRecordIsKept(t *testing.T) {
	q, err := Make(Invent(1, 1), Gears, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	r := Record{}.After(q, AtFirst).After(q, NotKnown)
	back, err := ReadRecord(r.JSON())
	if err != nil || back.Of(Gears) != r.Of(Gears) || !slices.Equal(back.Missed, r.Missed) || len(r.Missed) != 1 {
		t.Errorf("read back: %+v, %v; written: %+v", back, err, r)
	}
	for _, text := range []string{"", "{", "[]", `{"kinds": 3}`, `{"kinds": {"stroke": {"asked": 1, "right": 2}}}`, `{"kinds": {"stroke": {"asked": -1}}}`,
		`{"kinds": {"stroke": {"level": 6}}}`, `{"kinds": {}, "missed": [{"kind": "tdc", "level": 0}]}`, `{"kinds": {"stroke": {"asked": 3, "right": 1, "streak": 2}}}`} {
		if r, err := ReadRecord([]byte(text)); err == nil || r.Kinds != nil {
			t.Errorf("%s is read as %+v", text, r)
		}
	}
	r, err = ReadRecord([]byte(`{"kinds": {"juggling": {"asked": 3}, "tdc": {"asked": 2, "right": 1}}}`))
	if asked, right := r.Total(); err != nil || asked != 2 || right != 1 {
		t.Errorf("a kind that is not known: %+v, %v", r, err)
	}
}

// A score kept when the level followed a rating goes on near where it was.
func TestEarlierRecord(t *testing.T) {
	r, err := ReadRecord([]byte(`{"kinds": {"tdc": {"rating": 3.2, "asked": 20, "right": 15, "streak": 2}, "teeth": {"rating": -1.5, "asked": 3, "right": 0, "streak": 0}}}`))
	if err != nil || r.Level(TDC) != 3 || r.Level(Teeth) != 1 || r.Of(TDC).Right != 15 {
		t.Errorf("%+v, %v", r, err)
	}
}

// A learner who is good at one kind and bad at another is asked the other more.
func TestNextAsksForWhatIsWeak(t *testing.T) {
	r := Record{Kinds: map[Kind]Skill{Stroke: {Level: 4}, TDC: {Level: 1}}}
	times := map[Kind]int{}
	for n := range 200 {
		q, err := Next(r, Source{}, []Kind{Stroke, TDC}, 5, n, nil)
		if err != nil {
			t.Fatal(err)
		}
		times[q.Kind]++
		if want := r.Level(q.Kind); q.Level != want {
			t.Fatalf("%s at level %d, not %d", q.Kind, q.Level, want)
		}
	}
	// Only when both draws are the strong one, one time in four, is it asked.
	if times[Stroke] < 30 || times[Stroke] > 70 {
		t.Errorf("asked %v", times)
	}
	a, _ := Next(r, Source{}, Kinds(), 9, 3, nil)
	b, _ := Next(r, Source{}, Kinds(), 9, 3, nil)
	if a.Ask.String() != b.Ask.String() {
		t.Error("the same record, seed and number ask different questions")
	}
}
