package photo

import "math"

// normals are the normal equations of a small least-squares problem of up to 8
// unknowns: minimise the sum of w*(row·x - y)^2.
type normals struct {
	n   int
	ata [8][8]float64 // lower triangle
	aty [8]float64
}

func (q *normals) add(row []float64, y, w float64) {
	for i := range q.n {
		wi := w * row[i]
		for j := 0; j <= i; j++ {
			q.ata[i][j] += wi * row[j]
		}
		q.aty[i] += wi * y
	}
}

// factor returns the Cholesky factor of the equations with their diagonal
// raised by the share damping, after Levenberg and Marquardt. False when they
// do not determine the unknowns.
func (q *normals) factor(damping float64) (cholesky, bool) {
	c := cholesky{n: q.n}
	for j := range q.n {
		d := q.ata[j][j] * (1 + damping)
		floor := d * 1e-14
		for k := range j {
			d -= c.l[j][k] * c.l[j][k]
		}
		if !(d > floor) {
			return c, false
		}
		c.l[j][j] = math.Sqrt(d)
		for i := j + 1; i < q.n; i++ {
			s := q.ata[i][j]
			for k := range j {
				s -= c.l[i][k] * c.l[j][k]
			}
			c.l[i][j] = s / c.l[j][j]
		}
	}
	return c, true
}

// cholesky is a lower triangle whose product with its transpose is the matrix.
type cholesky struct {
	n int
	l [8][8]float64
}

func (c *cholesky) solve(b [8]float64) [8]float64 {
	for i := range c.n {
		for k := range i {
			b[i] -= c.l[i][k] * b[k]
		}
		b[i] /= c.l[i][i]
	}
	for i := c.n - 1; i >= 0; i-- {
		for k := i + 1; k < c.n; k++ {
			b[i] -= c.l[k][i] * b[k]
		}
		b[i] /= c.l[i][i]
	}
	return b
}

// eigen2 returns the eigenvalues, larger first, of the symmetric matrix
// [p q; q r], and the angle of the first one's vector.
func eigen2(p, q, r float64) (large, small, angle float64) {
	mid, half := (p+r)/2, math.Hypot((p-r)/2, q)
	return mid + half, mid - half, math.Atan2(q, (p-r)/2) / 2
}

// eigen3 returns eigenvalues and unit eigenvectors (rows of v) of a symmetric
// matrix by cyclic Jacobi rotations, largest first (Golub and Van Loan, Matrix
// Computations, section 8.5; from memory).
func eigen3(a [3][3]float64) (values [3]float64, v [3][3]float64) {
	v = [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for range 20 {
		off := math.Abs(a[0][1]) + math.Abs(a[0][2]) + math.Abs(a[1][2])
		if off == 0 {
			break
		}
		for p := range 2 {
			for q := p + 1; q < 3; q++ {
				small := math.Abs(a[p][q]) <= 1e-17*math.Sqrt(math.Abs(a[p][p]*a[q][q]))
				if small || a[p][q] == 0 {
					a[p][q], a[q][p] = 0, 0
					continue
				}
				theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
				t := 1 / (math.Abs(theta) + math.Hypot(theta, 1))
				if theta < 0 {
					t = -t
				}
				c := 1 / math.Hypot(t, 1)
				s := t * c
				for k := range 3 {
					a[k][p], a[k][q] = c*a[k][p]-s*a[k][q], s*a[k][p]+c*a[k][q]
				}
				for k := range 3 {
					a[p][k], a[q][k] = c*a[p][k]-s*a[q][k], s*a[p][k]+c*a[q][k]
					v[p][k], v[q][k] = c*v[p][k]-s*v[q][k], s*v[p][k]+c*v[q][k]
				}
			}
		}
	}
	values = [3]float64{a[0][0], a[1][1], a[2][2]}
	for i := range 2 {
		for j := i + 1; j < 3; j++ {
			if values[j] > values[i] {
				values[i], values[j] = values[j], values[i]
				v[i], v[j] = v[j], v[i]
			}
		}
	}
	return values, v
}
