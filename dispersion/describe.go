package dispersion

import (
	"encoding/json"
	"errors"
	"math"
)

// DescribeOptions say how [Describe] describes. The zero value is the default.
type DescribeOptions struct {
	Level float64 // of every interval and region; 0 is the default of 0.95
}

// A Description is what a reader wants to know of one group. What cannot be
// given for so few shots is not there, and Missing says why.
type Description struct {
	N       int
	Level   float64
	Centres []Centre // each method's, with its region
	// Axes holds the standard deviations along the group's own axes; nil for a
	// single shot.
	Axes *Axes
	// PerAxis holds standard deviations of side and of carry, each method's.
	PerAxis []AxisSpread
	Sizes   []Size
	// MeanDistance is the mean distance of the shots from their mean, in the
	// unit of the points.
	MeanDistance float64
	Regions      []NamedRegion
	// Largest is for show: see [Group.LargestDistance]; nil for a single shot.
	Largest *LargestDistance
	Missing []Missing
}

// Axes are the standard deviations along the longest and the shortest direction
// of a group, and the direction: see [Cov.Axes].
type Axes struct {
	Major float64 `json:"major"`     // in the unit of the points
	Minor float64 `json:"minor"`     // in the unit of the points
	Angle float64 `json:"angle_rad"` // from +X toward +Y to the longest direction, radians, (-π/2, π/2]
}

// An AxisSpread holds one method's standard deviations of side and of carry.
type AxisSpread struct {
	Method string  `json:"method"`
	Side   float64 `json:"side"`
	Carry  float64 `json:"carry"`
}

// A NamedRegion is a region and the name of the method that made it.
type NamedRegion struct {
	Name   string
	Region Region
}

// MarshalJSON writes what the region holds beside its shape, and null for no region.
func (r NamedRegion) MarshalJSON() ([]byte, error) {
	holds := ""
	if r.Region != nil {
		holds = r.Region.Holds()
	}
	return json.Marshal(struct {
		Name   string `json:"name"`
		Holds  string `json:"holds"`
		Region Region `json:"region"`
	}{r.Name, holds, r.Region})
}

// A Missing names what a description lacks and why.
type Missing struct {
	What string
	Why  error // such as a *TooFewError
}

// MarshalJSON writes the reason as text, and no text for no reason.
func (m Missing) MarshalJSON() ([]byte, error) {
	why := ""
	if m.Why != nil {
		why = m.Why.Error()
	}
	return json.Marshal(struct {
		What string `json:"what"`
		Why  string `json:"why"`
	}{m.What, why})
}

// MarshalJSON writes the fields in lower case, null for what is nil.
func (d Description) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		N            int              `json:"n"`
		Level        float64          `json:"level"`
		Centres      []Centre         `json:"centres"`
		Axes         *Axes            `json:"axes"`
		PerAxis      []AxisSpread     `json:"per_axis"`
		Sizes        []Size           `json:"sizes"`
		MeanDistance float64          `json:"mean_distance"`
		Regions      []NamedRegion    `json:"regions"`
		Largest      *LargestDistance `json:"largest_distance"`
		Missing      []Missing        `json:"missing"`
	}(d))
}

// ErrSlow is the reason why a [Description] lacks what takes long for so many
// shots. The method itself gives it.
var ErrSlow = errors.New("left out for so many shots, since it takes the square of their number: call the method itself")

// describeDepths is the largest group whose Tukey median is described.
const describeDepths = 200

// Describe returns everything at once: centres with their regions, spreads with
// their intervals, and the regions of the shots. It is quick enough for every
// group of an archive: above 200 shots it leaves out the Tukey median, and what
// remains takes O(n log n) time.
//
// It has an answer from one shot on; what needs more is in Missing. Print it
// for a table, or marshal it. Each part assumes what its method assumes. The
// tolerance ellipse is for 90 % of all shots, with the level as its confidence;
// the first group of each size takes some milliseconds more for its factor.
//
// Errors: [ErrLevel]; *[TooFewError] for a nil group or one without shots.
func Describe(g *Group, o DescribeOptions) (Description, error) {
	if o.Level == 0 {
		o.Level = .95
	}
	if err := checkLevel(o.Level); err != nil {
		return Description{}, err
	}
	if g == nil || g.N() == 0 {
		return Description{}, tooFew(0, 1, "a description")
	}
	d := Description{
		N: g.N(), Level: o.Level, MeanDistance: g.MeanDistance(g.Mean()),
		// Empty, not nil: JSON has a list either way.
		Centres: []Centre{}, PerAxis: []AxisSpread{}, Sizes: []Size{}, Regions: []NamedRegion{}, Missing: []Missing{},
	}
	d.addCentres(g)
	d.addSpreads(g)
	d.addRegions(g)
	return d, nil
}

// lacks notes a missing part and tells whether it is one.
func (d *Description) lacks(what string, err error) bool {
	if err != nil {
		d.Missing = append(d.Missing, Missing{What: what, Why: err})
	}
	return err != nil
}

func (d *Description) addCentres(g *Group) {
	for _, m := range []struct {
		name string
		find func(float64) (Centre, error)
		most int // shots; 0 for any number
	}{
		{"mean", g.MeanCentre, 0},
		{"geometric median", g.GeometricMedianCentre, 0},
		{"coordinatewise median", g.MedianCentre, 0},
		{"Tukey median", g.TukeyMedian, describeDepths},
		{"MCD", g.MCDCentre, 0},
		{"bivariate t", g.tCentre, 0},
	} {
		if m.most > 0 && g.N() > m.most {
			d.lacks(m.name, ErrSlow)
			continue
		}
		c, err := m.find(d.Level)
		if d.lacks(m.name, err) {
			continue
		}
		d.Centres = append(d.Centres, c)
		if c.Region == nil && len(c.Warnings) > 0 {
			d.lacks("region of the "+m.name, c.Warnings[len(c.Warnings)-1])
		}
	}
}

func (g *Group) tCentre(level float64) (Centre, error) {
	t, err := g.TFit(level)
	return t.Centre, err
}

func (d *Description) addSpreads(g *Group) {
	c, err := g.Cov()
	if !d.lacks("standard deviations", err) {
		var a Axes
		a.Major, a.Minor, a.Angle = c.Axes()
		d.Axes = &a
		d.PerAxis = append(d.PerAxis, AxisSpread{"standard deviation", math.Sqrt(c.XX), math.Sqrt(c.YY)})
		d.addPerAxis(g, "scaled MAD", ScaledMAD)
		d.addPerAxis(g, "Qn", Qn)
		d.addPerAxis(g, "Sn", Sn)
	}
	for _, s := range []struct {
		name string
		find func(float64) (Size, error)
	}{{"radius", g.Radius}, {"area scale", g.AreaScale}, {"circular sigma", g.CircularSigma}} {
		size, err := s.find(d.Level)
		if !d.lacks(s.name, err) {
			d.Sizes = append(d.Sizes, size)
		}
	}
	largest, err := g.LargestDistance()
	if !d.lacks("largest distance", err) {
		d.Largest = &largest
	}
}

// addPerAxis adds what a method finds of side and of carry.
func (d *Description) addPerAxis(g *Group, name string, find func([]float64) (float64, error)) {
	side, carry := make([]float64, g.N()), make([]float64, g.N())
	for i, p := range g.points {
		side[i], carry[i] = p.X, p.Y
	}
	x, err := find(side)
	if d.lacks(name, err) {
		return
	}
	y, err := find(carry)
	if !d.lacks(name, err) {
		d.PerAxis = append(d.PerAxis, AxisSpread{name, x, y})
	}
}

func (d *Description) addRegions(g *Group) {
	for _, r := range []struct {
		name string
		find func() (Region, error)
	}{
		{"prediction ellipse", func() (Region, error) { return g.PredictionEllipse(d.Level) }},
		{"tolerance ellipse", func() (Region, error) { return g.ToleranceEllipse(.9, d.Level) }},
		{"t ellipse", func() (Region, error) { return g.TEllipse(d.Level) }},
		{"MCD ellipse", func() (Region, error) { return g.MCDEllipse(d.Level) }},
		{"convex hull", func() (Region, error) { return g.ConvexHull(), nil }},
		{"enclosing circle", func() (Region, error) { return g.EnclosingCircle() }},
	} {
		region, err := r.find()
		if !d.lacks(r.name, err) {
			d.Regions = append(d.Regions, NamedRegion{r.name, region})
		}
	}
}
