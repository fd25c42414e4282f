package form

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
	"pinphase.org/pinphase/widgets"
)

// teeth is the field for a crank sensor wheel's tooth count, in which a notation such as
// 60-2 may be typed. A number alone leaves the missing teeth as they are.
func (f *Form) teeth() Row {
	r := f.Field("crank_wheel.positions", tr("Tooth positions"), "", 1,
		func(j job.Job) string {
			if j.CrankWheel == nil || j.CrankWheel.Positions == 0 {
				return ""
			}
			c := wheel.Crank{Positions: j.CrankWheel.Positions, Missing: j.CrankWheel.Missing}
			if n, ok := wheel.Notated(c); ok {
				return n.String()
			}
			return wheel.Notation{Positions: c.Positions}.String()
		},
		func(j *job.Job, text string) error {
			if !strings.ContainsAny(text, "-–−+") {
				n, err := ReadWhole(text)
				if err == nil {
					crankWheel(j).Positions = n
				}
				return err
			}
			n, err := wheel.ParseNotation(text)
			if err != nil {
				return notated{err}
			}
			w := crankWheel(j)
			w.Positions, w.Missing = n.Positions, n.Missing()
			if n.Extra > 0 && evenCam(j) {
				camWheel(j).TeethCamDeg = evenTeeth(n.Extra)
			}
			return nil
		}, sameTeeth)
	r.Object.(*widgets.Field).SetPlaceHolder(tr("as in 60-2, 36-1 or 24+1"))
	return r
}

// toothRow is a small picture of the wheel, which turns with what is typed for tooth 1,
// and below it what it shows in words.
func (f *Form) toothRow() Row {
	f.tooth, f.toothSays = widgets.NewFigureView(fyne.NewSize(240, 240)), kit.Prose()
	f.tooth.Hide()
	f.toothSays.Hide()
	return Row{Object: container.NewVBox(f.tooth, f.toothSays)}
}

// loadTooth shows where tooth 1 is in the newest sound job.
func (f *Form) loadTooth() {
	if f.tooth == nil {
		return
	}
	in, ok := chart.ToothOne(f.U.Session.Sound(), f.U.From, say)
	if ok {
		f.tooth.SetFigure(in.Desc, func(box figure.Box) figure.Drawing {
			d, _ := figure.Wheel(in, box)
			return d
		})
		kit.SetText(f.toothSays, in.Desc)
	}
	kit.SetShown(f.tooth, ok)
	kit.SetShown(f.toothSays, ok)
}

// camTeeth are where the teeth of the cam sensor wheel are.
func (f *Form) camTeeth() Row {
	return f.List("cam_wheel.teeth_cam_deg", tr("Teeth, cam degrees"), tr("from tooth 1 on, as in 0, 60, 120"),
		func(j job.Job) string {
			if j.CamWheel == nil {
				return ""
			}
			return kit.Describe(j.CamWheel.TeethCamDeg)
		},
		func(j *job.Job, text string) error {
			list, err := ParseNumbers(text)
			if err == nil {
				camWheel(j).TeethCamDeg = list
			}
			return err
		})
}

func camWheel(j *job.Job) *job.CamWheel {
	if j.CamWheel == nil {
		j.CamWheel = &job.CamWheel{}
	}
	return j.CamWheel
}

// notated is why a notation is none, in the reader's language.
type notated struct{ error }

func (e notated) Error() string { return voice().Error(e.error) }

// evenTeeth are so many teeth of a cam sensor wheel, evenly spaced.
func evenTeeth(n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = 360 * float64(i) / float64(n)
	}
	return list
}

// evenCam tells whether the teeth of a job's cam sensor wheel may be filled in: whether
// there are none, or those that were filled in. Uneven ones were measured, and stay.
func evenCam(j *job.Job) bool {
	return j.CamWheel == nil || slices.Equal(j.CamWheel.TeethCamDeg, evenTeeth(len(j.CamWheel.TeethCamDeg)))
}

// sameTeeth tells whether what was typed stands for the wheel shown: a number alone
// stands for any missing teeth, and the wheel shown says nothing of the camshaft's.
func sameTeeth(typed, shown string) bool {
	if typed == shown {
		return true
	}
	a, errA := wheel.ParseNotation(typed)
	b, errB := wheel.ParseNotation(shown)
	return errA == nil && errB == nil && a.Positions == b.Positions &&
		(len(a.Gaps) == 0 && a.Extra == 0 || slices.Equal(a.Gaps, b.Gaps))
}

// matchingGears offers the camshaft gear that goes with another number of strokes, where
// the one there did with the present: in place of a fault.
func (f *Form) matchingGears(was job.Job) {
	j := f.U.Session.Job()
	g := j.Gears
	if f.loading || g == nil || g.CrankTeeth == 0 || was.Engine.Strokes == j.Engine.Strokes || g.CamTeeth != turnsOfCrank(was)*g.CrankTeeth {
		return
	}
	right := turnsOfCrank(j) * g.CrankTeeth
	text := phrase.Text("A four-stroke's camshaft turns once in two crankshaft turns: a crankshaft gear of {{.Crank}} teeth goes with a camshaft gear of {{.Cam}}. The job has {{.Now}}.")
	if j.Engine.Strokes == 2 {
		text = "A two-stroke's camshaft turns with the crankshaft: a crankshaft gear of {{.Crank}} teeth goes with a camshaft gear of {{.Cam}}. The job has {{.Now}}."
	}
	data := map[string]any{"Crank": g.CrankTeeth, "Cam": right, "Now": g.CamTeeth}
	f.U.Confirm(tr("Camshaft gear"), with(text, data), with("Set {{.Cam}} teeth", data), func() {
		f.edit("gears.cam_teeth", func(j *job.Job) {
			if j.Gears != nil {
				j.Gears.CamTeeth = right
			}
			if w := j.CamWheel; w != nil && j.Engine.Strokes == 2 && w.FirstToothBTDCDeg.Given && w.FirstToothBTDCDeg.Value >= 360 {
				w.FirstToothBTDCDeg.Value -= 360
			}
		})
		f.U.Session.Seal()
	})
}

// turnsOfCrank is how often the crankshaft turns in a turn of the camshaft.
func turnsOfCrank(j job.Job) int {
	if j.Engine.Strokes == 2 {
		return 1
	}
	return 2
}
