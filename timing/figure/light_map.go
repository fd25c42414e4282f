package figure

// LightMapInput is a map of starting: one quantity across, one up, and for each
// pair of values how sure it is that fuel lights. Words come ready for the
// reader.
type LightMapInput struct {
	Heading, Title, Desc string
	X, Y                 []float64   // rising or falling evenly: the middles of the cells; at least one each
	XSeen                []float64   // X as the reader counts it; nil: as it is
	Cells                [][]LightOn // by Y, then X
	Points               []MapPoint
	Words                LightMapWords
}

// LightOn is what is known of one cell.
type LightOn struct {
	Lit      int  // so many of Of ways of reckoning light it
	Of       int  // above 0
	Chosen   bool // the one chosen does
	KickBack bool // it then lights too early
}

// MapPoint is a mark on the map: where the engine is.
type MapPoint struct {
	X, Y   float64
	Role   Role
	Hollow bool
	Label  string // in the legend
}

// LightMapWords name the parts of the map; an empty word leaves out what it
// names.
type LightMapWords struct {
	XTitle, YTitle  string
	All, Some, None string // legend of the areas
	Limit           string // the line round what the chosen one lights
	KickBack        string // the line round what lights too early
	Comma           bool   // numbers have a decimal comma
}

// LightMapLayout says where the map has put things.
type LightMapLayout struct {
	Plot Rect
	x, y []float64
}

// At returns the values under a point of the plot, by the middles of its cells,
// and false outside it.
func (l LightMapLayout) At(px, py float64) (x, y float64, ok bool) {
	if !l.Plot.Holds(px, py) || len(l.x) == 0 || len(l.y) == 0 {
		return 0, 0, false
	}
	i := int((px - l.Plot.X) / l.Plot.W * float64(len(l.x)))
	k := int((l.Plot.Bottom() - py) / l.Plot.H * float64(len(l.y)))
	return l.x[min(i, len(l.x)-1)], l.y[min(k, len(l.y)-1)], true
}

// place is where values lie in the plot: between the middles of cells in
// proportion. Outside the map it is false.
func (l LightMapLayout) place(x, y float64) (px, py float64, ok bool) {
	u, okX := among(l.x, x)
	v, okY := among(l.y, y)
	return l.Plot.X + u*l.Plot.W, l.Plot.Bottom() - v*l.Plot.H, okX && okY
}

// among returns where v lies in a list of evenly spaced middles, as a part of
// its whole width.
func among(list []float64, v float64) (float64, bool) {
	n := float64(len(list))
	if len(list) < 2 {
		return 0.5, len(list) == 1 && list[0] == v
	}
	u := ((v-list[0])/(list[len(list)-1]-list[0])*(n-1) + 0.5) / n
	return u, u >= 0 && u <= 1
}

// LightMap draws the map. Cells that do not match X and Y give an empty drawing.
func LightMap(in LightMapInput, box Box) (Drawing, LightMapLayout) {
	d := Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}
	if d.Title == "" {
		d.Title = in.Heading
	}
	if len(in.X) == 0 || len(in.Y) == 0 || len(in.Cells) != len(in.Y) || box.W <= 0 || box.H <= 0 {
		return d, LightMapLayout{}
	}
	for _, row := range in.Cells {
		if len(row) != len(in.X) {
			return d, LightMapLayout{}
		}
	}
	m := mapFigure{in: in, box: box, d: d}
	m.size, m.small = box.typeSize(60, 34)
	m.measure()
	m.areas()
	m.limits()
	m.axes()
	m.points()
	m.words()
	return m.d, m.l
}
