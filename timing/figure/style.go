package figure

import "image/color"

// Look is how a role is shown: its colour as area, line and text, the dash of
// its lines (points drawn, points left out, and so on) and the pattern over its
// areas.
type Look struct {
	Color color.RGBA
	Dash  []float64
	Hatch *Hatch
}

// Style turns roles into looks. [Light], [Dark], [Paper], [BoardLight] and
// [BoardDark] make those there are.
type Style struct {
	Name  string
	looks [roles]Look
	lines float64 // multiplies line widths
}

// Look returns how a role is shown.
func (st Style) Look(r Role) Look { return st.looks[r] }

// Color returns a role's colour, for what is shown on top of a figure.
func (st Style) Color(r Role) color.RGBA { return st.looks[r].Color }

// Width returns how many points wide a line of the weight is.
func (st Style) Width(w Weight) float64 {
	return [...]float64{Fine: 0.75, Hair: 0.45, Medium: 1.3, Heavy: 2.2, Broad: 4.2}[w] * st.lines
}

// WithLines returns the style with all lines k times as wide, as for a
// projector.
func (st Style) WithLines(k float64) Style {
	st.lines *= k
	return st
}

// WithSurface returns the style on another background, such as a window's own.
// The caller answers for the contrast.
func (st Style) WithSurface(c color.RGBA) Style {
	st.looks[Surface].Color = c
	return st
}

func rgb(hex uint32) color.RGBA {
	return color.RGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 0xff}
}

// The colours start from the set of Okabe and Ito, "Color Universal Design"
// (2008), which people with each kind of colour blindness tell apart: orange
// E69F00, sky blue 56B4E9, bluish green 009E73, yellow F0E442, blue 0072B2,
// vermillion D55E00, reddish purple CC79A7. The strokes, being large areas, are
// mixed down towards the surface; the marks keep their strength. Each stroke has
// a lightness of its own, in the order power, exhaust, intake, compression, so
// that they stay apart in grey too, and power and compression, which meet at
// every firing TDC, most of all.

// palette is what differs between the two screen styles.
type palette struct {
	surface, ink, faint, grid, band                        uint32
	power, exhaust, intake, compression                    uint32
	powerHatch, exhaustHatch, intakeHatch, compHatch       uint32
	commanded, actual, measured, ghost, warning            uint32
	intakeValve, exhaustValve                              uint32
	steel, tooth, gap, sensor, throw, keyway, nose         uint32
	pressure, window, windowHatch, doubtful, doubtfulHatch uint32
	cursor, interval, compared                             uint32
}

// Light returns the style for a light screen.
func Light() Style {
	return screen("light", palette{
		surface: 0xfdfcfa, ink: 0x1f2328, faint: 0x5c646d, grid: 0xdcdad5, band: 0xf3f1ec,
		power: 0xe19767, exhaust: 0xbab6b5, intake: 0xafdbf5, compression: 0xfdf4b0,
		powerHatch: 0xcf8050, exhaustHatch: 0x9f9b98, intakeHatch: 0x87c0e4, compHatch: 0xe3d37a,
		commanded: 0x005790, actual: 0x963600, measured: 0xb64500, ghost: 0x5c646d, warning: 0xb02a1a,
		intakeValve: 0x0072b2, exhaustValve: 0x6b5b4b,
		pressure: 0x35506b, window: 0xcdeadd, windowHatch: 0x8fcfb5, doubtful: 0xf6ecc0, doubtfulHatch: 0xd9bf5e,
		steel: 0xd9dde2, tooth: 0x009e73, gap: 0xf0e442, sensor: 0x35506b, throw: 0xe8e4dc, keyway: 0x1f2328, nose: 0xcad0d6,
		cursor: 0x8a2a6a, interval: 0xf4cfae, compared: 0x0064a0,
	})
}

// Dark returns the style for a dark screen.
func Dark() Style {
	return screen("dark", palette{
		surface: 0x1b1e23, ink: 0xeceae4, faint: 0xa5abb3, grid: 0x353a42, band: 0x23272e,
		power: 0x5f200a, exhaust: 0x3c4742, intake: 0x0d569c, compression: 0x73640e,
		powerHatch: 0x7b3a22, exhaustHatch: 0x56625c, intakeHatch: 0x3a72b0, compHatch: 0x8b7a2a,
		commanded: 0x7cc8f8, actual: 0xffa65e, measured: 0xff9a4d, ghost: 0xa5abb3, warning: 0xff8170,
		intakeValve: 0x56b4e9, exhaustValve: 0xc9b299,
		pressure: 0x9db8d4, window: 0x1d4d3f, windowHatch: 0x2f7360, doubtful: 0x4d4218, doubtfulHatch: 0x7d6c2a,
		steel: 0x4a515a, tooth: 0x2fc79b, gap: 0xf0e442, sensor: 0x9db8d4, throw: 0x2c313a, keyway: 0xeceae4, nose: 0x485059,
		cursor: 0xe59fc9, interval: 0x6d4527, compared: 0x6cc0f5,
	})
}

