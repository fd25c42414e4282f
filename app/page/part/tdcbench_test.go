package part

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/widgets"
)

// throw55 is a job with a throw of 55 mm, a rod of 180 mm and a wrist-pin offset.
func throw55(offset string) string {
	return strings.NewReplacer("stroke_mm = 118.0", "stroke_mm = 110.0", "rod_mm = 192.0", "rod_mm = 180.0\npin_offset_mm = "+offset).Replace(desktest.NoReading)
}

// sums are the fields and the answers for true TDC, as they are on the screen.
type sums struct {
	fields  []*widgets.Field // two readings, drop, angle, diameter, degrees
	answers []*widget.Label
	falls   *kit.Check
	dial    *widgets.Field
}

func onTDC(t *testing.T, text string) (*desktest.Bench, sums) {
	t.Helper()
	u := onPart(t, text)
	test.Tap(u.Page.(*page).which.Buttons[tdcPlace])
	var s sums
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *widgets.Field:
			s.fields = append(s.fields, o)
		case *kit.Check:
			if s.falls == nil {
				s.falls = o
			}
		case *fyne.Container:
			for _, c := range o.Objects {
				walk(c)
			}
			if n := len(o.Objects); n == 2 { // a row of fields and its answer
				if l, ok := o.Objects[1].(*widget.Label); ok && l.TextStyle.Bold {
					s.answers = append(s.answers, l)
				}
			}
		}
	}
	walk(u.Page.(*page).tdc.content.(*container.Scroll).Content)
	if len(s.fields) != 7 || len(s.answers) != 4 || s.falls == nil {
		t.Fatalf("%d fields, %d answers", len(s.fields), len(s.answers))
	}
	s.dial = s.fields[2]
	s.fields = slices.Delete(s.fields, 2, 3)
	return u, s
}

func (s sums) answer(t *testing.T, i int) string {
	t.Helper()
	if !s.answers[i].Visible() {
		return ""
	}
	return s.answers[i].Text
}

func TestTrueTDC(t *testing.T) {
	// Equal drops of 10 mm with offsets of 1 and 10 mm, throw 55, rod 180 mm, the
	// wheel at 0 where the throw points along the cylinder: the law of cosines,
	// worked out by two methods apart from this program. There the offset moves top
	// dead centre to asin(e/(l+a)).
	for _, c := range []struct{ offset, first, second, at, lean string }{
		{"1.0", "-30.58702749", "31.09632477", "0.24°", "0.011°"},
		{"10.0", "−28.27942497", "33.37384700", "2.44°", "0.108°"},
	} {
		u, s := onTDC(t, throw55(c.offset))
		desktest.Retype(u.Window.Canvas(), s.fields[0], c.first)
		if got := s.answer(t, 0); got != "" {
			t.Errorf("one reading gives the answer %q", got)
		}
		desktest.Retype(u.Window.Canvas(), s.fields[1], c.second)
		got := s.answer(t, 0)
		if !strings.HasPrefix(got, "True TDC is where the degree wheel reads "+c.at+" (± 0.18° standard uncertainty).") || !strings.Contains(got, "is "+c.lean+" from TDC") {
			t.Errorf("offset %s: %q", c.offset, got)
		}
		s.falls.SetChecked(true) // the same wheel read backwards: the lean is on the other side
		if now := s.answer(t, 0); now == got || !strings.HasPrefix(now, "True TDC") {
			t.Errorf("with falling numbers the answer is %q", now)
		}
	}
}

func TestTrueTDCWithoutOffset(t *testing.T) {
	u, s := onTDC(t, desktest.NoReading)
	desktest.Retype(u.Window.Canvas(), s.fields[0], "350,5")
	desktest.Retype(u.Window.Canvas(), s.fields[1], "20.5")
	if got, want := s.answer(t, 0), "True TDC is where the degree wheel reads 5.5° (± 0.18° standard uncertainty). The midpoint of the two readings is TDC: the job gives no piston-pin offset."; got != want {
		t.Errorf("the answer is %q, want %q", got, want)
	}
	desktest.Retype(u.Window.Canvas(), s.fields[1], "350.5")
	if got := s.answer(t, 0); !strings.Contains(got, "alike") {
		t.Errorf("for two readings alike the answer is %q", got)
	}
	desktest.Retype(u.Window.Canvas(), s.fields[1], "twenty")
	if got := s.fields[1].Fault(); got != "“twenty” is not a number" || s.answer(t, 0) != "" {
		t.Errorf("a word has the fault %q and the answer %q", got, s.answer(t, 0))
	}
	desktest.Retype(u.Window.Canvas(), s.fields[1], "")
	if s.fields[1].Fault() != "" || s.answer(t, 0) != "" {
		t.Error("an empty field is a fault")
	}
	if u.Session.CanUndo() {
		t.Error("the sums went into the job")
	}
}

