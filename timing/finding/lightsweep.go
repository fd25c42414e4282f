package finding

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/piston"
)

// SweepAxis is a quantity that is varied, and the values it takes in turn.
type SweepAxis struct {
	Name   string    `json:"name"` // one of [SweepNames]
	Values []float64 `json:"values"`
}

// SweepNames are the quantities that can be varied: the wheel error in degrees,
// the air in °C, the cranking speed in rpm and the compression ratio.
var SweepNames = []string{"wheel_error_deg", "air_c", "rpm", "compression_ratio"}

// maxSweep is the most cells a sweep has: a second's work, and more than a map
// shows.
const maxSweep = 20_000

// ParseSweep reads an axis written as name=from:to:step, both ends included.
// The step may have either sign; the unit may be left off the name.
func ParseSweep(text string) (SweepAxis, error) {
	name, values, ok := strings.Cut(text, "=")
	full := ""
	for _, n := range SweepNames {
		if short, _, _ := strings.Cut(n, "_deg"); name == n || name == short || name == strings.TrimSuffix(n, "_c") || n == "compression_ratio" && name == "ratio" {
			full = n
		}
	}
	parts := strings.Split(values, ":")
	if !ok || full == "" || len(parts) != 3 {
		return SweepAxis{}, fmt.Errorf("a sweep is written as in wheel_error=-40:20:5 (from:to:step); the names are %s", strings.Join(SweepNames, ", "))
	}
	var v [3]float64
	for i, p := range parts {
		var err error
		if v[i], err = ParseNumber(p); err != nil {
			return SweepAxis{}, fmt.Errorf("%q in a sweep is not a number", p)
		}
	}
	return NewSweep(full, v[0], v[1], v[2])
}

// NewSweep returns the axis from one value to another in steps of that size,
// both ends included; the last step may be short.
func NewSweep(name string, from, to, step float64) (SweepAxis, error) {
	a := SweepAxis{Name: name}
	step = math.Abs(step)
	switch {
	case from == to:
		a.Values = []float64{from}
		return a, nil
	case !(step > 0):
		return SweepAxis{}, errors.New("a sweep's step must not be 0")
	case math.Abs(to-from)/step > maxSweep:
		return SweepAxis{}, fmt.Errorf("a sweep has at most %d steps", maxSweep)
	}
	n := int(math.Floor(math.Abs(to-from)/step + 1e-9))
	for i := range n + 1 {
		a.Values = append(a.Values, round(from+math.Copysign(step, to-from)*float64(i)))
	}
	if a.Values[n] != to {
		a.Values = append(a.Values, to)
	}
	return a, nil
}

// Sweep is what becomes of the actual injection when one or two quantities vary.
type Sweep struct {
	Correlation string        `json:"correlation"`
	Rows        SweepAxis     `json:"rows"`
	Columns     *SweepAxis    `json:"columns"` // null: there is one column
	Cells       [][]SweepCell `json:"cells"`   // by row, then column
}

// SweepCell is one combination.
type SweepCell struct {
	StartBTDC float64  `json:"start_btdc_deg"`
	Lights    bool     `json:"lights"`
	LightsAt  *float64 `json:"lights_at_btdc_deg"`
	Integral  float64  `json:"integral"` // 1 lights
	LitBy     int      `json:"lit_by"`   // so many of all correlations
	KickBack  bool     `json:"kick_back"`
}