func screen(name string, p palette) Style {
	st := Style{Name: name, lines: 1}
	set := func(r Role, hex uint32) { st.looks[r].Color = rgb(hex) }
	set(Surface, p.surface)
	set(Ink, p.ink)
	set(Faint, p.faint)
	set(Grid, p.grid)
	set(Band, p.band)
	set(StrokePower, p.power)
	set(StrokeExhaust, p.exhaust)
	set(StrokeIntake, p.intake)
	set(StrokeCompression, p.compression)
	set(IntakeValve, p.intakeValve)
	set(ExhaustValve, p.exhaustValve)
	set(Commanded, p.commanded)
	set(Actual, p.actual)
	set(Measured, p.measured)
	set(Ghost, p.ghost)
	set(TDC, p.ink)
	set(Cursor, p.cursor)
	set(Warning, p.warning)
	set(Steel, p.steel)
	set(Tooth, p.tooth)
	set(Gap, p.gap)
	set(Sensor, p.sensor)
	set(Throw, p.throw)
	set(Keyway, p.keyway)
	set(Nose, p.nose)
	set(Pressure, p.pressure)
	set(Window, p.window)
	set(Doubtful, p.doubtful)
	st.hatchLight(1, rgb(p.windowHatch), rgb(p.doubtfulHatch))
	set(Interval, p.interval)
	set(Compared, p.compared)
	st.hatchStrokes(1, rgb(p.powerHatch), rgb(p.exhaustHatch), rgb(p.intakeHatch), rgb(p.compHatch))
	st.looks[Ghost].Dash = []float64{3, 2}
	return st
}

// Paper returns the style for a printer with black ink only: strokes are told
// apart by pattern, marks by form, and all text is black.
func Paper() Style {
	st := Style{Name: "paper", lines: 1}
	for r := range st.looks {
		st.looks[r].Color = rgb(0x000000)
	}
	white := []Role{Surface, StrokePower, StrokeExhaust, StrokeIntake, StrokeCompression, Steel, Throw, Nose, Band, Window, Doubtful, Interval}
	for _, r := range white {
		st.looks[r].Color = rgb(0xffffff)
	}
	st.looks[Grid].Color = rgb(0x9a9a9a)
	ink := rgb(0x555555)
	st.hatchStrokes(0.45, ink, ink, ink, ink)
	st.hatchLight(0.45, ink, ink)
	st.looks[Ghost].Dash = []float64{3, 2}
	st.looks[Interval].Hatch = &Hatch{Turn: 90, Gap: 3, Width: 0.8, Dots: true, Color: rgb(0x555555)}
	st.looks[ExhaustValve].Color = rgb(0xffffff) // a comb of upright strokes, beside the intake's solid bar
	st.looks[ExhaustValve].Hatch = &Hatch{Turn: 0, Gap: 2, Width: 0.8, Color: rgb(0x000000)}
	return st
}

// hatchStrokes gives each stroke its pattern: power rises to the right,
// exhaust falls, intake is dotted, compression level.
func (st *Style) hatchStrokes(width float64, power, exhaust, intake, compression color.RGBA) {
	st.looks[StrokePower].Hatch = &Hatch{Turn: 45, Gap: 4.5, Width: width, Color: power}
	st.looks[StrokeExhaust].Hatch = &Hatch{Turn: 135, Gap: 4.5, Width: width, Color: exhaust}
	st.looks[StrokeIntake].Hatch = &Hatch{Turn: 90, Gap: 4.5, Width: 1.1, Dots: true, Color: intake}
	st.looks[StrokeCompression].Hatch = &Hatch{Turn: 90, Gap: 4.5, Width: width, Color: compression}
}

// hatchLight gives the light-off areas their patterns: lines rising to the right
// where fuel lights, dots where that is doubtful. The pressure's line is dashed.
func (st *Style) hatchLight(width float64, window, doubtful color.RGBA) {
	st.looks[Window].Hatch = &Hatch{Turn: 45, Gap: 6, Width: width, Color: window}
	st.looks[Doubtful].Hatch = &Hatch{Turn: 90, Gap: 5, Width: 1.1, Dots: true, Color: doubtful}
	st.looks[Pressure].Dash = []float64{6, 3}
}
