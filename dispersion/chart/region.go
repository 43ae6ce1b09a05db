package chart

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"

	"github.com/landfall-golf/landfall/dispersion"
)

// checkRegion checks that a region can be drawn.
func checkRegion(r dispersion.Region, where string) error {
	switch r := r.(type) {
	case nil:
		return &InputError{where, "there is none: leave it out"}
	case dispersion.Ellipse:
		return checkEllipse(r, where)
	}
	outline := r.Outline(ringPoints)
	if len(outline) == 0 {
		return &InputError{where, "it has no outline"}
	}
	for _, p := range outline {
		if err := checkNumber(p.X, where, "side"); err != nil {
			return err
		}
		if err := checkNumber(p.Y, where, "carry"); err != nil {
			return err
		}
	}
	return nil
}

func checkEllipse(e dispersion.Ellipse, where string) error {
	for _, v := range []struct {
		value float64
		what  string
	}{
		{e.Centre.X, "side"}, {e.Centre.Y, "carry"}, {e.SemiMajor, "semi-major axis"},
		{e.SemiMinor, "semi-minor axis"}, {e.Angle, "angle"},
	} {
		if err := checkNumber(v.value, where, v.what); err != nil {
			return err
		}
	}
	if e.SemiMinor <= 0 || e.SemiMajor < e.SemiMinor {
		return &InputError{where, fmt.Sprintf("semi-axes of %g and %g make no ellipse", e.SemiMajor, e.SemiMinor)}
	}
	if !(e.Level > 0 && e.Level < 1) {
		return &InputError{where, fmt.Sprintf("level %g: %v", e.Level, dispersion.ErrLevel)}
	}
	return nil
}

// regionDashes returns how the edge of a region is broken: whole for where a
// centre lies and for a polygon, dashed for where shots land, dashed and dotted
// for a promise about all shots, dotted for what merely encloses them.
func regionDashes(r dispersion.Region) []vg.Length {
	switch r := r.(type) {
	case dispersion.Ellipse:
		switch r.Kind {
		case dispersion.PredictionRegion, dispersion.MCDRegion, dispersion.TRegion:
			return []vg.Length{4, 2.5}
		case dispersion.ToleranceRegion:
			return []vg.Length{6, 2, 1.5, 2}
		}
	case dispersion.Circle:
		return []vg.Length{1.2, 2.2}
	}
	return nil
}

// regionName says beside the edge of a region what it holds.
func regionName(r dispersion.Region) string {
	switch r := r.(type) {
	case dispersion.Ellipse:
		if r.Kind == dispersion.ToleranceRegion {
			return fmt.Sprintf("%s of all shots, %s sure", share(r.Level), share(r.Confidence))
		}
		return ellipseHolds(r.Kind) + ", " + share(r.Level)
	case dispersion.Circle:
		return fmt.Sprintf("smallest circle, %d of %s", r.N, count(r.N, "shot"))
	case dispersion.Polygon:
		if r.Depth > 1 {
			return fmt.Sprintf("depth %d, %d of %s", r.Depth, r.Shots, count(r.N, "shot"))
		}
		return fmt.Sprintf("hull, %d of %s", r.Shots, count(r.N, "shot"))
	}
	return r.Holds()
}

func ellipseHolds(k dispersion.RegionKind) string {
	switch k {
	case dispersion.PredictionRegion:
		return "next shot"
	case dispersion.MCDMeanRegion:
		return "centre of the good shots"
	case dispersion.MCDRegion:
		return "next good shot"
	case dispersion.TMeanRegion:
		return "centre, wild shots allowed for"
	case dispersion.TRegion:
		return "next shot, wild ones allowed for"
	case dispersion.MedianRegion:
		return "geometric median"
	case dispersion.ShiftRegion:
		return "true shift"
	}
	return "centre"
}

// regionSize says how large a region is.
func regionSize(r dispersion.Region, unit string) string {
	radius := "radius " + length(math.Sqrt(r.Area()/math.Pi), unit)
	if e, ok := r.(dispersion.Ellipse); ok {
		return length(2*e.SemiMajor, unit) + " by " + length(2*e.SemiMinor, unit) + ", " + radius
	}
	return radius
}

func boxAround(r dispersion.Region) box {
	b := emptyBox()
	if e, ok := r.(dispersion.Ellipse); ok {
		sin, cos := math.Sincos(e.Angle)
		x, y := math.Hypot(e.SemiMajor*cos, e.SemiMinor*sin), math.Hypot(e.SemiMajor*sin, e.SemiMinor*cos)
		return box{span{e.Centre.X - x, e.Centre.X + x}, span{e.Centre.Y - y, e.Centre.Y + y}}
	}
	for _, p := range r.Outline(ringPoints) {
		b.add(p)
	}
	return b
}