// What was found is kept in the job by a press, in a step that can be undone, each side
// read as often as one likes and written as one says it: 38 before is 322.
func TestTrueTDCIsKept(t *testing.T) {
	u, s := onTDC(t, desktest.NoReading)
	bench := u.Page.(*page).tdc.tdc
	if !bench.keep.Disabled() {
		t.Error("nothing can be kept")
	}
	desktest.Retype(u.Window.Canvas(), s.fields[0], "38 btdc; 322.4")
	desktest.Retype(u.Window.Canvas(), s.fields[1], "44; 44.2")
	desktest.Retype(u.Window.Canvas(), s.dial, "12")
	bench.atMark.SetChecked(true)
	test.Tap(bench.keep)
	j := u.Session.Job()
	if len(j.TDC) != 1 {
		t.Fatalf("the job has %d findings", len(j.TDC))
	}
	d := j.TDC[0]
	if d.Method != "drop" || d.DropMM.Value != 12 || d.BeforeDeg.Value != 322 || !slices.Equal(d.BeforeAgain, []float64{322.4}) ||
		d.AfterDeg.Value != 44 || !slices.Equal(d.AfterAgain, []float64{44.2}) || d.Datum != "damper mark" || len(u.Session.Faults()) > 0 {
		t.Fatalf("kept is %+v with %v", d, u.Session.Faults())
	}
	// The means are 322.2 and 44.1: the middle is 3.15.
	if got := desktest.Words(bench.kept); !strings.Contains(got, "The vibration damper's TDC mark is 3.1") && !strings.Contains(got, "The vibration damper's TDC mark is 3.2") {
		t.Errorf("of what is kept is said %q", got)
	}
	u.Undo()
	if len(u.Session.Job().TDC) != 0 || len(bench.kept.Objects) != 0 {
		t.Error("it cannot be undone")
	}
}

func TestDropAndDegrees(t *testing.T) {
	// Heywood, Internal Combustion Engine Fundamentals, 1988, sec. 2.2, for throw 55
	// and rod 180 mm: 5 mm at 21.5898°, 30° at 9.4817 mm.
	u, s := onTDC(t, throw55("0.0"))
	desktest.Retype(u.Window.Canvas(), s.fields[2], "5")
	if got := s.answer(t, 1); !strings.HasPrefix(got, "5 mm below TDC the crankshaft is 21.59° before TDC on the way up and 21.59° after it on the way down") {
		t.Errorf("5 mm is %q", got)
	}
	desktest.Retype(u.Window.Canvas(), s.fields[3], "30")
	if got, want := s.answer(t, 2), "At 30° from TDC the piston is 9.48 mm below TDC before it and 9.48 mm after it."; got != want {
		t.Errorf("30° is %q, want %q", got, want)
	}
	desktest.Retype(u.Window.Canvas(), s.fields[2], "200")
	if got := s.answer(t, 1); got == "" || strings.Contains(got, "NaN") || strings.Contains(got, "stands") {
		t.Errorf("200 mm, more than the stroke, is %q", got)
	}
	desktest.Retype(u.Window.Canvas(), s.fields[2], "5")
	// The answers are those of the present job.
	before := s.answer(t, 2)
	u.Edit("engine.rod_mm", func(j *job.Job) { j.Engine.RodMM = job.Num(150) })
	if now := s.answer(t, 2); now == before {
		t.Error("with another rod the drop is the same")
	}
	u.Edit("engine.rod_mm", func(j *job.Job) { j.Engine.RodMM = job.Number{} })
	if got := s.answer(t, 1); !strings.Contains(got, "Rod length") {
		t.Errorf("without a rod the answer is %q", got)
	}
}

func TestMarksOnADamper(t *testing.T) {
	// Arc and chord of 30° at radius 1 are 0.52359878 and 0.51763809: segments of
	// circles, Machinery's Handbook (from memory).
	u, s := onTDC(t, desktest.NoReading)
	desktest.Retype(u.Window.Canvas(), s.fields[4], "200")
	desktest.Retype(u.Window.Canvas(), s.fields[5], "30")
	got := s.answer(t, 3)
	if want := "30° on a rim of 200 mm diameter is 52.36 mm along the rim (tape), or 51.76 mm straight across (dividers)."; !strings.HasPrefix(got, want) {
		t.Errorf("the answer is %q, want %q", got, want)
	}
	// Half a millimetre at a radius of 100 mm is 0.5/100 rad = 0.286°.
	if !strings.Contains(got, "marks the angle to ± 0.29°") {
		t.Errorf("the answer is %q", got)
	}
	desktest.Retype(u.Window.Canvas(), s.fields[4], "0")
	if got := s.answer(t, 3); got == "" || strings.Contains(got, "along the rim") {
		t.Errorf("no diameter is %q", got)
	}
}
