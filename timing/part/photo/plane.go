package photo

import "math"

// mat3 is a projective map of the plane, by rows, acting on (x, y, 1).
type mat3 [9]float64

func (m mat3) times(o mat3) mat3 {
	var r mat3
	for i := range 3 {
		for j := range 3 {
			r[3*i+j] = m[3*i]*o[j] + m[3*i+1]*o[3+j] + m[3*i+2]*o[6+j]
		}
	}
	return r
}

// inverse returns the inverse map, with the sign that keeps the weights of what
// is in view positive. False when the map is flat.
func (m mat3) inverse() (mat3, bool) {
	r := mat3{
		m[4]*m[8] - m[5]*m[7], m[2]*m[7] - m[1]*m[8], m[1]*m[5] - m[2]*m[4],
		m[5]*m[6] - m[3]*m[8], m[0]*m[8] - m[2]*m[6], m[2]*m[3] - m[0]*m[5],
		m[3]*m[7] - m[4]*m[6], m[1]*m[6] - m[0]*m[7], m[0]*m[4] - m[1]*m[3],
	}
	det := m[0]*r[0] + m[1]*r[3] + m[2]*r[6]
	if det == 0 || math.IsNaN(det) || math.IsInf(det, 0) {
		return r, false
	}
	for i := range r {
		r[i] /= det
	}
	return r, true
}

// apply maps a point. False when it lies on or beyond the map's horizon: what
// is seen lies before the camera, where the weight is positive.
func (m mat3) apply(p Point) (Point, bool) {
	w := m[6]*p.X + m[7]*p.Y + m[8]
	if !(w > 0) {
		return Point{}, false
	}
	return Point{(m[0]*p.X + m[1]*p.Y + m[2]) / w, (m[3]*p.X + m[4]*p.Y + m[5]) / w}, true
}

// stretch returns how many picture units one unit along the unit vector e on
// the mapped side stands for, at p: 1/|Jᵀe| with J the derivative of the map.
// Dividing a distance on the face by |Jᵀe| gives it in pixels, to first order
// (Sampson 1982; from memory).
func (m mat3) stretch(p, mapped, e Point) float64 {
	w := m[6]*p.X + m[7]*p.Y + m[8]
	gx := e.X*(m[0]-mapped.X*m[6]) + e.Y*(m[3]-mapped.Y*m[6])
	gy := e.X*(m[1]-mapped.X*m[7]) + e.Y*(m[4]-mapped.Y*m[7])
	return math.Abs(w) / math.Hypot(gx, gy)
}

// recentre returns the projective map that takes the unit circle to itself and
// the point u inside it to its centre, without turning about it. It is the
// Lorentz boost of velocity u on (x, y, 1): the boost keeps x²+y²-w² and so the
// circle, and its third row is the polar of u, so that polar goes to infinity;
// with it go its meets with the circle, the circular points. What remains is
// the face as seen square on. False when u is not inside.
func recentre(u Point) (mat3, bool) {
	s2 := u.X*u.X + u.Y*u.Y
	if !(s2 < 1) {
		return mat3{}, false
	}
	g := 1 / math.Sqrt(1-s2)
	k := g * g / (g + 1)
	return mat3{
		1 + k*u.X*u.X, k * u.X * u.Y, -g * u.X,
		k * u.X * u.Y, 1 + k*u.Y*u.Y, -g * u.Y,
		-g * u.X, -g * u.Y, g,
	}, true
}
