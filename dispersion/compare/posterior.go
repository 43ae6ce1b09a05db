package compare

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Prior is what is taken for known about a pattern before its shots: a normal
// law for the centre and an inverse-Wishart law for the covariance. It is shown
// beside every answer made with it.
type Prior struct {
	Mean  dispersion.Point // of the centre
	Shots float64          // κ₀, how many shots Mean counts for; 0 says nothing of the centre
	DF    float64          // ν₀
	Scale dispersion.Cov   // Λ₀; the covariance expected is Scale/(DF-3), for DF above 3
}

// Jeffreys returns the prior that says nothing: with it the regions and intervals
// here are those that [dispersion.Group.MeanEllipse] and [AreaRatio] give.
func Jeffreys() Prior { return Prior{DF: -1} }

// WeakPrior returns a prior that thinks the area of a pattern with the given
// standard deviations of side and carry as likely too small as too large, and
// says nothing of its slant or its centre. It has 4 degrees of freedom, so counts
// for about as much as five shots and leaves the area room from 0.37 to 4.3 times
// the one given (95 %). Where it and the shots disagree, say which it is: it is
// weak, not absent.
//
// Errors: [ErrPrior] for a deviation that is not above 0 and finite.
func WeakPrior(side, carry float64) (Prior, error) {
	p := Prior{DF: 4, Scale: dispersion.Cov{XX: weakScale * side * side, YY: weakScale * carry * carry}}
	if !(side > 0 && carry > 0) {
		return Prior{}, fmt.Errorf("compare: standard deviations %g and %g: %w", side, carry, ErrPrior)
	}
	return p, p.check()
}

// weakScale is half the median of χ² with 6 degrees of freedom: √|Σ| is that of
// 2√|Λ₀|/χ²(6), so its median is √|Λ₀| over this. With 1 in its place, which makes
// the covariance expected that of the deviations, half of all areas would be
// below 0.37 of the one given, and the smaller of two groups look tighter.
const weakScale = 5.348120627447120 / 2

func (p Prior) check() error {
	for _, v := range []float64{p.Mean.X, p.Mean.Y, p.Shots, p.DF, p.Scale.XX, p.Scale.XY, p.Scale.YY} {
		if math.IsNaN(v) || math.Abs(v) > dispersion.MaxCoordinate*dispersion.MaxCoordinate {
			return fmt.Errorf("compare: %w", ErrPrior)
		}
	}
	if p.Shots < 0 || p.DF < -1 || p.Scale.XX < 0 || p.Scale.YY < 0 || math.Abs(p.Scale.XY) > math.Sqrt(p.Scale.XX)*math.Sqrt(p.Scale.YY)*(1+1e-12) {
		return fmt.Errorf("compare: %w", ErrPrior)
	}
	return nil
}

// A Posterior is what is known of a pattern after its shots, given the prior:
// the same laws with other numbers. Given the covariance Σ the centre is normal
// around Mean with covariance Σ/Shots; Σ is inverse-Wishart with DF and Scale.
type Posterior struct {
	Prior Prior
	N     int              // shots used
	Mean  dispersion.Point // μₙ
	Shots float64          // κₙ
	DF    float64          // νₙ
	Scale dispersion.Cov   // Λₙ
}

