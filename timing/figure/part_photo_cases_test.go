package figure

import "math"

// aPhoto is a marked photograph of a face seen a little from the side, in
// pixels: rim, keyway at the top, dowel to the right; invented.
func aPhoto() PhotoMarksInput {
	rim := PhotoEllipse{X: 1500, Y: 1100, Major: 800, Minor: 620, Turned: -70}
	centre := PhotoPlace{1510, 1096}
	spot := func(radius, eccentricDeg float64) PhotoPlace {
		return rim.onto(PhotoPlace{rim.X, rim.Y}, radius, eccentricDeg*math.Pi/180)
	}
	in := PhotoMarksInput{W: 640, H: 480, Scale: 0.2, X: 20, Y: 20, Rim: &rim, Centre: &centre, Value: "−24.7°",
		Title: "Photograph", Desc: "Marks on the photograph of the crankshaft's end"}
	add := func(k PhotoKind, p PhotoPlace) {
		in.Points = append(in.Points, PhotoPoint{PhotoPlace: p, Kind: k, Label: k.String()})
	}
	for i := range 6 {
		add(RimPoint, spot(1, 40+50*float64(i)))
	}
	add(KeywayPoint, spot(1, -8))
	add(KeywayPoint, spot(1, 8))
	key, dowel := spot(1, 0), spot(0.7, 65)
	add(DowelPoint, dowel)
	add(BoltPoint, spot(0.8, 180))
	add(ThrowPoint, spot(0.8, 230))
	add(CentrePoint, centre)
	in.Points[8].Selected = true
	in.From, in.To = &key, &dowel
	return in
}
