package practice

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/lesson"
)

// answerByMouse answers rightly with the buttons and keys on the screen.
func answerByMouse(t testing.TB, u *desktest.Bench) {
	t.Helper()
	for i, part := range u.Page.(*page).current.Parts {
		s := u.Page.(*page).slots[i]
		switch part.Form {
		case lesson.Choose:
			test.Tap(s.buttons[part.Choice])
		case lesson.Pick:
			for _, c := range part.Cylinders {
				test.Tap(s.fill.Objects[c-1].(*kit.KeyButton))
			}
			if len(part.Cylinders) == 0 {
				test.Tap(s.fill.Objects[part.Of].(*kit.KeyButton))
			}
		default:
			value := part.Value
			if value < 0 && part.Sides != lesson.NoSides {
				value = -value
			}
			for _, r := range number(value, 3) {
				test.Tap(desktest.KeyOn(t, s.digits, string(r)))
			}
			if sides := part.Sides.Names(); sides != nil {
				side := 0
				if part.Value < 0 {
					side = 1
				}
				test.Tap(s.fill.Objects[side].(*kit.KeyButton))
			}
		}
	}
	test.Tap(u.Page.(*page).check)
}

// The mouse alone answers a question of every kind.
func TestPracticeEveryKindByMouse(t *testing.T) {
	u := practising(t)
	p := u.Page.(*page)
	for _, k := range lesson.Kinds() {
		for level := 1; level <= lesson.Levels; level++ {
			p.kinds, p.number = []lesson.Kind{k}, 1
			p.record = lesson.Record{Kinds: map[lesson.Kind]lesson.Skill{k: {Level: level}}}
			p.pose()
			for range 3 {
				q := p.current
				answerByMouse(t, u)
				if s := p.record.Of(k); !p.done || s.Right != s.Asked {
					t.Fatalf("%s, level %d: %s: the mouse's answer counts as %+v; the page says %q", k, level, q.Ask, s, desktest.Words(p.content))
				}
				test.Tap(p.next)
			}
		}
	}
}

// A number's keys type before its side, and take back what they typed.
func TestPracticeKeypad(t *testing.T) {
	u := practising(t, lesson.Injection)
	s := u.Page.(*page).slots[0]
	if s.part.Sides != lesson.BeforeAfter {
		t.Fatalf("asked for is %+v, wanted an angle before or after TDC", s.part)
	}
	for _, step := range []struct{ key, want string }{
		{"1", "1"}, {"⌫", ""}, {"1", "1"}, {"2", "12"}, {"after TDC", "12 after TDC"}, {".", "12. after TDC"}, {"5", "12.5 after TDC"},
		{"⌫", "12. after TDC"}, {"before TDC", "12. before TDC"}, {"⌫", "12 before TDC"}, {"⌫", "1 before TDC"}, {"⌫", "before TDC"}, {"⌫", ""}, {"⌫", ""},
	} {
		pressed := false
		for _, o := range s.fill.Objects {
			if b := o.(*kit.KeyButton); b.Text == step.key {
				test.Tap(b)
				pressed = true
			}
		}
		if !pressed {
			test.Tap(desktest.KeyOn(t, s.digits, step.key))
		}
		if got := s.field.Text(); got != step.want {
			t.Errorf("after %s the field has %q, want %q", step.key, got, step.want)
		}
		if !s.field.Focused() {
			t.Errorf("after %s the keyboard is not in the field", step.key)
		}
	}
}
