package compare

import (
	"context"
	"encoding/json"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A PlaneShift is how far, and in which direction, the centre has moved from
// before to after, in the plane of side and carry.
type PlaneShift struct {
	Shift  dispersion.Point   // mean after less mean before, in the unit of the points
	Region dispersion.Ellipse // holds the true shift; its Centre is Shift
	T2     float64            // Hotelling's statistic of no shift
	DF     float64            // degrees of freedom ν
	P      float64            // of a T2 as large or larger without any shift
	N1, N2 int                // shots before, after

	// Warnings tell what a reader must know before trusting the numbers above.
	Warnings []error
}

// MarshalJSON writes the shift as side and carry and warnings as their texts.
func (s PlaneShift) MarshalJSON() ([]byte, error) {
	warnings := make([]string, len(s.Warnings))
	for i, w := range s.Warnings {
		warnings[i] = w.Error()
	}
	return json.Marshal(struct {
		Side     float64            `json:"side"`
		Carry    float64            `json:"carry"`
		Region   dispersion.Ellipse `json:"region"`
		T2       float64            `json:"t2"`
		DF       float64            `json:"df"`
		P        float64            `json:"p"`
		N1       int                `json:"n_before"`
		N2       int                `json:"n_after"`
		Warnings []string           `json:"warnings"`
	}{s.Shift.X, s.Shift.Y, s.Region, s.T2, s.DF, s.P, s.N1, s.N2, warnings})
}

// CentreShift returns how the centre has moved, with the region that holds the
// true shift. With d = x̄₂ - x̄₁, Vⱼ = Sⱼ/nⱼ, V = V₁ + V₂ and Wⱼ = VⱼV⁻¹,
//
//	T² = dᵀV⁻¹d,  T²·(ν-1)/(2ν) ~ F(2, ν-1)
//	ν = 6 / Σ {[tr(Wⱼ²) + (tr Wⱼ)²]/(nⱼ-1)}
//
// so the region is the set of shifts m with (d-m)ᵀV⁻¹(d-m) <= ν·[(1-level)^(-2/(ν-1)) - 1],
// and p = (1+T²/ν)^(-(ν-1)/2). The spreads before and after may differ. ν lies
// between the smaller nⱼ-1 and n₁+n₂-2 and does not change when the plane is
// turned, scaled or stretched.
//
// It assumes independent shots, each side from a bivariate normal distribution;
// means forgive that from about ten shots. It is about the centre alone: a
// region of the shift holds no shots.
//
// It takes three shots a side, where the region is too wide to be useful.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [ErrResamples];
// *[dispersion.TooFewError] below 3 shots a side; [dispersion.ErrDegenerate]
// where the shots of both sides lie on parallel lines; [dispersion.ErrOverflow];
// the context's error. Warnings: *[FewShotsWarning] where the region is more than
// twice as wide as with the spreads known.
//
// It is deterministic and takes O(1) beyond the moments of the groups.
//
// Reference: K. Krishnamoorthy, J. Yu, "Modified Nel and Van der Merwe Test for
// the Multivariate Behrens-Fisher Problem", Statistics & Probability Letters
// 66(2), 2004, pp. 161-169.
func CentreShift(ctx context.Context, before, after *dispersion.Group, o Options) (PlaneShift, error) {
	o, err := start(ctx, before, after, o)
	if err != nil {
		return PlaneShift{}, err
	}
	return centreShift(before.Moments(), after.Moments(), o.Level)
}

func centreShift(before, after dispersion.Moments, level float64) (PlaneShift, error) {
	n1, n2 := int(before.N), int(after.N)
	if err := enough(n1, n2, 3, "a shift of the centre"); err != nil {
		return PlaneShift{}, err
	}
	v1, err := covOfMean(before)
	if err != nil {
		return PlaneShift{}, err
	}
	v2, err := covOfMean(after)
	if err != nil {
		return PlaneShift{}, err
	}
	d := dispersion.Point{X: after.Mean.X - before.Mean.X, Y: after.Mean.Y - before.Mean.Y}
	v := dispersion.Cov{XX: v1.XX + v2.XX, XY: v1.XY + v2.XY, YY: v1.YY + v2.YY}
	unit, ok := whiteningOf(v)
	if !ok {
		return PlaneShift{}, fmt.Errorf("compare: shift of the centre: %w", dispersion.ErrDegenerate)
	}
	// In the metric of V the two parts are W₁ and W₂ = 1 - W₁, but for a turn,
	// and traces don't see a turn.
	w1, w2 := unit.cov(v1), unit.cov(v2)
	df := 6 / (traces(w1)/float64(n1-1) + traces(w2)/float64(n2-1))
	u := unit.point(d)
	t2 := u.X*u.X + u.Y*u.Y
	limit := shiftLimit(df, level)
	major, minor, angle := v.Axes()
	s := PlaneShift{
		Shift: d, T2: t2, DF: df, P: math.Exp(-(df - 1) / 2 * math.Log1p(t2/df)), N1: n1, N2: n2,
		Region: dispersion.Ellipse{
			Centre: d, SemiMajor: major * math.Sqrt(limit), SemiMinor: minor * math.Sqrt(limit), Angle: angle,
			Level: level, N: n1 + n2, Kind: dispersion.ShiftRegion,
		},
	}
	if area := s.Region.Area(); math.IsInf(area+t2, 0) || math.IsNaN(area+t2) {
		return PlaneShift{}, fmt.Errorf("compare: shift of the centre: %w", dispersion.ErrOverflow)
	}
	known := -2 * math.Log1p(-level)
	if limit > 4*known {
		need := 4
		for need < 1000 && shiftLimit(float64(2*need-2), level) > 4*known {
			need++
		}
		s.Warnings = append(s.Warnings, &FewShotsWarning{Before: n1, After: n2, Need: need, For: "a region less than twice as wide as with the spreads known"})
	}
	return s, nil
}

// shiftLimit returns the largest squared distance, in the metric of V, of a
// shift in the region.
func shiftLimit(df, level float64) float64 {
	return df * math.Expm1(-2/(df-1)*math.Log1p(-level))
}

func covOfMean(m dispersion.Moments) (dispersion.Cov, error) {
	c, err := m.Cov()
	n := float64(m.N)
	return dispersion.Cov{XX: c.XX / n, XY: c.XY / n, YY: c.YY / n}, err
}

// traces returns tr(W²) + (tr W)² of a symmetric matrix.
func traces(w dispersion.Cov) float64 {
	trace := w.XX + w.YY
	return w.XX*w.XX + 2*w.XY*w.XY + w.YY*w.YY + trace*trace
}

// A whitening is the inverse of the lower Cholesky factor of a matrix V = LLᵀ:
// it takes the plane to one in which V is the identity.
type whitening struct{ a, b, c float64 } // of x: a·x; of y: c·(y - b·x)

// whiteningOf returns the whitening of v, if v has an area.
func whiteningOf(v dispersion.Cov) (w whitening, ok bool) {
	sx, sy := math.Sqrt(v.XX), math.Sqrt(v.YY)
	if !(sx > 1e-150 && sy > 1e-150) {
		return w, false
	}
	r := v.XY / sx / sy
	left := dispersion.Cov{XX: 1, XY: r, YY: 1}.Det() // 1-r², without the loss of its digits
	if left <= 1e-13 {
		return w, false
	}
	return whitening{a: 1 / sx, b: r * sy / sx, c: 1 / (sy * math.Sqrt(left))}, true
}

func (w whitening) point(p dispersion.Point) dispersion.Point {
	return dispersion.Point{X: w.a * p.X, Y: w.c * (p.Y - w.b*p.X)}
}

// cov returns the covariance of points of covariance m after whitening.
func (w whitening) cov(m dispersion.Cov) dispersion.Cov {
	xy := m.XY - w.b*m.XX
	return dispersion.Cov{
		XX: w.a * w.a * m.XX,
		XY: w.a * w.c * xy,
		YY: w.c * w.c * (m.YY - w.b*m.XY - w.b*xy),
	}
}
