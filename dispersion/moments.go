package dispersion

// Moments are the count, the mean and the centred sums of products of some
// points: all that means, covariances and ellipses need. They grow one point
// at a time or by merging, so that an archive of any size needs no second
// pass. The zero value holds no points.
//
//	SXX = Σ (x-x̄)²   SXY = Σ (x-x̄)(y-ȳ)   SYY = Σ (y-ȳ)²
type Moments struct {
	N             int64
	Mean          Point
	SXX, SXY, SYY float64
}

// Add takes one more point into account. It does not check p: a NaN spoils the
// moments, and [NewGroup] is there to find it.
//
// Reference: B. P. Welford, "Note on a Method for Calculating Corrected Sums of
// Squares and Products", Technometrics 4(3), 1962, pp. 419-420.
func (m *Moments) Add(p Point) {
	m.N++
	n := float64(m.N)
	dx, dy := p.X-m.Mean.X, p.Y-m.Mean.Y
	m.Mean.X += dx / n
	m.Mean.Y += dy / n
	ex, ey := p.X-m.Mean.X, p.Y-m.Mean.Y
	m.SXX += float64(dx * ex)
	m.SXY += float64(dx * ey)
	m.SYY += float64(dy * ey)
}

// Merge takes the points of o into account as if each had been added. The
// result depends on the order of merging in its last bits: fix the tree of
// merges where bits must not change.
//
// Reference: T. F. Chan, G. H. Golub, R. J. LeVeque, "Algorithms for Computing
// the Sample Variance: Analysis and Recommendations", The American Statistician
// 37(3), 1983, pp. 242-247.
func (m *Moments) Merge(o Moments) {
	if o.N == 0 {
		return
	}
	if m.N == 0 {
		*m = o
		return
	}
	n1, n2 := float64(m.N), float64(o.N)
	dx, dy := o.Mean.X-m.Mean.X, o.Mean.Y-m.Mean.Y
	w := n2 / (n1 + n2)
	m.N += o.N
	m.Mean.X += float64(dx * w)
	m.Mean.Y += float64(dy * w)
	m.SXX += o.SXX + float64(float64(dx*dx)*n1*w)
	m.SXY += o.SXY + float64(float64(dx*dy)*n1*w)
	m.SYY += o.SYY + float64(float64(dy*dy)*n1*w)
}

// Cov returns the sample covariance, with divisor N-1. It fails with
// *[TooFewError] below two points.
func (m Moments) Cov() (Cov, error) {
	if m.N < 2 {
		return Cov{}, tooFew(int(m.N), 2, "a covariance")
	}
	d := float64(m.N - 1)
	return Cov{XX: m.SXX / d, XY: m.SXY / d, YY: m.SYY / d}, nil
}

// momentsOf makes the moments of points that are all at hand: two passes, the
// second corrected by what the mean lost to rounding, which is closer than
// adding one by one.
func momentsOf(points []Point) Moments {
	m := Moments{N: int64(len(points))}
	if m.N == 0 {
		return m
	}
	n := float64(m.N)
	var sum Point
	for _, p := range points {
		// Divided first, since the sum itself may overflow.
		sum.X += p.X / n
		sum.Y += p.Y / n
	}
	var rest Point
	for _, p := range points {
		dx, dy := p.X-sum.X, p.Y-sum.Y
		rest.X += dx
		rest.Y += dy
		m.SXX += float64(dx * dx)
		m.SXY += float64(dx * dy)
		m.SYY += float64(dy * dy)
	}
	m.Mean = Point{X: sum.X + rest.X/n, Y: sum.Y + rest.Y/n}
	m.SXX = max(0, m.SXX-float64(rest.X*rest.X)/n)
	m.SXY -= float64(rest.X*rest.Y) / n
	m.SYY = max(0, m.SYY-float64(rest.Y*rest.Y)/n)
	return m
}
