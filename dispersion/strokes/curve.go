package strokes

// A curve gives expected strokes by distance for one lie: straight lines between
// its points, constant beyond them.
type curve struct {
	distance []float64 // growing, metres
	expected []float64
	se       []float64 // nil where none are stated
}

// reach returns the longest distance, 0 if there are no points.
func (c curve) reach() float64 {
	if len(c.distance) == 0 {
		return 0
	}
	return c.distance[len(c.distance)-1]
}

func (c curve) at(values []float64, x float64) float64 {
	if len(values) == 1 {
		return values[0]
	}
	return interpolate(c.distance, values, x)
}

// curves is what a baseline made of points has in common: one curve for each
// lie that it knows.
type curves [numLies]curve

// Reach returns the shortest and the longest distance in metres that the lie has
// an answer for; both are 0 if it has none.
func (c *curves) Reach(lie Lie) (low, high float64) {
	if !lie.valid() {
		return 0, 0
	}
	return 0, c[lie].reach()
}

// Expected implements [Baseline].
func (c *curves) Expected(lie Lie, distance float64) (float64, error) {
	if err := checkReach(c, lie, distance); err != nil || distance == 0 {
		return 0, err
	}
	return c[lie].at(c[lie].expected, distance), nil
}

// StandardError implements [Baseline].
func (c *curves) StandardError(lie Lie, distance float64) (float64, error) {
	if err := checkReach(c, lie, distance); err != nil || distance == 0 {
		return 0, err
	}
	if c[lie].se == nil {
		return 0, noStandardError()
	}
	return c[lie].at(c[lie].se, distance), nil
}