// PosteriorOf returns the posterior of a group. With A the centred sums of
// products and d = x̄ - μ₀,
//
//	κₙ = κ₀ + n   νₙ = ν₀ + n   μₙ = (κ₀μ₀ + n·x̄)/κₙ   Λₙ = Λ₀ + A + κ₀n/κₙ·ddᵀ
//
// It assumes independent shots from one bivariate normal distribution, so one
// wild ball widens everything.
//
// Errors: [ErrMissing]; [ErrPrior]; *[dispersion.TooFewError] where prior and
// shots together have fewer than two degrees of freedom, which without a prior is
// below 3 shots; [dispersion.ErrDegenerate] where neither the prior nor the shots
// have an area.
//
// Reference: A. Gelman et al., Bayesian Data Analysis, 3rd ed., CRC 2013,
// section 3.6.
func PosteriorOf(g *dispersion.Group, prior Prior) (Posterior, error) {
	if g == nil {
		return Posterior{}, fmt.Errorf("compare: posterior: %w", ErrMissing)
	}
	if err := prior.check(); err != nil {
		return Posterior{}, err
	}
	m := g.Moments()
	n := float64(m.N)
	p := Posterior{Prior: prior, N: g.N(), Shots: prior.Shots + n, DF: prior.DF + n}
	if need := int(math.Ceil(max(1, 2-prior.DF))); g.N() < need {
		return Posterior{}, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: g.N(), Need: need, For: "a posterior with this prior"})
	}
	share := prior.Shots / p.Shots
	d := dispersion.Point{X: m.Mean.X - prior.Mean.X, Y: m.Mean.Y - prior.Mean.Y}
	p.Mean = dispersion.Point{X: m.Mean.X - share*d.X, Y: m.Mean.Y - share*d.Y}
	p.Scale = dispersion.Cov{
		XX: prior.Scale.XX + m.SXX + share*n*d.X*d.X,
		XY: prior.Scale.XY + m.SXY + share*n*d.X*d.Y,
		YY: prior.Scale.YY + m.SYY + share*n*d.Y*d.Y,
	}
	if math.IsInf(p.Scale.XX+p.Scale.YY, 0) {
		return Posterior{}, fmt.Errorf("compare: posterior: %w", dispersion.ErrOverflow)
	}
	if _, ok := whiteningOf(p.Scale); !ok {
		return Posterior{}, fmt.Errorf("compare: posterior: %w", dispersion.ErrDegenerate)
	}
	return p, nil
}

// ExpectedCov returns the mean of the covariance, Λₙ/(νₙ-3).
//
// Errors: *[dispersion.TooFewError] where νₙ is 3 or less and it has none.
func (p Posterior) ExpectedCov() (dispersion.Cov, error) {
	d := p.DF - 3
	if !(d > 0) {
		need := int(math.Floor(3-p.Prior.DF)) + 1
		return dispersion.Cov{}, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: p.N, Need: need, For: "an expected covariance with this prior"})
	}
	return dispersion.Cov{XX: p.Scale.XX / d, XY: p.Scale.XY / d, YY: p.Scale.YY / d}, nil
}

// MeanRegion returns the ellipse that holds the centre with the given
// probability: the centre follows t with νₙ-1 degrees of freedom around μₙ and
// the scale Λₙ/(κₙ(νₙ-1)), so it is the set of m with
//
//	κₙ·(m-μₙ)ᵀ Λₙ⁻¹ (m-μₙ) <= (1-level)^(-2/(νₙ-1)) - 1
//
// Errors: [dispersion.ErrLevel]; [ErrPrior] for a posterior that [PosteriorOf]
// can't have returned; [dispersion.ErrOverflow].
func (p Posterior) MeanRegion(level float64) (dispersion.Ellipse, error) {
	if !(level > 0 && level < 1) {
		return dispersion.Ellipse{}, fmt.Errorf("compare: level %g: %w", level, dispersion.ErrLevel)
	}
	if err := p.check(); err != nil {
		return dispersion.Ellipse{}, err
	}
	scale := math.Sqrt(math.Expm1(-2/(p.DF-1)*math.Log1p(-level)) / p.Shots)
	major, minor, angle := p.Scale.Axes()
	e := dispersion.Ellipse{
		Centre: p.Mean, SemiMajor: major * scale, SemiMinor: minor * scale, Angle: angle,
		Level: level, N: p.N, Kind: dispersion.MeanRegion,
	}
	if math.IsInf(e.Area(), 0) {
		return dispersion.Ellipse{}, fmt.Errorf("compare: posterior region: %w", dispersion.ErrOverflow)
	}
	return e, nil
}

func (p Posterior) check() error {
	if _, solid := whiteningOf(p.Scale); !solid || !(p.DF >= 2) || !(p.Shots > 0) || math.IsInf(p.DF+p.Shots, 0) {
		return fmt.Errorf("compare: posterior: %w", ErrPrior)
	}
	return nil
}
