package strokes

import (
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// hole checks the features and puts them together.
func (file *planFile) hole() (*Hole, error) {
	if err := file.countVertices(); err != nil {
		return nil, err
	}
	tee, err := file.marked("tee")
	if err != nil {
		return nil, err
	}
	flag, err := file.marked("flag")
	if err != nil {
		return nil, err
	}
	plane, err := file.plane(tee)
	if err != nil {
		return nil, err
	}
	h := &Hole{name: file.name}
	if h.tee, err = plane(tee, tee.point); err != nil {
		return nil, err
	}
	if h.flag, err = plane(flag, flag.point); err != nil {
		return nil, err
	}
	greens := 0
	for _, f := range file.features {
		areas, err := f.areas(plane)
		if err != nil {
			return nil, err
		}
		for _, a := range areas {
			if a.Ground.Lie == Green {
				greens++
			}
		}
		h.areas = append(h.areas, areas...)
	}
	slices.SortStableFunc(h.areas, func(a, b Area) int { return a.rank - b.rank })
	if err := file.checkExtent(plane); err != nil {
		return nil, err
	}
	switch {
	case greens == 0:
		return nil, fileFault("there is no green: tag the polygon of the green with \"lie\": \"green\"")
	case h.Length() < nearestFlag:
		return nil, flag.fault("it is %.4g m from the tee, and must be at least %g: is the frame right, metres or degrees?", h.Length(), nearestFlag)
	case h.Ground(h.flag).Lie != Green:
		return nil, flag.fault("it stands on %s: put the flag on the green", h.Ground(h.flag).Tag)
	case h.Ground(h.tee).Penalty != NoPenalty:
		return nil, tee.fault("it stands in %s: no play starts there", h.Ground(h.tee).Tag)
	}
	return h, nil
}

func (file *planFile) countVertices() error {
	n := 0
	for _, f := range file.features {
		for _, polygon := range f.polygons {
			for _, ring := range polygon {
				n += len(ring)
			}
		}
		if n > mostVertices {
			return f.fault("with it the plan has more than %d vertices: simplify the outline, half a metre is fine enough", mostVertices)
		}
	}
	return nil
}

// marked returns the one feature with a mark.
func (file *planFile) marked(mark string) (feature, error) {
	var found *feature
	for i, f := range file.features {
		if f.mark != mark {
			continue
		}
		if found != nil {
			return f, f.fault("feature %d is marked %s already: mark one", found.place, mark)
		}
		if f.point == nil {
			return f, f.fault("what is marked %s must be a Point", mark)
		}
		found = &file.features[i]
	}
	if found == nil {
		return feature{}, fileFault("nothing is marked %s: add a Point with \"mark\": %q", mark, mark)
	}
	return *found, nil
}

// areas returns the areas of a feature; a point has none.
func (f feature) areas(plane planeFunc) ([]Area, error) {
	if f.point != nil {
		if f.mark != "tee" && f.mark != "flag" {
			return nil, f.fault("a Point needs the property mark with tee or flag, not %q", clip(f.mark))
		}
		return nil, nil
	}
	ground, rank, ok := groundOf(f.lie)
	if !ok {
		return nil, f.fault("the lie %q is unknown: use %s", clip(f.lie), groundTags())
	}
	switch {
	case f.pen == "":
	case ground.Penalty == NoPenalty:
		return nil, f.fault("%s has no penalty: leave it out", ground.Tag)
	case f.pen == DropOnLine.String():
		ground.Penalty = DropOnLine
	case f.pen == StrokeAndDistance.String():
		ground.Penalty = StrokeAndDistance
	default:
		return nil, f.fault("the penalty %q is unknown: use %q or %q", clip(f.pen), DropOnLine, StrokeAndDistance)
	}
	name := f.name
	if name == "" {
		name = fmt.Sprintf("feature %d", f.place)
	}
	var areas []Area
	for _, polygon := range f.polygons {
		a := Area{Name: name, Ground: ground, rank: rank}
		if len(polygon) == 0 {
			return nil, f.fault("a polygon has no ring: leave it out")
		}
		for _, ring := range polygon {
			points, err := f.ring(ring, plane)
			if err != nil {
				return nil, err
			}
			a.Rings = append(a.Rings, points)
		}
		if err := f.checkRings(a); err != nil {
			return nil, err
		}
		areas = append(areas, a)
	}
	if len(areas) == 0 {
		return nil, f.fault("it has no polygon: leave it out")
	}
	return areas, nil
}

// ring returns the corners of a ring without the last one, which repeats the
// first, and without any other that repeats the one before it.
func (f feature) ring(ring [][]float64, plane planeFunc) ([]dispersion.Point, error) {
	if len(ring) < 4 {
		return nil, f.fault("a ring of %d positions encloses nothing: it takes at least 4, the last one equal to the first", len(ring))
	}
	if !slices.Equal(ring[0], ring[len(ring)-1]) {
		return nil, f.fault("a ring is open: its last position must equal its first")
	}
	var points []dispersion.Point
	for _, position := range ring[:len(ring)-1] {
		p, err := plane(f, position)
		if err != nil {
			return nil, err
		}
		if len(points) == 0 || p != points[len(points)-1] {
			points = append(points, p)
		}
	}
	if len(points) > 1 && points[0] == points[len(points)-1] {
		points = points[:len(points)-1]
	}
	if len(points) < 3 {
		return nil, f.fault("a ring has fewer than 3 different corners")
	}
	return points, nil
}

// checkExtent names the feature that is too far from the rest to be on the same
// hole, which is what swapped coordinates come to.
func (file *planFile) checkExtent(plane planeFunc) error {
	var x, y []float64
	first := make([]dispersion.Point, len(file.features))
	for i, f := range file.features {
		position := f.point
		if position == nil {
			position = f.polygons[0][0][0]
		}
		p, err := plane(f, position)
		if err != nil {
			return err
		}
		first[i] = p
		x, y = append(x, p.X), append(y, p.Y)
	}
	middleX, errX := dispersion.Median(x)
	middleY, errY := dispersion.Median(y)
	if errX != nil || errY != nil {
		return fileFault("there are no features")
	}
	middle := dispersion.Point{X: middleX, Y: middleY}
	for i, f := range file.features {
		all := []dispersion.Point{first[i]}
		for _, polygon := range f.polygons {
			for _, ring := range polygon {
				for _, position := range ring {
					p, err := plane(f, position)
					if err != nil {
						return err
					}
					all = append(all, p)
				}
			}
		}
		for _, p := range all {
			if d := distance(p, middle); d > farthestVertex {
				return f.fault("it reaches %.0f m from the middle of the plan, more than %.0f: are its coordinates swapped? longitude comes before latitude", d, farthestVertex)
			}
		}
	}
	return nil
}

func distance(p, q dispersion.Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }
