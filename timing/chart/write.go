package chart

import (
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// Names are the figures there are, in the order in which to offer them.
var Names = []string{"cycle", "wheel", "light", "light-map", "part", "gears", "signals", "engine", "valves"}

// boxes are the sizes figures are written at, in points: the cycle as wide as an
// A4 page lying, the wheel as a square page.
var boxes = map[string]figure.Box{
	"cycle": {W: 842, H: 480},
	"wheel": {W: 640, H: 640},

	"light":     {W: 842, H: 560},
	"light-map": {W: 700, H: 560},
	"part":      {W: 640, H: 520},
	"gears":     {W: 842, H: 480},
	"signals":   {W: 842, H: 520},
	"engine":    {W: 842, H: 480},
	"valves":    {W: 842, H: 440},

	// What the window alone has: a page for a class, the figure of a practice question.
	"board":    {W: 842, H: 474},
	"practice": {W: 842, H: 480},
}

// Options are the choices for a figure that is written to a file.
type Options struct {
	Cursor   *timing.Deg // nil: the cycle has no cursor, the wheel stands at 0
	ByNumber bool
	Selected int // the cylinder set off from the others; 0: none
	From     timing.End
	Box      figure.Box           // zero: the figure's usual size
	Bare     bool                 // without the job's title and finding, for a page that has them
	Light    finding.LightOptions // what is supposed for the light-off figures
	Recorded *Recorded            // goes below the signals; nil: none
	Part     PartOptions          // which feature, beside which old part; From and Say are those here
	Signals  finding.SignalOptions
	Say      Say
	Units    quantity.Units
}

// box is the room a figure gets.
func (o Options) box(name string) figure.Box {
	if o.Box.W > 0 && o.Box.H > 0 {
		return o.Box
	}
	return boxes[name]
}

// heading is the job's title, where it is to stand on the figure.
func (o Options) heading(title string) string {
	if o.Bare {
		return ""
	}
	return title
}

// UsualSize is how large a figure is drawn, in points, unless told.
func UsualSize(name string) figure.Box { return boxes[name] }

// Drawing returns one of the figures in [Names].
func Drawing(name string, j job.Job, o Options) (figure.Drawing, error) {
	switch name {
	case "cycle":
		in, err := Cycle(j, CycleOptions{Cursor: o.Cursor, ByNumber: o.ByNumber, Selected: o.Selected, Say: o.Say})
		if err != nil {
			return figure.Drawing{}, err
		}
		in.Heading = o.heading(in.Heading)
		d, _ := figure.Cycle(in, o.box(name))
		return d, nil
	case "wheel":
		w := WheelOptions{From: o.From, Say: o.Say}
		if o.Cursor != nil {
			w.At = *o.Cursor
		}
		in, err := Wheel(j, w)
		if err != nil {
			return figure.Drawing{}, err
		}
		in.Heading = o.heading(in.Heading)
		d, _ := figure.Wheel(in, o.box(name))
		return d, nil
	case "light":
		in, err := Light(j, LightOptions{Of: o.Light, Cursor: o.Cursor, Say: o.Say, Units: o.Units})
		if err != nil {
			return figure.Drawing{}, err
		}
		in.Heading, in.Finding = o.heading(in.Heading), o.heading(in.Finding)
		d, _ := figure.LightOff(in, o.box(name))
		return d, nil
	case "light-map":
		in, err := LightMap(j, LightOptions{Of: o.Light, Step: 0.5, Say: o.Say, Units: o.Units})
		if err != nil {
			return figure.Drawing{}, err
		}
		in.Heading = o.heading(in.Heading)
		d, _ := figure.LightMap(in, o.box(name))
		return d, nil
	case "part":
		of := o.Part
		of.From, of.Say = o.From, o.Say
		in, err := Part(j, of)
		if err != nil {
			return figure.Drawing{}, err
		}
		in.Heading = o.heading(in.Heading)
		d, _ := figure.Part(in, o.box(name))
		return d, nil
	case "gears":
		g := GearsOptions{From: o.From, Say: o.Say}
		if o.Cursor != nil {
			g.At = *o.Cursor
		}
		in, err := Gears(j, g)
		if err != nil {
			return figure.Drawing{}, err
		}
		in.Heading = o.heading(in.Heading)
		if o.Bare {
			in.Caption = in.Caption[:1] // the finding and the notes stand beside it
		}
		d, _ := figure.Gears(in, o.box(name))
		return d, nil
	case "engine":
		t, err := NewTurningEngine(j, o.From, o.Say)
		if err != nil {
			return figure.Drawing{}, err
		}
		at := timing.Deg(0)
		if o.Cursor != nil {
			at = *o.Cursor
		}
		in := t.At(at, o.Selected)
		in.Heading = o.heading(in.Heading)
		d, _ := figure.Engine(in, o.box(name))
		return d, nil
	case "valves":
		in, err := Valves(j, o.Cursor, o.Selected, o.Say)
		if err != nil {
			return figure.Drawing{}, err
		}
		in.Heading = o.heading(in.Heading)
		return figure.Valves(in, o.box(name)), nil
	case "signals":
		in, err := Signals(j, SignalsOptions{Of: o.Signals, Cursor: o.Cursor, Recorded: o.Recorded, Say: o.Say})
		if err != nil {
			return figure.Drawing{}, err
		}
		if in.Heading = o.heading(in.Heading); o.Bare {
			in.Finding = ""
		}
		d, _ := figure.Signals(in, o.box(name))
		return d, nil
	}
	return figure.Drawing{}, phrase.Errorf("there is no figure %q; there are %s", name, strings.Join(Names, " and "))
}
