package photo

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// camera is a pinhole: focal length and principal point in pixels.
type camera struct {
	f      float64
	middle Point
}

// pose is one way a circle can lie before a camera to be seen as it is.
type pose struct {
	centre   Point   // where its centre is seen, px
	tilt     float64 // between its axis and the line of sight to its centre, radians
	distance float64 // from the camera to its centre, in its diameters
}

// poses returns the two ways the unit circle, mapped into the picture by face,
// can lie before the camera. The rays through the circle form a cone Q with
// eigenvalues l1 >= l2 > 0 > l3; it is cut in circles by planes whose normals
// are sqrt(l1-l2) e1 ± sqrt(l2-l3) e3, for there Q - l2 I falls apart into two
// planes (Hilbert and Cohn-Vossen, Geometry and the Imagination, section 3;
// from memory). The centre's ray is the pole of the plane, Q⁻¹n. False when the
// map is flat.
func (c camera) poses(face mat3) (p [2]pose, ok bool) {
	toRay := mat3{1 / c.f, 0, -c.middle.X / c.f, 0, 1 / c.f, -c.middle.Y / c.f, 0, 0, 1}
	b := toRay.times(face)
	back, ok := b.inverse()
	if !ok {
		return p, false
	}
	var q [3][3]float64
	for i := range 3 {
		for j := range 3 {
			q[i][j] = back[i]*back[j] + back[3+i]*back[3+j] - back[6+i]*back[6+j]
		}
	}
	l, e := eigen3(q)
	if !(l[1] > 0 && l[2] < 0) {
		return p, false
	}
	n1, n3 := math.Sqrt((l[0]-l[1])/(l[0]-l[2])), math.Sqrt((l[1]-l[2])/(l[0]-l[2]))
	for k, s := range [2]float64{1, -1} {
		var n, v [3]float64
		for i := range 3 {
			n[i] = s*n1*e[0][i] + n3*e[2][i]
			v[i] = s*n1/l[0]*e[0][i] + n3/l[2]*e[2][i]
		}
		if v[2] < 0 {
			v = [3]float64{-v[0], -v[1], -v[2]}
		}
		if !(v[2] > 0) {
			return p, false
		}
		p[k].centre = Point{c.middle.X + c.f*v[0]/v[2], c.middle.Y + c.f*v[1]/v[2]}
		along := floats.Dot(n[:], v[:])
		p[k].tilt = math.Acos(math.Min(1, math.Abs(along)/floats.Norm(v[:], 2)))
		// A rim point and the centre on the plane n·P = 1.
		w := [3]float64{b[0] + b[2], b[3] + b[5], b[6] + b[8]}
		wn := floats.Dot(n[:], w[:])
		var across [3]float64
		for i := range 3 {
			across[i] = w[i]/wn - v[i]/along
		}
		p[k].distance = floats.Norm(v[:], 2) / math.Abs(along) / (2 * floats.Norm(across[:], 2))
	}
	return p, true
}

// nearer returns the pose that shows the centre nearest to at.
func nearer(p [2]pose, at Point) pose {
	if p[1].centre.minus(at).length() < p[0].centre.minus(at).length() {
		return p[1]
	}
	return p[0]
}
