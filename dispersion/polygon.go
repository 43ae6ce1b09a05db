package dispersion

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
)

// A Polygon is a convex region with straight edges, its edge included. It may
// be a line with two corners, or a single point.
type Polygon struct {
	Corners []Point // counter-clockwise, no three on one line
	Depth   int     // the least halfspace depth of any point of it; 0 where it is not made of depths
	Shots   int     // how many of the N shots lie in it
	N       int     // shots used
	// Confidence is how sure it is that the polygon holds the true centre: the
	// point every line through which has half of all shots on either side, as
	// in any symmetric distribution. It is 0 where nothing is known.
	Confidence float64
}

// Area returns the area, 0 for a line or a point.
func (p Polygon) Area() float64 {
	var twice float64
	for i := 2; i < len(p.Corners); i++ {
		o, a, b := p.Corners[0], p.Corners[i-1], p.Corners[i]
		twice += (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X)
	}
	return max(0, twice/2)
}

// Contains tells whether q lies in the polygon or no farther outside than one
// part in 1e12 of its size, or rounding of its coordinates. No polygon contains
// a NaN.
func (p Polygon) Contains(q Point) bool {
	if len(p.Corners) == 0 || !usable(q.X) || !usable(q.Y) {
		return false
	}
	inside := len(p.Corners) > 2
	var size, offset float64
	nearest := math.Inf(1)
	for i, b := range p.Corners {
		a := p.Corners[(i+len(p.Corners)-1)%len(p.Corners)]
		if (b.X-a.X)*(q.Y-a.Y)-(b.Y-a.Y)*(q.X-a.X) < 0 {
			inside = false
		}
		nearest = min(nearest, distanceToSegment(q, a, b))
		size = max(size, math.Hypot(b.X-p.Corners[0].X, b.Y-p.Corners[0].Y))
		offset = max(offset, math.Abs(b.X), math.Abs(b.Y))
	}
	return inside || nearest <= 1e-12*size+4e-16*offset
}

func distanceToSegment(q, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	length := math.Hypot(dx, dy)
	if length == 0 {
		return math.Hypot(q.X-a.X, q.Y-a.Y)
	}
	ux, uy := dx/length, dy/length
	along := min(length, max(0, (q.X-a.X)*ux+(q.Y-a.Y)*uy))
	return math.Hypot(q.X-a.X-along*ux, q.Y-a.Y-along*uy)
}

// Outline returns the corners, whatever n; nil for n below 1.
func (p Polygon) Outline(n int) []Point {
	if n < 1 {
		return nil
	}
	return slices.Clone(p.Corners)
}

// Holds says what the polygon holds, such as "7 of 12 shots, and the true
// centre with confidence 0.94".
func (p Polygon) Holds() string {
	text := fmt.Sprintf("%d of %s", p.Shots, shots(p.N))
	if p.Confidence > 0 {
		text += fmt.Sprintf(", and the true centre with confidence %.3g", p.Confidence)
	}
	return text
}

// MarshalJSON writes corners as side and carry.
func (p Polygon) MarshalJSON() ([]byte, error) {
	corners := make([]jsonPoint, len(p.Corners))
	for i, c := range p.Corners {
		corners[i] = jsonPoint{c.X, c.Y}
	}
	return json.Marshal(struct {
		Corners    []jsonPoint `json:"corners"`
		Area       float64     `json:"area"`
		Depth      int         `json:"depth,omitempty"`
		Shots      int         `json:"shots"`
		N          int         `json:"n"`
		Confidence float64     `json:"confidence,omitempty"`
	}{corners, p.Area(), p.Depth, p.Shots, p.N, p.Confidence})
}
