package strokes

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

// The limits of a plan. A hole drawn to the half metre has a tenth of these
// vertices.
const (
	mostVertices   = 20_000
	mostPlanBytes  = 64 << 20
	mostFeatures   = 1000
	nearestFlag    = 30.0   // metres from the tee
	farthestVertex = 3000.0 // metres from the middle of the plan
)

// ReadHole returns the hole of a plan in GeoJSON: a FeatureCollection of
// Polygons and MultiPolygons, each with a property "lie" of fairway, rough,
// bunker, water, out of bounds, green or recovery, and of two Points with a
// property "mark" of tee and flag. A feature may have a "name". Water may have a
// "penalty" of "stroke and distance", out of bounds one of "drop on the line";
// without it the usual one of the two holds.
//
// Positions are longitude and latitude in degrees, as RFC 7946 has it, and are
// laid into a plane through the tee, true to some centimetres over a kilometre. A
// collection with a member "frame" of "metres" has them in metres instead.
//
// What overlaps needs no holes: see [Hole.Ground].
//
// Errors: [ErrMissing] for a nil reader; *[HoleError], which names the feature
// and says what to do: a ring that is open, crosses itself or has no area, an
// unknown lie, no green, a flag off the green, coordinates swapped or far away
// from the rest, too many vertices, a number that is none; an error of the
// reader. Longitude and latitude swapped throughout are found where a longitude
// exceeds 90 degrees and can't be found elsewhere: look at the picture.
//
// References: H. Butler et al., The GeoJSON Format, RFC 7946, IETF 2016; R&A and
// USGA, Rules of Golf 2023, rules 17.1d and 18.2.
func ReadHole(r io.Reader) (*Hole, error) {
	if r == nil {
		return nil, fmt.Errorf("strokes: a plan of a hole: %w", ErrMissing)
	}
	file, err := readPlan(r)
	if err != nil {
		return nil, fmt.Errorf("strokes: plan of a hole: %w", err)
	}
	hole, err := file.hole()
	if err != nil {
		return nil, fmt.Errorf("strokes: plan of a hole: %w", err)
	}
	return hole, nil
}

// A planFile is a plan as it stands in the file.
type planFile struct {
	kind, name, frame string
	features          []feature
}

// A feature is one feature as it stands in the file.
type feature struct {
	place int // from 1
	name  string
	lie   string
	mark  string
	pen   string

	point    []float64       // of a mark
	polygons [][][][]float64 // of an area
}

// fault returns the error that names the feature.
func (f feature) fault(format string, args ...any) error {
	return &HoleError{Feature: f.place, Name: clip(f.name), Reason: fmt.Sprintf(format, args...)}
}

func fileFault(format string, args ...any) error {
	return &HoleError{Reason: fmt.Sprintf(format, args...)}
}

// readPlan reads the features one by one, so that text that is no JSON can be
// told by its feature.
func readPlan(r io.Reader) (*planFile, error) {
	limited := &io.LimitedReader{R: r, N: mostPlanBytes}
	d := json.NewDecoder(limited)
	fail := func(err error, place int) error {
		if _, ok := err.(*HoleError); ok {
			return err
		}
		if limited.N <= 0 {
			return fileFault("the file is larger than %d MB: draw with fewer vertices", mostPlanBytes>>20)
		}
		if err == io.EOF && place == 0 {
			return fileFault("the file is empty: it needs a GeoJSON FeatureCollection")
		}
		return &HoleError{Feature: place, Reason: fmt.Sprintf("this is no JSON: %v (NaN and infinities can't be written in it)", err)}
	}
	if t, err := d.Token(); err != nil {
		return nil, fail(err, 0)
	} else if t != json.Delim('{') {
		return nil, fileFault("the file must be one GeoJSON FeatureCollection")
	}
	file := &planFile{}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return nil, fail(err, 0)
		}
		if key == "features" {
			if err := file.readFeatures(d, fail); err != nil {
				return nil, err
			}
			continue
		}
		var raw json.RawMessage
		if err := d.Decode(&raw); err != nil {
			return nil, fail(err, 0)
		}
		members := map[json.Token]*string{"type": &file.kind, "name": &file.name, "frame": &file.frame}
		if to := members[key]; to != nil && json.Unmarshal(raw, to) != nil {
			return nil, fileFault("%q must be a text", key)
		}
	}
	if _, err := d.Token(); err != nil { // the closing brace
		return nil, fail(err, len(file.features))
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, fileFault("something follows the end of the FeatureCollection: remove it")
	}
	if file.kind != "FeatureCollection" {
		return nil, fileFault("the type is %q: a plan is a FeatureCollection", clip(file.kind))
	}
	return file, nil
}

func (file *planFile) readFeatures(d *json.Decoder, fail func(error, int) error) error {
	if t, err := d.Token(); err != nil {
		return fail(err, 0)
	} else if t != json.Delim('[') {
		return fileFault("features must be a list")
	}
	for d.More() {
		place := len(file.features) + 1
		if place > mostFeatures {
			return fileFault("there are more than %d features: keep to one hole", mostFeatures)
		}
		var raw json.RawMessage
		if err := d.Decode(&raw); err != nil {
			return fail(err, place)
		}
		f, err := readFeature(raw, place)
		if err != nil {
			return err
		}
		file.features = append(file.features, f)
	}
	if _, err := d.Token(); err != nil {
		return fail(err, len(file.features))
	}
	return nil
}

func readFeature(raw []byte, place int) (feature, error) {
	f := feature{place: place}
	var in struct {
		Type       string
		Properties struct{ Name, Lie, Mark, Penalty json.RawMessage }
		Geometry   struct {
			Type        string
			Coordinates json.RawMessage
		}
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		return f, f.fault("it is no GeoJSON feature: %v", err)
	}
	for _, p := range []struct {
		name string
		raw  json.RawMessage
		to   *string
	}{{"name", in.Properties.Name, &f.name}, {"lie", in.Properties.Lie, &f.lie}, {"mark", in.Properties.Mark, &f.mark}, {"penalty", in.Properties.Penalty, &f.pen}} {
		if len(p.raw) > 0 && json.Unmarshal(p.raw, p.to) != nil {
			return f, f.fault("the property %s must be a text", p.name)
		}
	}
	if in.Type != "Feature" {
		return f, f.fault("the type is %q: it must be Feature", clip(in.Type))
	}
	at := in.Geometry.Coordinates
	if bytes.Contains(at, []byte("null")) {
		return f, f.fault("a coordinate is null: write a number")
	}
	var err error
	switch in.Geometry.Type {
	case "Point":
		err = json.Unmarshal(at, &f.point)
	case "Polygon":
		f.polygons = make([][][][]float64, 1)
		err = json.Unmarshal(at, &f.polygons[0])
	case "MultiPolygon":
		err = json.Unmarshal(at, &f.polygons)
	default:
		return f, f.fault("its geometry is %q: areas are a Polygon or MultiPolygon, tee and flag a Point", clip(in.Geometry.Type))
	}
	if err != nil {
		return f, f.fault("its coordinates can't be read: %v", err)
	}
	return f, nil
}
