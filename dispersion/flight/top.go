package flight

// A Top is where the mean carry would be largest, were launch angle or spin
// alone another, and how flat it is there. All are values of the mean over the
// shots: radians or rad/s.
type Top struct {
	Best Share // where it is
	Loss Share // what the shots lack to it, m

	// Low and High hold the values that carry within a yard of it. Between them it
	// is not worth looking for more.
	Low, High float64

	// AtEdge tells that the carry still grows at the end of what was looked at: 8
	// degrees or 2,400 rpm from the shots, or less far where one of them would go
	// below 2 degrees or 300 rpm. Best is that end and no top.
	AtEdge bool
}

// topOf returns where the largest of some values is, between them by a parabola
// through three, and how large.
func topOf(scan []float64) (at, best float64) {
	c := 0
	for i, v := range scan {
		if v > scan[c] {
			c = i
		}
	}
	if c == 0 || c == len(scan)-1 {
		return float64(c), scan[c]
	}
	rise, bend := (scan[c+1]-scan[c-1])/2, scan[c+1]-2*scan[c]+scan[c-1]
	if bend == 0 {
		return float64(c), scan[c]
	}
	return float64(c) - rise/bend, scan[c] - rise*rise/(2*bend)
}

// top returns how flat the top is, as offsets from the mean.
func (t *leverTable) top(scan []float64) (top Top) {
	at, best := topOf(scan)
	end := len(scan) - 1
	top.AtEdge = at == 0 || at == float64(end)
	offset := func(c float64) float64 { return t.offset(t.first) + c*t.scan }
	enough := best - flatWithin
	top.Low, top.High = offset(0), offset(float64(end))
	for c := int(at); c > 0; c-- { // down from the top, to where too much is lost
		if scan[c-1] < enough {
			inner := max(scan[c], enough)
			top.Low = offset(float64(c) - (inner-enough)/(inner-scan[c-1]))
			break
		}
	}
	for c := int(at + .999999); c < end; c++ {
		if scan[c+1] < enough {
			inner := max(scan[c], enough)
			top.High = offset(float64(c) + (inner-enough)/(inner-scan[c+1]))
			break
		}
	}
	return top
}
