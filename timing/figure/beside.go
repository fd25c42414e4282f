package figure

// Beside returns two drawings next to each other, so far apart, their upper edges level.
func Beside(left, right Drawing, gap float64) Drawing {
	d := Drawing{W: left.W + gap + right.W, H: max(left.H, right.H), Title: left.Title, Desc: left.Desc}
	d.Shapes = append(d.Shapes, left.Shapes...)
	for _, s := range right.Shapes {
		d.Shapes = append(d.Shapes, s.moved(left.W+gap, 0))
	}
	return d
}
