package dispersion

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// Source: tfit.R, cov.trob of MASS 7.3-58.2 and optimize under R 4.2.2.
func TestTFitAgainstR(t *testing.T) {
	type fit struct {
		Centre [2]float64 `json:"center"`
		Scale  [2][2]float64
		LogLik float64
	}
	var ref struct {
		Output map[string]struct {
			Nu3  fit `json:"nu_3"`
			Nu5  fit `json:"nu_5"`
			Nu10 fit `json:"nu_10"`
			Best struct {
				Inverse float64 `json:"inverse_nu"`
				LogLik  float64
			}
			Normal float64 `json:"normal_loglik"`
		}
	}
	readReference(t, "tfit", &ref)
	if len(ref.Output) != 8 {
		t.Fatalf("%d data sets", len(ref.Output))
	}
	for name, want := range ref.Output {
		g := referenceGroup(t, name)
		for nu, f := range map[float64]fit{3: want.Nu3, 5: want.Nu5, 10: want.Nu10} {
			e := newTEM(g.points)
			m, s, _ := e.fit(1 / nu)
			near(t, name+" side", e.origin.X+m.X*e.sx, f.Centre[0], 1e-8)
			near(t, name+" carry", e.origin.Y+m.Y*e.sy, f.Centre[1], 1e-8)
			nearRel(t, name+" scale side", s.XX*e.sx*e.sx, f.Scale[0][0], 1e-7)
			near(t, name+" scale both", s.XY*e.sx*e.sy, f.Scale[0][1], 1e-7)
			nearRel(t, name+" scale carry", s.YY*e.sy*e.sy, f.Scale[1][1], 1e-7)
			near(t, name+" likelihood", e.logLik-float64(g.N())*math.Log(e.sx*e.sy), f.LogLik, 1e-9)
		}
		r, err := g.TFit(.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" 1/ν", 1/r.DF, want.Best.Inverse, 1e-5)
		near(t, name+" best likelihood", r.LogLik, want.Best.LogLik, 1e-6)
		var mean float64 // 1 at the maximum: J. T. Kent and others 1994
		for _, w := range r.Weights {
			mean += w / float64(r.N)
		}
		near(t, name+" mean weight", mean, 1, 1e-8)
		if g.N() < heavyLeast {
			continue
		}
		h, err := g.HeavyTails()
		if err != nil {
			t.Fatal(err)
		}
		n := float64(g.N())
		near(t, name+" AICc", h.AICcNormal, -2*want.Normal+10+60/(n-6), 1e-9)
		near(t, name+" AICc of the t", h.AICcT, -2*want.Best.LogLik+12+84/(n-7), 1e-6)
		if h.Heavy() != (name == "stars" || name == "hbk2") {
			t.Errorf("%s: heavy = %v: %+v", name, h.Heavy(), h)
		}
	}
}

// Where the normal law fits best the fit is the mean and the plain covariance,
// and the regions are those of the normal law.
func TestTFitOfNormalShots(t *testing.T) {
	g := referenceGroup(t, "p20")
	r, err := g.TFit(.9)
	if err != nil {
		t.Fatal(err)
	}
	if !math.IsInf(r.DF, 1) {
		t.Fatalf("degrees of freedom %g", r.DF)
	}
	mean, _ := g.MeanEllipse(.9)
	next, _ := g.PredictionEllipse(.9)
	tNext, err := g.TEllipse(.9)
	if err != nil {
		t.Fatal(err)
	}
	nearRel(t, "area of the centre", r.Centre.Region.Area(), mean.Area(), 1e-9)
	nearRel(t, "area of the next shot", tNext.Area(), next.Area(), 1e-9)
	near(t, "side", r.Centre.Point.X, g.Mean().X, 1e-10)
	for _, w := range r.Weights {
		near(t, "weight", w, 1, 1e-15)
	}
}

// Infinite degrees of freedom are null in JSON, which has no infinity; finite ones
// are there.
func TestTFitForPrograms(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	var even, wild []Point
	for i := range 60 {
		even = append(even, Point{X: rng.Float64(), Y: rng.Float64()})
		far := 1.0
		if i%6 == 0 {
			far = 9
		}
		wild = append(wild, Point{X: far * rng.NormFloat64(), Y: far * rng.NormFloat64()})
	}
	for what, points := range map[string][]Point{"even": even, "wild": wild} {
		g := mustGroup(t, points)
		fit, err1 := g.TFit(.9)
		tails, err2 := g.HeavyTails()
		if err1 != nil || err2 != nil || math.IsInf(fit.DF, 1) != (what == "even") {
			t.Fatalf("%s: %g degrees of freedom, %v, %v", what, fit.DF, err1, err2)
		}
		for _, v := range []any{fit, tails} {
			text, err := json.Marshal(v)
			var got struct {
				N  int      `json:"n"`
				DF *float64 `json:"df"`
			}
			if err != nil || json.Unmarshal(text, &got) != nil || got.N != 60 || (got.DF == nil) != (what == "even") || got.DF != nil && *got.DF != fit.DF {
				t.Errorf("%s: %s, %v", what, text, err)
			}
		}
	}
}

// Four of five shots on a line, or three of five at one point, leave the
// likelihood without a top.
func TestTFitRefuses(t *testing.T) {
	for what, points := range map[string][]Point{
		"line":  {{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 2}, {X: 3, Y: 3}, {X: 4, Y: 4}, {X: 5, Y: 5}, {X: 6, Y: 6}, {X: 7, Y: 7}, {X: 8, Y: 8}, {X: 9, Y: 0}},
		"place": {{X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}, {X: 4, Y: 4}, {X: 2, Y: -5}, {X: 9, Y: 0}},
	} {
		if r, err := mustGroup(t, points).TFit(.9); !errors.Is(err, ErrDegenerate) {
			t.Errorf("%s: %+v, error %v", what, r, err)
		}
	}
	if _, err := mustGroup(t, p10).HeavyTails(); !errors.As(err, new(*TooFewError)) {
		t.Errorf("ten shots: error %v", err)
	}
}

// t draws a bivariate t with ν degrees of freedom, or the normal law.
func drawT(rng *rand.Rand, nu int) Point {
	u, v := rng.NormFloat64(), rng.NormFloat64()
	if nu > 0 {
		var chi float64
		for range nu {
			z := rng.NormFloat64()
			chi += z * z
		}
		s := math.Sqrt(chi / float64(nu))
		u, v = u/s, v/s
	}
	return Point{X: u, Y: v}
}
