package dispersion

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// A Circle is a round region, its edge included. Its radius is 0 for one shot
// or identical ones.
type Circle struct {
	Centre Point   // X side, Y carry
	Radius float64 // in the unit of the points
	N      int     // shots used, all of which it holds
}

// Area returns π·Radius².
func (c Circle) Area() float64 { return math.Pi * c.Radius * c.Radius }

// Contains tells whether p lies in the circle or no farther outside than one
// part in 1e12 of the radius, or rounding of its coordinates.
func (c Circle) Contains(p Point) bool {
	slack := 1e-12*c.Radius + 4e-16*max(math.Abs(c.Centre.X), math.Abs(c.Centre.Y)) + math.SmallestNonzeroFloat64
	return math.Hypot(p.X-c.Centre.X, p.Y-c.Centre.Y) <= c.Radius+slack
}

// Outline returns n points on the edge, evenly spaced and counter-clockwise
// from the rightmost; nil for n below 1.
func (c Circle) Outline(n int) []Point {
	return Ellipse{Centre: c.Centre, SemiMajor: c.Radius, SemiMinor: c.Radius}.Outline(n)
}

// Holds says that the circle holds every shot.
func (c Circle) Holds() string { return fmt.Sprintf("%d of %s", c.N, shots(c.N)) }

// MarshalJSON writes the centre as side and carry.
func (c Circle) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Centre jsonPoint `json:"centre"`
		Radius float64   `json:"radius"`
		Area   float64   `json:"area"`
		N      int       `json:"n"`
	}{jsonPoint{c.Centre.X, c.Centre.Y}, c.Radius, c.Area(), c.N})
}

// EnclosingCircle returns the smallest circle that holds every shot: what the
// eye draws around a group. Two or three shots decide it, so that it says more
// about the wildest shots than about the group, and it grows with the number
// of shots. It is there to be compared with [Group.PredictionEllipse]; nothing
// should be inferred from it.
//
// Every group has one; identical shots have radius 0, and two shots or shots on
// one line the circle over the two ends. Its breakdown point is 0. It is
// deterministic and takes O(n log n) time, most of it for the convex hull.
//
// Errors: *[TooFewError] without shots; [ErrOverflow] where the area is too large
// for a float64.
//
// Reference: E. Welzl, "Smallest Enclosing Disks (Balls and Ellipsoids)", New
// Results and New Trends in Computer Science, LNCS 555, Springer 1991,
// pp. 359-370.
func (g *Group) EnclosingCircle() (Circle, error) {
	if g.N() == 0 {
		return Circle{}, tooFew(0, 1, "an enclosing circle")
	}
	corners := hullOf(g.points)
	// Near the origin and near 1, distances keep their digits.
	origin := corners[0]
	var size float64
	for _, c := range corners {
		size = max(size, math.Abs(c.X-origin.X), math.Abs(c.Y-origin.Y))
	}
	if size == 0 {
		return Circle{Centre: origin, N: g.N()}, nil
	}
	scaled := make([]Point, len(corners))
	for i, c := range corners {
		scaled[i] = Point{X: (c.X - origin.X) / size, Y: (c.Y - origin.Y) / size}
	}
	d := enclosing(scaled)
	c := Circle{Centre: Point{X: origin.X + d.Centre.X*size, Y: origin.Y + d.Centre.Y*size}, Radius: d.Radius * size, N: g.N()}
	if math.IsInf(c.Area(), 0) {
		return Circle{}, fmt.Errorf("dispersion: the area of the enclosing circle: %w", ErrOverflow)
	}
	return c, nil
}

// misses tells whether p is outside by more than rounding of numbers near 1.
func (c Circle) misses(p Point) bool { return r2.Norm(r2.Sub(p, c.Centre)) > c.Radius+1e-14 }

// enclosing returns the smallest circle around points: each that the circle so
// far misses must lie on the edge of the next. In random order, here a fixed
// one, that is rare, and the time linear.
func enclosing(points []Point) Circle {
	points = slices.Clone(points)
	rand.New(rand.NewPCG(1, 1)).Shuffle(len(points), func(i, j int) { points[i], points[j] = points[j], points[i] })
	d := Circle{Centre: points[0]}
	for i, p := range points {
		if !d.misses(p) {
			continue
		}
		d = Circle{Centre: p}
		for j, q := range points[:i] {
			if !d.misses(q) {
				continue
			}
			d = across(p, q)
			for _, r := range points[:j] {
				if d.misses(r) {
					d = through(p, q, r)
				}
			}
		}
	}
	for _, p := range points {
		d.Radius = max(d.Radius, r2.Norm(r2.Sub(p, d.Centre)))
	}
	return d
}

// across returns the circle with a diameter from p to q.
func across(p, q Point) Circle {
	half := r2.Scale(.5, r2.Sub(q, p))
	return Circle{Centre: r2.Add(p, half), Radius: r2.Norm(half)}
}

// through returns the circle with all three on its edge.
func through(p, q, r Point) Circle {
	a, b := r2.Sub(q, p), r2.Sub(r, p)
	cross := 2 * r2.Cross(a, b)
	aa, bb := r2.Norm2(a), r2.Norm2(b)
	c := Point{X: (b.Y*aa - a.Y*bb) / cross, Y: (a.X*bb - b.X*aa) / cross}
	if math.IsNaN(c.X+c.Y) || math.IsInf(c.X+c.Y, 0) {
		// Flat to the last bit: the two farthest apart decide.
		return slices.MaxFunc([]Circle{across(p, q), across(p, r), across(q, r)}, func(a, b Circle) int {
			return cmp.Compare(a.Radius, b.Radius)
		})
	}
	return Circle{Centre: r2.Add(p, c), Radius: r2.Norm(c)}
}
