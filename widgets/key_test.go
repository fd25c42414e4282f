package widgets

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

func TestKeyPresses(t *testing.T) {
	test.NewTempApp(t)
	n := 0
	k := NewKey("7", func() { n++ })
	k.Least = fyne.NewSize(44, 40)
	w := test.NewTempWindow(t, k)
	w.SetPadded(false)
	if m, text := k.MinSize(), theme.TextSize(); m.Width < 44*text/15 || m.Height < 40*text/15 {
		t.Errorf("it asks for %v at a text size of %g", m, text)
	}
	if _, ok := any(k).(fyne.Focusable); ok {
		t.Error("it takes the keyboard from what has it")
	}
	test.Tap(k)
	if n != 1 {
		t.Errorf("a tap presses it %d times", n)
	}
}

// A key that is held repeats, and is not pressed once more when it is let go.
func TestKeyRepeats(t *testing.T) {
	test.NewTempApp(t)
	n := 0
	k := NewKey("+", func() { n++ })
	k.Repeats = true
	test.NewTempWindow(t, k)
	held := func(k *Key) {
		k.anim, k.last, k.repeated = fyne.NewAnimation(time.Second, nil), time.Time{}, false // the driver for tests has no lasting animation
	}
	held(k)
	now := time.Now()
	for i := range 10 {
		k.hold(now.Add(time.Duration(i) * keyRepeat / 2))
	}
	if n != 5 {
		t.Errorf("in five times its pause it is pressed %d times", n)
	}
	k.MouseUp(nil)
	k.Tapped(nil)
	k.hold(now.Add(time.Hour))
	if n != 5 {
		t.Errorf("let go, it is pressed %d times", n-5)
	}
	k.MouseDown(nil)
	k.MouseUp(nil)
	k.Tapped(nil)
	if n != 6 {
		t.Errorf("pressed shortly, it is pressed %d times", n-5)
	}
	held(k)
	k.MouseOut()
	k.hold(now.Add(time.Hour))
	if n != 6 {
		t.Error("it repeats when the pointer has gone")
	}
}
