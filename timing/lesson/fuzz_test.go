package lesson

import (
	"reflect"
	"testing"
)

// FuzzReadRecord: a score that is read is one that can be: its levels exist, it is
// written and read back the same, and the next answer counts.
func FuzzReadRecord(f *testing.F) {
	f.Add(Record{Kinds: map[Kind]Skill{Kinds()[0]: {Level: 2, Run: 1, Asked: 3, Right: 2, Streak: 1}}, Missed: []Missed{{Kind: TDC, Level: 2, Due: 7}}}.JSON())
	for _, seed := range []string{"", "null", "{}", `{"kinds":null}`, `{"kinds":{"firing":{"rating":1e308,"asked":9223372036854775807,"right":9223372036854775807,"streak":1}}}`, `{"kinds":{"":{}}}`, "[1"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ReadRecord(data)
		if err != nil {
			if len(r.Kinds) != 0 {
				t.Errorf("damaged, but %v is kept", r)
			}
			return
		}
		again, err := ReadRecord(r.JSON())
		if err != nil || !reflect.DeepEqual(again, r) {
			t.Errorf("%v, written and read, is %v, %v", r, again, err)
		}
		for _, k := range Kinds() {
			s := r.Of(k)
			if l := r.Level(k); l < 1 || l > Levels {
				t.Errorf("level %d", l)
			}
			if share := s.Share(); !(share >= 0 && share <= 1) {
				t.Errorf("a share of %g", share)
			}
			for _, g := range []Grade{NotKnown, AtSecond, AtFirst} {
				next := r.After(Question{Kind: k, Level: r.Level(k)}, g)
				if _, err := ReadRecord(next.JSON()); err != nil {
					t.Errorf("after an answer it is damaged: %s", next.JSON())
				}
			}
		}
	})
}
