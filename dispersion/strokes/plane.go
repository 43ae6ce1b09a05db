package strokes

import (
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A planeFunc lays a position of a feature into the plane of the plan.
type planeFunc func(f feature, position []float64) (dispersion.Point, error)

// plane returns how positions are laid into the plane.
func (file *planFile) plane(tee feature) (planeFunc, error) {
	switch file.frame {
	case "metres":
		return metres, nil
	case "":
		at, err := lonLat(tee, tee.point)
		if err != nil {
			return nil, err
		}
		east, north := metresPerDegree(at.Y)
		return func(f feature, position []float64) (dispersion.Point, error) {
			p, err := lonLat(f, position)
			return dispersion.Point{X: (p.X - at.X) * east, Y: (p.Y - at.Y) * north}, err
		}, nil
	}
	return nil, fileFault("the frame %q is unknown: write \"metres\", or leave it out for longitude and latitude", clip(file.frame))
}

func metres(f feature, position []float64) (dispersion.Point, error) {
	if len(position) < 2 {
		return dispersion.Point{}, f.fault("a position has %d numbers: it takes two", len(position))
	}
	p := dispersion.Point{X: position[0], Y: position[1]}
	if !(math.Abs(p.X) <= 1e7 && math.Abs(p.Y) <= 1e7) {
		return p, f.fault("the position %g, %g is not in metres of a local frame", p.X, p.Y)
	}
	return p, nil
}

// lonLat returns longitude and latitude.
func lonLat(f feature, position []float64) (dispersion.Point, error) {
	if len(position) < 2 {
		return dispersion.Point{}, f.fault("a position has %d numbers: it takes longitude and latitude", len(position))
	}
	p := dispersion.Point{X: position[0], Y: position[1]}
	switch {
	case math.Abs(p.Y) > 90 && math.Abs(p.X) <= 90 && math.Abs(p.Y) <= 180:
		return p, f.fault("the latitude %g is beyond 90 degrees: longitude and latitude are swapped, longitude comes first", p.Y)
	case !(math.Abs(p.Y) <= 90) || !(math.Abs(p.X) <= 180):
		return p, f.fault("the position %g, %g is no longitude and latitude in degrees: a plan in metres says \"frame\": \"metres\"", p.X, p.Y)
	}
	return p, nil
}

// metresPerDegree returns how many metres a degree of longitude and one of
// latitude are at a latitude, from the two radii of curvature of the ellipsoid
// of WGS 84.
//
// Reference: NIMA, Department of Defense World Geodetic System 1984, TR8350.2,
// 3rd ed., 2000, for the two constants.
func metresPerDegree(latitude float64) (east, north float64) {
	const (
		a = 6378137.0         // equatorial radius, metres
		f = 1 / 298.257223563 // flattening
		e = f * (2 - f)       // eccentricity, squared
		d = math.Pi / 180
	)
	sin, cos := math.Sincos(latitude * d)
	w := math.Sqrt(1 - e*sin*sin)
	return d * a / w * cos, d * a * (1 - e) / (w * w * w)
}
