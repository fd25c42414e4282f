package desk

import (
	"time"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// Speeds are how fast the crank can be run on the screen, in crank degrees a
// second: a stroke in 18, 6, 2 seconds and one.
var Speeds = []float64{10, 30, 90, 180}

// Runner turns a crank slowly while it is on.
type Runner struct {
	turn  func(by timing.Deg)
	told  func()          // it has begun or stopped
	anim  *fyne.Animation // nil while it stands
	last  time.Time
	Speed float64 // of speeds
}

func NewRunner(p Prefs, turn func(by timing.Deg), told func()) *Runner {
	r := &Runner{turn: turn, told: told, Speed: p.FloatWithFallback(PrefSpeed, Speeds[1])}
	if r.Speed <= 0 || r.Speed > Speeds[len(Speeds)-1] {
		r.Speed = Speeds[1]
	}
	return r
}

// On tells whether the crank is turning.
func (r *Runner) On() bool { return r.anim != nil }

// Toggle starts or stops the crank.
func (r *Runner) Toggle() {
	if r.On() {
		r.Stop()
		return
	}
	r.last = time.Now()
	r.anim = fyne.NewAnimation(time.Second, func(float32) {
		now := time.Now()
		r.Advance(now.Sub(r.last))
		r.last = now
	})
	r.anim.RepeatCount = fyne.AnimationRepeatForever
	r.anim.Start()
	r.told()
}

// Stop stops the crank; it does nothing while it stands.
func (r *Runner) Stop() {
	if !r.On() {
		return
	}
	r.anim.Stop()
	r.anim = nil
	r.told()
}

// Advance turns the crank by what passes in d. A long pause, as while the
// program was asleep, is no reason to jump.
func (r *Runner) Advance(d time.Duration) {
	if !r.On() {
		return
	}
	r.turn(timing.Deg(r.Speed * min(d, 200*time.Millisecond).Seconds()))
}

func SpeedName(s float64) string {
	return with("{{.Speed}}°/s", map[string]any{"Speed": phrase.Num{Value: s}})
}