// SweepOf varies one or two quantities, which must pass [CheckSweep]. What the
// job lacks and the sweep gives need not be in the job.
func SweepOf(j job.Job, o LightOptions, rows SweepAxis, columns *SweepAxis) (Sweep, error) {
	axes := []SweepAxis{rows}
	if columns != nil {
		axes = append(axes, *columns)
	}
	if err := CheckSweep(axes); err != nil {
		return Sweep{}, err
	}
	chosen, ok := piston.CorrelationNamed(o.Correlation)
	if !ok {
		chosen = piston.Correlations()[0]
	}
	s := Sweep{Correlation: chosen.Name, Rows: rows, Columns: columns, Cells: make([][]SweepCell, len(rows.Values))}
	across := []float64{0}
	if columns != nil {
		across = columns.Values
	}
	for i := range s.Cells {
		s.Cells[i] = make([]SweepCell, len(across))
	}
	// The wheel error changes no gas: all its values share a column's tables, so
	// the other axis is the outer loop.
	cell := func(g *gases, r, c int) error {
		o := o.with(rows.Name, rows.Values[r])
		if columns != nil {
			o = o.with(columns.Name, across[c])
		}
		v, err := g.cell(j, o, chosen.Name)
		s.Cells[r][c] = v
		return err
	}
	var g gases
	if rows.Name == "wheel_error_deg" {
		for c := range across {
			for r := range rows.Values {
				if err := cell(&g, r, c); err != nil {
					return Sweep{}, err
				}
			}
		}
		return s, nil
	}
	for r := range rows.Values {
		for c := range across {
			if err := cell(&g, r, c); err != nil {
				return Sweep{}, err
			}
		}
	}
	return s, nil
}

// CheckSweep tells what is wrong with the one or two axes of a sweep.
func CheckSweep(axes []SweepAxis) error {
	cells := 1
	limits := map[string]string{"wheel_error_deg": "", "air_c": "injection.air_c", "rpm": "injection.cranking_rpm", "compression_ratio": "engine.compression_ratio"}
	for i, a := range axes {
		key, known := limits[a.Name]
		if !known || len(a.Values) == 0 {
			return fmt.Errorf("a sweep varies %s, not %q", strings.Join(SweepNames, ", "), a.Name)
		}
		if i > 0 && a.Name == axes[0].Name {
			return fmt.Errorf("a sweep varies %s twice", a.Name)
		}
		cells *= len(a.Values)
		k := job.KeyInfo{Min: -180, Max: 180}
		for _, info := range job.Keys() {
			if info.Key == key {
				k = info
			}
		}
		for _, v := range a.Values {
			if !(v >= k.Min && v <= k.Max) || k.AboveMin && v == k.Min {
				return fmt.Errorf("a sweep's %s of %g is outside %g to %g", a.Name, v, k.Min, k.Max)
			}
		}
	}
	if cells > maxSweep {
		return fmt.Errorf("a sweep of %d combinations is too many; %d are the most", cells, maxSweep)
	}
	return nil
}

// with returns the options with one quantity set.
func (o LightOptions) with(name string, v float64) LightOptions {
	switch name {
	case "wheel_error_deg":
		o.WheelErrorDeg = &v
	case "air_c":
		o.AirC = &v
	case "rpm":
		o.RPM = &v
	case "compression_ratio":
		o.Ratio = &v
	}
	return o
}

// gases keeps the tables of the last gas, for cells that differ in the wheel
// error only.
type gases struct {
	charge  piston.Charge
	running piston.Running
	path    piston.Path
	tables  []piston.Integral
}

func (g *gases) cell(j job.Job, o LightOptions, name string) (SweepCell, error) {
	b, err := basisOf(j, o)
	if err != nil {
		return SweepCell{}, err
	}
	kinds := piston.Correlations()
	if g.tables == nil || g.charge != b.charge || g.running != b.running {
		p := b.charge.Path()
		g.charge, g.running, g.path, g.tables = b.charge, b.running, p, nil
		for _, k := range kinds {
			g.tables = append(g.tables, p.Integral(k, b.running))
		}
	}
	start := b.start(b.actual)
	c := SweepCell{StartBTDC: round(float64(b.actual))}
	for i, k := range kinds {
		at, lights := g.path.Lights(g.tables[i], start)
		if lights {
			c.LitBy++
		}
		if k.Name != name {
			continue
		}
		c.Lights, c.Integral = lights, round(g.tables[i].Reached(start))
		if lights {
			c.LightsAt, c.KickBack = number(-float64(at)), at < -piston.KickBack
		}
	}
	return c, nil
}
