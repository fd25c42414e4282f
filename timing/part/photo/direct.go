package photo

import "math"

// conic is A x² + B xy + C y² + D x + E y + F = 0.
type conic [6]float64

// directFit returns the ellipse of least algebraic distance under the
// constraint 4AC - B² = 1 (Fitzgibbon, Pilu and Fisher, Direct Least Square
// Fitting of Ellipses, 1999), split into its quadratic and linear parts for
// numerical stability (Halir and Flusser, Numerically Stable Direct Least
// Squares Fitting of Ellipses, 1998). Their unsymmetric eigenvalue problem is
// turned here into the symmetric one K a = mu M a, which has just one positive
// mu. The answer does not depend on origin, turn or scale of the points, which
// should be of order 1 about 0 for accuracy. False when the points lie on a
// line.
func directFit(points []Point) (conic, bool) {
	var s1, s2 [3][3]float64 // of the quadratic terms with themselves and with the linear ones
	lin := normals{n: 3}
	for _, p := range points {
		q := [3]float64{p.X * p.X, p.X * p.Y, p.Y * p.Y}
		l := [3]float64{p.X, p.Y, 1}
		for i := range 3 {
			for j := range 3 {
				s1[i][j] += q[i] * q[j]
				s2[i][j] += q[i] * l[j]
			}
		}
		lin.add(l[:], 0, 1)
	}
	s3, ok := lin.factor(0)
	if !ok {
		return conic{}, false
	}
	// The linear part that serves a quadratic part best: linear = -T quadratic.
	var t [3][3]float64
	for i := range 3 {
		col := s3.solve([8]float64{s2[i][0], s2[i][1], s2[i][2]})
		t[i] = [3]float64{col[0], col[1], col[2]}
	}
	m := normals{n: 3}
	trace := s1[0][0] + s1[1][1] + s1[2][2]
	for i := range 3 {
		for j := 0; j <= i; j++ {
			m.ata[i][j] = s1[i][j]
			for k := range 3 {
				m.ata[i][j] -= s2[i][k] * t[j][k]
			}
		}
		// Points that lie exactly on a conic make M singular; a lift far below
		// any click keeps it usable.
		m.ata[i][i] += 1e-13 * trace
	}
	root, ok := m.factor(0)
	if !ok {
		return conic{}, false
	}
	// B = L⁻¹ K L⁻ᵀ with K the matrix of 4AC - B².
	k := [3][3]float64{{0, 0, 2}, {0, -1, 0}, {2, 0, 0}}
	half := forward(root, k)
	for i := range 3 {
		for j := range i {
			half[i][j], half[j][i] = half[j][i], half[i][j]
		}
	}
	b := forward(root, half)
	_, vectors := eigen3(b)
	// a = L⁻ᵀ z
	z := vectors[0]
	var a [3]float64
	for i := 2; i >= 0; i-- {
		a[i] = z[i]
		for k := i + 1; k < 3; k++ {
			a[i] -= root.l[k][i] * a[k]
		}
		a[i] /= root.l[i][i]
	}
	det := 4*a[0]*a[2] - a[1]*a[1]
	if !(det > 0) {
		return conic{}, false
	}
	unit := math.Copysign(1/math.Sqrt(det), a[0])
	var c conic
	for i := range 3 {
		c[i] = a[i] * unit
		for j := range 3 {
			c[3+j] -= t[i][j] * a[i] * unit
		}
	}
	return c, true
}

// forward returns L⁻¹ m.
func forward(c cholesky, m [3][3]float64) [3][3]float64 {
	for col := range 3 {
		for i := range 3 {
			for k := range i {
				m[i][col] -= c.l[i][k] * m[k][col]
			}
			m[i][col] /= c.l[i][i]
		}
	}
	return m
}

// oval returns the conic's real ellipse, false when it has none.
func (c conic) oval() (oval, bool) {
	det := 4*c[0]*c[2] - c[1]*c[1]
	if !(det > 0) {
		return oval{}, false
	}
	at := Point{(c[1]*c[4] - 2*c[2]*c[3]) / det, (c[1]*c[3] - 2*c[0]*c[4]) / det}
	f := c[5] + (c[3]*at.X+c[4]*at.Y)/2
	// q(p - at) = -f with q's eigenvalues l1 >= l2: half axes sqrt(-f/l).
	l1, l2, angle := eigen2(c[0], c[1]/2, c[2])
	if !(-f/l1 > 0) || !(-f/l2 > 0) {
		return oval{}, false
	}
	r1, r2 := math.Sqrt(-f/l1), math.Sqrt(-f/l2)
	sin, cos := math.Sincos(angle)
	o := oval{at, [3]float64{r1*cos*cos + r2*sin*sin, (r1 - r2) * sin * cos, r1*sin*sin + r2*cos*cos}}
	return o, o.valid()
}
