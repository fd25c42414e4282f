package lesson

import (
	"math"
	"testing"
)

// A learner whose true skill is known is asked, after a while, questions of which
// they get about three in four right.
func TestLevelFollowsTheLearner(t *testing.T) {
	for _, skill := range []float64{0.5, 1.5, 2.5, 3.5} {
		d := newDice(uint64(10*skill), "learner")
		var r Record
		right, asked := 0, 0
		q := Question{Kind: TDC, Parts: []Part{{Form: Number}}}
		for n := range 400 {
			q.Level = r.Of(TDC).Level()
			p := 1 / (1 + math.Exp(difficulty(q.Level)-skill))
			got := float64(d.below(1000))/1000 < p
			r = r.After(q, got)
			if n >= 100 {
				asked++
				if got {
					right++
				}
			}
		}
		share := float64(right) / float64(asked)
		// Levels are a whole logit apart: the best one's chance may be 0.11 off, and
		// 300 answers scatter by 0.025. Below level 1 there is nothing easier.
		if lowest := 1 / (1 + math.Exp(-skill)); share < min(aim, lowest)-0.16 || share > aim+0.16 {
			t.Errorf("skill %g: %.2f of the answers were right", skill, share)
		}
	}
}

func TestRecord(t *testing.T) {
	var r Record
	if l := r.Of(Stroke).Level(); l != 1 {
		t.Errorf("a beginner starts at level %d", l)
	}
	q, err := Make(Invent(1, 1), Stroke, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	one := r.After(q, true)
	if r.Kinds != nil {
		t.Error("the record before has changed")
	}
	// One in four by guessing: 1/4 + 3/4 · 1/2 = 5/8, so a right answer is worth 3/8.
	if s := one.Of(Stroke); s != (Skill{Rating: 0.375, Asked: 1, Right: 1, Streak: 1}) {
		t.Errorf("after a right answer: %+v", s)
	}
	if s := one.After(q, false).Of(Stroke); s.Streak != 0 || s.Asked != 2 || s.Right != 1 || s.Rating >= 0.375 || s.Share() != 0.5 {
		t.Errorf("after a wrong one: %+v", s)
	}
	for range 200 {
		one = one.After(q, true)
	}
	if s := one.Of(Stroke); s.Level() < 3 {
		t.Errorf("200 right answers at level 1 lead to level %d", s.Level())
	}
	for range 2000 {
		q.Level = Levels
		one = one.After(q, true)
	}
	if s := one.Of(Stroke); s.Level() != Levels || s.Rating > ratingLimit {
		t.Errorf("2000 right answers lead to %+v", s)
	}
}

func TestRecordIsKept(t *testing.T) {
	q, err := Make(Invent(1, 1), Gears, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	r := Record{}.After(q, true).After(q, false)
	back, err := ReadRecord(r.JSON())
	if err != nil || back.Of(Gears) != r.Of(Gears) {
		t.Errorf("read back: %+v, %v; written: %+v", back, err, r)
	}
	for _, text := range []string{"", "{", "[]", `{"kinds": 3}`, `{"kinds": {"stroke": {"asked": 1, "right": 2}}}`, `{"kinds": {"stroke": {"asked": -1}}}`,
		`{"kinds": {"stroke": {"rating": 1e9}}}`, `{"kinds": {"stroke": {"asked": 3, "right": 1, "streak": 2}}}`} {
		if r, err := ReadRecord([]byte(text)); err == nil || r.Kinds != nil {
			t.Errorf("%s is read as %+v", text, r)
		}
	}
	r, err = ReadRecord([]byte(`{"kinds": {"juggling": {"asked": 3}, "tdc": {"asked": 2, "right": 1}}}`))
	if asked, right := r.Total(); err != nil || asked != 2 || right != 1 {
		t.Errorf("a kind that is not known: %+v, %v", r, err)
	}
}

// A learner who is good at one kind and bad at another is asked the other more.
func TestNextAsksForWhatIsWeak(t *testing.T) {
	r := Record{Kinds: map[Kind]Skill{Stroke: {Rating: 4}, TDC: {Rating: 0}}}
	times := map[Kind]int{}
	for n := range 200 {
		q, err := Next(r, Invent, []Kind{Stroke, TDC}, 5, n)
		if err != nil {
			t.Fatal(err)
		}
		times[q.Kind]++
		if want := r.Of(q.Kind).Level(); q.Level != want {
			t.Fatalf("%s at level %d, not %d", q.Kind, q.Level, want)
		}
	}
	// Only when both draws are the strong one, one time in four, is it asked.
	if times[Stroke] < 30 || times[Stroke] > 70 {
		t.Errorf("asked %v", times)
	}
	a, _ := Next(r, Invent, Kinds(), 9, 3)
	b, _ := Next(r, Invent, Kinds(), 9, 3)
	if a.Ask.String() != b.Ask.String() {
		t.Error("the same record, seed and number ask different questions")
	}
}
