package figure

import "fmt"

// Box is the room a figure may fill.
type Box struct {
	W, H float64 // points
	Type float64 // multiplies all type sizes; 0 stands for 1
}

// Rect is an upright rectangle: its top left corner and its size, in points.
type Rect struct{ X, Y, W, H float64 }

// Right and Bottom are the far edges.
func (r Rect) Right() float64  { return r.X + r.W }
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Holds tells whether the point lies in the rectangle, half-open: on the left
// and top edge it does, on the right and bottom edge it does not.
func (r Rect) Holds(x, y float64) bool {
	return x >= r.X && x < r.Right() && y >= r.Y && y < r.Bottom()
}

// Meets tells whether the two rectangles share some area.
func (r Rect) Meets(o Rect) bool {
	return r.X < o.Right() && o.X < r.Right() && r.Y < o.Bottom() && o.Y < r.Bottom()
}

// Grown returns the rectangle with m more on each side.
func (r Rect) Grown(m float64) Rect { return Rect{r.X - m, r.Y - m, r.W + 2*m, r.H + 2*m} }

// Drawing is a figure: a flat list of shapes in the order in which they are
// laid over one another, and the areas that can be touched.
type Drawing struct {
	W, H        float64 // points
	Shapes      []Shape
	Hits        []Hit
	Title, Desc string // what it is and shows, for those who cannot see it
}

// Hit is an area that stands for something, and the words for it.
type Hit struct {
	Rect
	Name  string // which thing, for programs: "row 3", "dowel measured"
	Label string // for people; may be empty
}

// Shape is a [Path], a [Text], a [Marker], a [Picture] or an [Envelope].
type Shape interface {
	// Bounds is a rectangle that holds the shape, without line widths.
	Bounds() Rect
	// String is one line of text that tells the shape apart from any other.
	fmt.Stringer
	moved(dx, dy float64) Shape
	scaled(k float64) Shape
}

// At returns the topmost hit that holds the point.
func (d Drawing) At(x, y float64) (Hit, bool) {
	for i := len(d.Hits) - 1; i >= 0; i-- {
		if d.Hits[i].Holds(x, y) {
			return d.Hits[i], true
		}
	}
	return Hit{}, false
}

// Place lays another drawing over this one with its top left corner at x, y:
// how a figure gets onto a page. Title and Desc stay.
func (d *Drawing) Place(o Drawing, x, y float64) {
	for _, s := range o.Shapes {
		d.Shapes = append(d.Shapes, s.moved(x, y))
	}
	for _, h := range o.Hits {
		h.X, h.Y = h.X+x, h.Y+y
		d.Hits = append(d.Hits, h)
	}
}

// Scaled returns the drawing k times as large, type and marks too; lines keep
// their weight.
func (d Drawing) Scaled(k float64) Drawing {
	d.W, d.H = k*d.W, k*d.H
	shapes := make([]Shape, len(d.Shapes))
	for i, s := range d.Shapes {
		shapes[i] = s.scaled(k)
	}
	hits := make([]Hit, len(d.Hits))
	for i, h := range d.Hits {
		h.Rect = h.Rect.scaled(k)
		hits[i] = h
	}
	d.Shapes, d.Hits = shapes, hits
	return d
}

func (r Rect) scaled(k float64) Rect { return Rect{k * r.X, k * r.Y, k * r.W, k * r.H} }

func (d *Drawing) add(s ...Shape) { d.Shapes = append(d.Shapes, s...) }
